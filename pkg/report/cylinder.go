package report

import (
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
)

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
