package report

import (
	"cmp"
	"fmt"
	"slices"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

// Input is what Build brings together.
type Input struct {
	// Locale is a BCP 47 tag for numbers and dates, and for words where there are any in its language, "en-US" when "".
	Locale string
	// Texts are the words; nil takes those of Locale, or English.
	Texts *texts.Texts
	// Unit is that of all distances; "" takes that of the last visit that tells one, as a trend does.
	Unit inspection.Unit
	// Paper is what a report on paper is made for; "" takes what is used in the locale's region.
	Paper   Paper
	Program string
	Shop    Shop
	Job     Job
	// Visits is one inspection, or two of one engine, the earlier one first: before and after a cleaning, or two odometer
	// readings.
	Visits []Source
	// Compare says how two visits are compared; the zero value is right for everyday use.
	Compare compare.Options
	// Separator parts the columns of the CSV form; "" is a semicolon where the locale writes decimals with a comma.
	Separator Separator
	// Workshop shows what only the workshop can use, see Model.
	Workshop bool
	// History are further inspections of the same vehicle, in any order.
	History []*engine.Engine
}

// Source is a graded inspection, and how its photos are shown.
type Source struct {
	*engine.Graded
	// Pictures[n] shows Photos[n]; nil for a report without pictures.
	Pictures []Pictures
}

// photo is one of the source as the report shows it.
func (s Source) photo(n int, words *texts.Texts) Photo {
	listed := s.Engine.Inspection.Photos[n]
	p := Photo{File: listed.File, Record: s.Photos[n], LeftOut: listed.LeftOut}
	switch r := p.Record; {
	case r.ValvesInPhoto > 1:
		p.Place = fmt.Sprintf(words.ValveInPhoto, r.ValveInPhoto, r.ValvesInPhoto)
	case listed.FromLeft > 0: // refused, so that the photo itself does not say
		p.Place = fmt.Sprintf(words.ValveInPhoto, listed.FromLeft, s.places(listed.File))
	}
	if s.Pictures != nil {
		p.Pictures = s.Pictures[n]
	}
	return p
}

// places counts the valves that a photo is listed for.
func (s Source) places(file string) int {
	n := 0
	for _, p := range s.Engine.Inspection.Photos {
		if p.File == file {
			n++
		}
	}
	return n
}

// check finds what would make a nonsensical report.
func (in Input) check() error {
	for _, v := range in.Visits {
		i := v.Engine.Inspection
		switch {
		case len(i.Photos) == 0:
			return ErrEmpty
		case len(i.Photos) != len(v.Photos):
			return fmt.Errorf("%d results for %d photos", len(v.Photos), len(i.Photos))
		case v.Pictures != nil && len(v.Pictures) != len(v.Photos):
			return fmt.Errorf("pictures of %d photos for %d", len(v.Pictures), len(v.Photos))
		case i.Engine.Cylinders < 1 || i.Engine.Cylinders > inspection.MostCylinders || i.Engine.Valves < 1 || i.Engine.Valves > inspection.MostValves:
			return fmt.Errorf(
				"an engine with %d cylinders of %d intake valves; this program knows 1 to %d with 1 to %d",
				i.Engine.Cylinders,
				i.Engine.Valves,
				inspection.MostCylinders,
				inspection.MostValves,
			)
		}
	}
	if len(in.Visits) == 2 {
		a, b := in.Visits[0].Engine.Inspection, in.Visits[1].Engine.Inspection
		order := compare.InOrder(a, b)
		switch {
		case !inspection.SameVehicle(a, b):
			return fmt.Errorf("%w: vehicles %q and %q", ErrOthers, a.Vehicle, b.Vehicle)
		case order != nil:
			return order
		case a.Engine != b.Engine:
			return fmt.Errorf("%w: cylinders and valves of each are %d and %d, then %d and %d", ErrOthers,
				a.Engine.Cylinders, a.Engine.Valves, b.Engine.Cylinders, b.Engine.Valves)
		}
	}
	return nil
}

// pictured reports whether the report has pictures.
func (in Input) pictured() bool {
	return slices.ContainsFunc(in.Visits, func(s Source) bool { return s.Pictures != nil })
}

// between are the words for what lies between two visits; one alone has those of the stages.
func (in Input) between() texts.Between {
	return in.Texts.Between(len(in.Visits) != 2 || compare.Cleaned(in.Visits[0].Engine.Inspection, in.Visits[1].Engine.Inspection))
}

// complete fills in what was left to the program.
func (in *Input) complete() {
	if in.Locale == "" {
		in.Locale = "en-US"
	}
	if in.Texts == nil {
		in.Texts, _ = texts.For(in.Locale)
	}
	for _, visit := range slices.Backward(in.Visits) {
		in.Unit = cmp.Or(in.Unit, visit.Engine.Inspection.Odometer.Unit)
	}
	in.Unit = cmp.Or(in.Unit, inspection.Miles)
}
