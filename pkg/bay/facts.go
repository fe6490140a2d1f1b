package bay

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"valvegrade/pkg/inspection"
)

// load reads the inspection as the commands do. Where nothing is written down of it yet that is said in words of the page,
// which knows of no file.
func (j *Job) load() (*inspection.Inspection, error) {
	i, err := inspection.Load(j.dir)
	if errors.Is(err, inspection.ErrNone) {
		return nil, fmt.Errorf("of %q nothing is filled in yet", j.name())
	}
	return i, err
}

// named has a fault of the form say whose it is: where two inspections are asked for, both have a file of that name.
func (j *Job) named(err error) error {
	var wrong *inspection.FileError
	if errors.As(err, &wrong) {
		return fmt.Errorf("inspection %q: %w", j.name(), err)
	}
	return err
}

// SetFacts fills in what concerns the whole inspection. What is not right is an error, and nothing is written then.
func (j *Job) SetFacts(facts Facts) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	if facts.Date != "" {
		if _, err := inspection.ParseDay(facts.Date); err != nil {
			return err
		}
	}
	if facts.Odometer = strings.TrimSpace(facts.Odometer); facts.Odometer != "" {
		if _, err := inspection.ParseOdometer(facts.Odometer); err != nil {
			return err
		}
	}
	if stage := inspection.Stage(facts.Stage); facts.Stage != "" && !stage.Known() {
		return fmt.Errorf("the stage %q is none of routine, before, after", facts.Stage)
	}
	return j.edit("facts of the inspection", func(f *inspection.Form) error {
		f.Vehicle, f.Date, f.Odometer = strings.TrimSpace(facts.Vehicle), facts.Date, facts.Odometer
		f.Stage, f.Notes = inspection.Stage(facts.Stage), facts.Notes
		f.Card = inspection.JobCard{
			Plate:      strings.TrimSpace(facts.Plate),
			VIN:        strings.TrimSpace(facts.VIN),
			Family:     strings.TrimSpace(facts.Family),
			Job:        strings.TrimSpace(facts.Job),
			Technician: strings.TrimSpace(facts.Technician),
			Wish:       strings.TrimSpace(facts.Wish),
		}
		f.Methods = map[int]string{}
		for cylinder, method := range facts.Methods {
			if method = strings.TrimSpace(method); method != "" {
				f.Methods[cylinder] = method
			}
		}
		return nil
	})
}

// SetEngine says how many cylinders with how many intake valves each the engine has, and in which rows the cylinders
// stand; nil rows are one row. Photos of valves that it does not have lose their places.
func (j *Job) SetEngine(layout inspection.Layout, rows [][]int) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	if layout.Cylinders < 1 || layout.Cylinders > inspection.MostCylinders || layout.Valves < 1 ||
		layout.Valves > inspection.MostValves {
		return fmt.Errorf("an engine has 1 to %d cylinders with 1 to %d intake valves each",
			inspection.MostCylinders, inspection.MostValves)
	}
	if len(rows) == 1 {
		rows = nil
	}
	return j.edit("the engine", func(f *inspection.Form) error {
		f.Engine, f.Banks = layout, rows
		gone := func(cylinder int, valves []int) bool {
			return cylinder > layout.Cylinders || slices.Max(valves) > layout.Valves
		}
		f.Photos = slices.DeleteFunc(f.Photos, func(e inspection.Entry) bool { return gone(e.Cylinder, e.Valves) })
		f.Overruled = slices.DeleteFunc(f.Overruled, func(o inspection.Overruled) bool {
			return gone(o.Cylinder, []int{o.Valve})
		})
		for cylinder := range f.Methods {
			if cylinder > layout.Cylinders {
				delete(f.Methods, cylinder)
			}
		}
		return nil
	})
}

// ErrUnsigned is returned for a decision without a name or a reason.
var ErrUnsigned = errors.New("write your name and the reason: whoever reads the report will ask")

// Overrule gives a valve another grade, 0 to 4, beside the measured one; nil takes that back.
func (j *Job) Overrule(cylinder, valve int, given *int, who Signed) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	who, err := who.checked(given != nil)
	if err != nil {
		return err
	}
	if given != nil && (*given < 0 || *given > 4) {
		return fmt.Errorf("grade %d is none of 0 to 4", *given)
	}
	words := "grade overruled: " + inspection.ValveName(cylinder, valve)
	return j.edit(words, func(f *inspection.Form) error {
		if cylinder < 1 || cylinder > f.Engine.Cylinders || valve < 1 || valve > f.Engine.Valves {
			return ErrUnknown
		}
		f.Overruled = slices.DeleteFunc(f.Overruled, func(o inspection.Overruled) bool {
			return o.Cylinder == cylinder && o.Valve == valve
		})
		if given != nil {
			f.Overruled = append(f.Overruled, inspection.Overruled{
				Cylinder: cylinder, Valve: valve, Grade: *given, By: who.By, Reason: who.Reason,
			})
		}
		return nil
	})
}

// LeaveOut says that a photo does not count; nil lets it count again. The photo must have its valve.
func (j *Job) LeaveOut(file string, who *Signed) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	var left *inspection.LeftOut
	words := "photo counts again"
	if who != nil {
		signed, err := who.checked(true)
		if err != nil {
			return err
		}
		left, words = &inspection.LeftOut{By: signed.By, Reason: signed.Reason}, "photo left out"
	}
	return j.edit(words, func(f *inspection.Form) error {
		e := f.Entry(file)
		if e == nil {
			return errors.New("say first which valve the photo shows: a photo without a valve counts nowhere")
		}
		e.LeftOut = left
		return nil
	})
}

// checked returns name and reason without blanks around them.
func (s Signed) checked(needed bool) (Signed, error) {
	s = Signed{strings.TrimSpace(s.By), strings.TrimSpace(s.Reason)}
	switch {
	case !needed:
		return s, nil
	case s.By == "" || s.Reason == "":
		return s, ErrUnsigned
	case max(len(s.By), len(s.Reason)) > inspection.MostWords:
		return s, fmt.Errorf("name and reason may have %d letters", inspection.MostWords)
	}
	return s, nil
}
