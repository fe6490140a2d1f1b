package engine

import (
	"fmt"
	"math"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Cylinder is graded by its worst valve.
type Cylinder struct {
	Number int
	// Method is how it was cleaned, "" when not said.
	Method string
	// Valves has one entry per valve of the layout, measured or not.
	Valves []Valve
	// Index is the worst valve's, and its interval that of the worst: from the highest low end to the highest high end.
	Index measure.Figure
	// Grades are the probabilities of its grade, by the same rule (grade.Worst). Dark is the dark deposit of the worst
	// valve, BuildUp how thick that is.
	Grades  grade.Probabilities
	Dark    measure.Figure
	BuildUp deposit.BuildUp
	// Worst is the number of the worst valve, 0 when none was measured.
	Worst int
}

// Engine is an inspection with its figures.
type Engine struct {
	Inspection *inspection.Inspection
	// Cylinders has one entry per cylinder of the layout, measured or not.
	Cylinders []Cylinder
	// Worst is the index of the cylinder that reads highest, with its own interval, WorstCylinder its number (0 when none
	// was measured). That of the highest of all, whichever it is, might begin higher, where another cylinder is surer: two
	// intervals of what everybody calls the worst cylinder would only confuse. Median is the median of the measured
	// cylinders, its interval the medians of their ends.
	Worst, Median measure.Figure
	// WorstGrades and MedianGrades are the probabilities of their grades: the cylinder's; the median's are what its interval says,
	// because of two cylinders in the middle it is the mean, whose grade may be neither's.
	WorstGrades, MedianGrades grade.Probabilities
	WorstCylinder             int
	// Notes are sentences on valves without a figure, on photos that contradict each other, that show more valves than
	// they are listed for, that stand twice, or that the camera dates apart from the inspection.
	Notes []string
}

// Combine brings the photos of an inspection together. Every shot must belong to a valve of the engine.
//
// The worst valve of a cylinder and the median of the cylinders are order statistics: they rise when any figure rises, so
// their intervals run from the same statistic of all low ends to that of all high ends.
func Combine(i *inspection.Inspection, shots []Shot) (*Engine, error) {
	layout := i.Engine
	byValve := make([][]Shot, layout.Cylinders*layout.Valves)
	for _, s := range shots {
		if s.Cylinder < 1 || s.Cylinder > layout.Cylinders || s.Valve < 1 || s.Valve > layout.Valves {
			return nil, fmt.Errorf(
				"engine: photo %q is of cylinder %d valve %d, cylinders are 1 to %d, valves of each 1 to %d",
				s.File, s.Cylinder, s.Valve, layout.Cylinders, layout.Valves)
		}
		place := (s.Cylinder-1)*layout.Valves + s.Valve - 1
		byValve[place] = append(byValve[place], s)
	}
	e := &Engine{Inspection: i}
	for n := range layout.Cylinders {
		c := Cylinder{Number: n + 1, Method: i.Methods[n+1]}
		for v := range layout.Valves {
			valve := combine(n+1, v+1, byValve[n*layout.Valves+v])
			c.Valves = append(c.Valves, valve)
		}
		c.conclude()
		e.noteValves(c)
		e.Cylinders = append(e.Cylinders, c)
	}
	e.conclude()
	for _, sentence := range e.Decisions() {
		e.note("%s", sentence)
	}
	e.noteFurther()
	e.noteMore(shots)
	e.noteRepeated(shots)
	e.noteDates(shots)
	return e, nil
}

// conclude finds the worst and the median of the cylinders.
func (e *Engine) conclude() {
	_, e.WorstCylinder = worst(e.Cylinders, func(c Cylinder) measure.Figure { return c.Index })
	e.Worst, e.WorstGrades = measure.Unmeasured(), grade.Probabilities{}
	if c := e.WorstOne(); c != nil {
		e.Worst, e.WorstGrades = c.Index, c.Grades
	}
	e.Median = median(e.Cylinders)
	e.MedianGrades = grade.OfInterval(e.Median)
	if e.CylindersGraded() == 1 { // itself the median, and not to be told two ways
		e.MedianGrades = e.WorstGrades
	}
}

// Of returns the engine as those valves alone say that counts says, the others not measured; without notes.
func (e *Engine) Of(counts func(cylinder, valve int) bool) *Engine {
	of := &Engine{Inspection: e.Inspection}
	for _, c := range e.Cylinders {
		var valves []int
		for _, v := range c.Valves {
			if counts(c.Number, v.Number) {
				valves = append(valves, v.Number)
			}
		}
		of.Cylinders = append(of.Cylinders, c.Of(valves))
	}
	of.conclude()
	return of
}

// conclude grades the cylinder by its worst valve.
func (c *Cylinder) conclude() {
	c.Index, c.Worst = worst(c.Valves, func(v Valve) measure.Figure { return v.Index })
	c.Dark, c.BuildUp = measure.Unmeasured(), ""
	if c.Worst > 0 {
		c.Dark, c.BuildUp = c.Valves[c.Worst-1].Dark, c.Valves[c.Worst-1].BuildUp
	}
	c.Grades = grade.Worst(each(c.Valves, func(v Valve) grade.Probabilities { return v.Grades })...)
}

// Of returns the cylinder as these valves alone say, the others not measured: what another inspection that lacks some of
// them is held against.
func (c Cylinder) Of(valves []int) Cylinder {
	c.Valves = slices.Clone(c.Valves)
	for n, v := range c.Valves {
		if !slices.Contains(valves, v.Number) {
			c.Valves[n] = combine(c.Number, v.Number, nil)
		}
	}
	c.conclude()
	return c
}

// CylindersGraded counts the cylinders that were graded: of these the worst and the median are.
func (e *Engine) CylindersGraded() int {
	graded := 0
	for _, c := range e.Cylinders {
		if c.Index.Known() {
			graded++
		}
	}
	return graded
}

// WorstOne returns the worst cylinder, nil when none was measured.
func (e *Engine) WorstOne() *Cylinder {
	if e.WorstCylinder == 0 {
		return nil
	}
	return &e.Cylinders[e.WorstCylinder-1]
}

// worst returns the highest index, with the highest of both ends, and its place counted from 1; 0 when nothing is
// known.
func worst[T any](items []T, index func(T) measure.Figure) (measure.Figure, int) {
	high, place := measure.Unmeasured(), 0
	for i, item := range items {
		m := index(item)
		switch {
		case !m.Known():
		case place == 0:
			high, place = m, i+1
		default:
			if m.Value > high.Value {
				high.Value, place = m.Value, i+1
			}
			high.Low, high.High = math.Max(high.Low, m.Low), math.Max(high.High, m.High)
		}
	}
	return high, place
}

func each[T, U any](items []T, of func(T) U) []U {
	values := make([]U, len(items))
	for i, item := range items {
		values[i] = of(item)
	}
	return values
}

func median(cylinders []Cylinder) measure.Figure {
	var values, lows, highs []float64
	for _, c := range cylinders {
		if c.Index.Known() {
			values, lows, highs = append(values, c.Index.Value), append(lows, c.Index.Low), append(highs, c.Index.High)
		}
	}
	return measure.Figure{Value: number.Median(values), Low: number.Median(lows), High: number.Median(highs)}
}
