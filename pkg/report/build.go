package report

import (
	"errors"
	"fmt"
	"slices"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
)

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
	in.complete()
	locale, err := NewLocale(in.Locale, in.Texts, in.Unit)
	if err != nil {
		return nil, err
	}
	m := &Model{
		Texts: in.Texts, Locale: locale, Paper: in.Paper, Shop: in.Shop, Job: in.Job, Program: in.Program, Separator: in.Separator, Workshop: in.Workshop, Vehicle: first.Vehicle, Layout: first.Engine,
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
		m.shown = append(m.shown, m.say(source.Engine.Inspection.Assumed)...)
		for _, decided := range m.say(source.Engine.Decisions()) {
			m.shown = append(m.shown, m.of(n, decided))
		}
	}
	m.Notes = slices.Clone(m.shown)
	for n, source := range in.Visits {
		m.note(n, m.say(source.Engine.Notes)...)
		if day := source.Engine.Inspection.Date; day.After(inspection.Day(in.Job.Date)) {
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

func (m *Model) titleOf(visit, of int) string {
	if of == 1 {
		return m.Texts.Inspection
	}
	return [...]string{m.Between.Before, m.Between.After}[visit]
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
	t.Notes = m.say(t.Notes)
	m.Trend = t
	return nil
}
