package report

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
)

// Input is what Build brings together.
type Input struct {
	// Locale is a BCP 47 tag for numbers and dates, and for words where there are any in its language, "en-US" when "".
	Locale string
	// Texts are the words; nil takes those of Locale, or English.
	Texts *texts.Texts
	// Unit is that of all distances; "" takes the first visit's.
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

// What keeps a report from being made.
var (
	ErrEmpty  = errors.New("the inspection has no photos")
	ErrOthers = errors.New("the two inspections are not of one engine")
	ErrVisits = errors.New("a report is of one inspection, or of two of one engine, the earlier one first")
)

// Build makes the model. It fails when there is nothing to report on, and when two inspections do not belong together.
func Build(in Input) (*Model, error) {
	if len(in.Visits) < 1 || len(in.Visits) > 2 {
		return nil, ErrVisits
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	in.Visits = slices.Clone(in.Visits)
	for n := range in.Visits {
		in.Visits[n].Graded = in.Visits[n].Below("")
	}
	first := in.Visits[0].Engine.Inspection
	in.complete(first)
	locale, err := NewLocale(in.Locale, in.Texts, in.Unit)
	if err != nil {
		return nil, err
	}
	m := &Model{
		Texts: in.Texts, Locale: locale, Paper: in.Paper, Shop: in.Shop, Job: in.Job, Program: in.Program, Workshop: in.Workshop, Vehicle: first.Vehicle, Layout: first.Engine,
		Between: in.between(),
	}
	if m.Paper == "" {
		m.Paper = locale.Paper()
	}
	for n, source := range in.Visits {
		m.Visits = append(
			m.Visits,
			Visit{Title: m.titleOf(n, len(in.Visits)), Graded: source.Graded, Versions: versionsOf(source.Photos)},
		)
	}
	for n, source := range in.Visits {
		m.shown = append(m.shown, m.Texts.SayAll(source.Engine.Inspection.Assumed)...)
		for _, decided := range m.Texts.SayAll(source.Engine.Decisions()) {
			m.shown = append(m.shown, m.of(n, decided))
		}
	}
	m.Notes = slices.Clone(m.shown)
	for n, source := range in.Visits {
		m.note(n, m.Texts.SayAll(source.Engine.Notes)...)
		if day := source.Engine.Inspection.Date; day.After(in.Job.Date) {
			m.note(n, fmt.Sprintf(m.Texts.DatedLater, m.Locale.Date(day)))
		}
	}
	if err := m.compare(in); err != nil {
		return nil, err
	}
	for number := range first.Engine.Cylinders {
		if in.heard(number+1) == nil {
			continue
		}
		m.Cylinders = append(m.Cylinders, m.cylinder(in, number+1))
	}
	if in.pictured() {
		if err := m.draw(); err != nil {
			return nil, err
		}
	}
	if err := m.follow(in); err != nil {
		return nil, err
	}
	m.Summary = m.summarise()
	return m, nil
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
func (in *Input) complete(first *inspection.Inspection) {
	if in.Locale == "" {
		in.Locale = "en-US"
	}
	if in.Texts == nil {
		in.Texts, _ = texts.For(in.Locale)
	}
	if in.Unit = cmp.Or(in.Unit, first.Odometer.Unit); in.Unit == "" {
		in.Unit = inspection.Miles
	}
}

func (m *Model) titleOf(visit, of int) string {
	if of == 1 {
		return m.Texts.Inspection
	}
	return [...]string{m.Between.Before, m.Between.After}[visit]
}

// of says of which of two visits a sentence speaks.
func (m *Model) of(visit int, sentence string) string {
	if len(m.Visits) == 1 {
		return sentence
	}
	return m.Visits[visit].Title + ": " + sentence
}

// ShownNotes are the notes on page, paper and invoice: all for the workshop, else what was assumed of the photos and what
// people decided.
func (m *Model) ShownNotes() []string {
	if m.Workshop {
		return m.Notes
	}
	return m.shown
}

// NotesTitle is the heading of the shown notes.
func (m *Model) NotesTitle() string {
	if m.Workshop {
		return m.Texts.ForWorkshop
	}
	return m.Texts.Notes
}

// note keeps each sentence on a visit once.
func (m *Model) note(visit int, sentences ...string) {
	for _, s := range sentences {
		if s = m.of(visit, s); !slices.Contains(m.Notes, s) {
			m.Notes = append(m.Notes, s)
		}
	}
}

func versionsOf(photos []score.Record) []string {
	var versions []string
	for _, p := range photos {
		if !slices.Contains(versions, p.Version) {
			versions = append(versions, p.Version)
		}
	}
	return versions
}

// heard are the numbers of the valves that a cylinder is known to have.
func (in Input) heard(cylinder int) []int {
	i := in.Visits[0].Engine.Inspection
	var valves []int
	for v := range i.Engine.Valves {
		if i.HeardOf(cylinder, v+1) {
			valves = append(valves, v+1)
		}
	}
	return valves
}

func (m *Model) cylinder(in Input, number int) Cylinder {
	c := in.readings(number)
	for _, v := range in.heard(number) {
		valve := valveOf(in, number, v)
		if m.Change != nil {
			valve.Comparison = m.comparison(m.Change.Cylinders[number-1].Valves[v-1].Comparison, valve.States)
		}
		c.Valves = append(c.Valves, valve)
	}
	c.Lines = m.linesOf(c)
	return c
}

// readings are a cylinder with its figures in each visit, without its valves.
func (in Input) readings(number int) Cylinder {
	last := in.Visits[len(in.Visits)-1].Engine.Inspection
	c := Cylinder{Number: number, LeftAlone: last.LeftAlone(number)}
	for _, source := range in.Visits {
		found := source.Engine.Cylinders[number-1]
		c.Method = found.Method
		c.Whole, c.WholeBuildUps = append(c.Whole, cylinderReading(found)), append(c.WholeBuildUps, found.BuildUp)
	}
	c.Readings, c.BuildUps = c.Whole, c.WholeBuildUps
	if c.Common = in.common(number); len(c.Common) > 0 {
		c.Readings, c.BuildUps = nil, nil
		for _, source := range in.Visits {
			found := source.Engine.Cylinders[number-1].Of(c.Common)
			c.Readings, c.BuildUps = append(c.Readings, cylinderReading(found)), append(c.BuildUps, found.BuildUp)
		}
	}
	return c
}

func cylinderReading(c engine.Cylinder) Reading {
	r := readingOf(c.Index, c.Grades)
	r.Dark = c.Dark
	return r
}

// common are the valves of a cylinder that were graded in each of two visits, not nil where others were graded in one: none
// where each visit graded valves of its own. It is nil where all that were graded were so in both, or one visit has none.
func (in Input) common(cylinder int) []int {
	if len(in.Visits) < 2 {
		return nil
	}
	first, second := in.Visits[0].Engine.Cylinders[cylinder-1].Valves, in.Visits[1].Engine.Cylinders[cylinder-1].Valves
	both := []int{}
	differ, before, after := false, false, false
	for n := range first {
		a, b := first[n].Index.Known(), second[n].Index.Known()
		differ, before, after = differ || a != b, before || a, after || b
		if a && b {
			both = append(both, n+1)
		}
	}
	if !differ || !before || !after {
		return nil
	}
	return both
}

func valveOf(in Input, cylinder, number int) Valve {
	v := Valve{Cylinder: cylinder, Number: number}
	for _, source := range in.Visits {
		found := source.Engine.Cylinders[cylinder-1].Valves[number-1]
		state := State{
			Reading:   Reading{found.Reading, grade.Of(found.Index, found.Grades)},
			BuildUp:   found.BuildUp,
			Used:      found.Used,
			Overruled: source.Engine.Inspection.Overruling(cylinder, number),
		}
		for n, photo := range source.Engine.Inspection.Photos {
			if photo.Cylinder == cylinder && photo.Valve == number {
				state.Photos = append(state.Photos, source.photo(n, in.Texts))
			}
		}
		v.States = append(v.States, state)
	}
	return v
}

// follow adds the history, the visits of the report included.
func (m *Model) follow(in Input) error {
	if len(in.History) == 0 {
		return nil
	}
	engines := slices.Clone(in.History)
	for _, source := range in.Visits {
		engines = append(engines, source.Engine)
	}
	t, err := trend.Of(engines, in.Unit)
	if err != nil {
		return err
	}
	t.Notes = m.Texts.SayAll(t.Notes)
	m.Trend = t
	return nil
}
