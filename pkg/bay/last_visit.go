package bay

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"
	"unicode"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

// Last returns the visit of this inspection's vehicle before it, nil where the archive knows none, with how today
// differs as far as today's photos are graded.
func (j *Job) Last(ctx context.Context) (*Visit, error) {
	a, err := j.bay.archive()
	if err != nil {
		return nil, err
	}
	j.lock.Lock()
	form := j.form
	j.lock.Unlock()
	vehicle, err := vehicleOf(ctx, a, form)
	if err != nil || vehicle == 0 {
		return nil, err
	}
	kept, err := a.Inspections(ctx, vehicle)
	if err != nil {
		return nil, archive.Explain(err)
	}
	today := cmp.Or(form.Date, time.Now().Format(time.DateOnly))
	kept = slices.DeleteFunc(kept, func(k archive.Kept) bool {
		cleanedSince := form.Stage == inspection.After && k.Stage == string(inspection.Before)
		return k.Day > today || k.Day == today && !cleanedSince
	})
	if len(kept) == 0 {
		return nil, nil
	}
	last := kept[len(kept)-1]
	graded, err := a.Graded(ctx, last.ID, "")
	if err != nil {
		return nil, unknown(err)
	}
	v := visitOf(last, graded)
	j.lock.Lock()
	now, err := j.graded()
	j.lock.Unlock()
	if err == nil {
		v.holdAgainst(graded, now) // takes seconds, in which the page goes on
	}
	return v, nil
}

// holdAgainst says how today differs from a visit, valve by valve, where both can be compared.
func (v *Visit) holdAgainst(before, today *engine.Graded) {
	found, err := compare.Inspections(before, today, compare.Options{})
	if err != nil {
		return // facts are still open, say: the figures stand beside each other all the same
	}
	for _, c := range found.Cylinders {
		for _, valve := range c.Valves {
			for n := range v.Cylinders {
				if v.Cylinders[n].Number != c.Number || valve.Number > len(v.Cylinders[n].Valves) || !valve.Compared {
					continue
				}
				v.Cylinders[n].Valves[valve.Number-1].Outcome = valve.Outcome()
			}
		}
	}
}

// vehicleOf is the key of the vehicle that an inspection is of, by its name, plate or VIN; 0 where the archive does not
// know it.
func vehicleOf(ctx context.Context, a *archive.Archive, form *inspection.Form) (int64, error) {
	for _, by := range []struct {
		text string
		is   func(archive.Found) string
	}{
		{form.Vehicle, func(f archive.Found) string { return f.Reference }},
		{form.Card.VIN, func(f archive.Found) string { return f.VIN }},
		{form.Card.Plate, func(f archive.Found) string { return f.Plate }},
	} {
		if lettersOf(by.text) == "" {
			continue
		}
		found, err := a.Find(ctx, by.text)
		if err != nil {
			return 0, archive.Explain(err)
		}
		for _, f := range found {
			if lettersOf(by.is(f)) == lettersOf(by.text) {
				return f.ID, nil
			}
		}
	}
	return 0, nil
}

func lettersOf(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, text)
}
