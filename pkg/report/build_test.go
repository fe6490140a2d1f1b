package report

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

func TestEveryCylinderAndValveIsTold(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	require.Len(t, m.Cylinders, 2)
	one, two := m.Cylinders[0], m.Cylinders[1]
	require.Len(t, one.Valves, 2)
	assert.Equal(t, "soaked and brushed", one.Method)
	assert.Equal(t, 3, one.Readings[0].Grade.Value, "the worst valve's")
	assert.Len(t, one.Valves[1].States[0].Photos, 2)

	// A refused photo is shown as such and never graded.
	refused := two.Valves[0].States[0]
	assert.Nil(t, refused.Grade)
	assert.Equal(t, score.Refused, refused.Photos[0].Record.Status)
	assert.Contains(t, two.Valves[0].Comparison.Refused, "Not compared")

	assert.Empty(t, two.Valves[1].States[1].Photos)
	assert.Contains(t, m.Notes, "After cleaning: cylinder 2 valve 2 has no photo: its cylinder is graded without it")
}

// The interval of a cylinder is that of the worst, whichever valve it is; where that is another than its worst valve's,
// which stands on the same page, the reader is told.
func TestTheIntervalOfACylinderIsExplained(t *testing.T) {
	told := func(low float64) string {
		in := inputOf(t, "before")
		in.Visits = []Source{engineOf(t, 1, 2)}
		c := &in.Visits[0].Engine.Cylinders[0]
		c.Valves[1].Index = measure.Figure{Value: c.Valves[0].Index.Value - 1, Low: low, High: c.Valves[0].Index.High}
		c.Index.Low = max(low, c.Valves[0].Index.Low)
		return build(t, in).TableKey()
	}
	assert.NotContains(t, told(0), "another valve")
	assert.Contains(t, told(engineOf(t, 1, 1).Engine.Cylinders[0].Index.Low+5), "Where another valve may be the worst one")
}

func TestOneVisitHasNoComparison(t *testing.T) {
	m := build(t, inputOf(t, "before"))
	assert.Nil(t, m.Change)
	assert.Nil(t, m.Cylinders[0].Valves[0].Comparison)
	assert.Equal(t, "Inspection", m.Visits[0].Title)
}

func TestNonsenseIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Input)
		says   string
	}{
		"nothing":            {func(in *Input) { in.Visits = nil }, "one inspection, or of two"},
		"three":              {func(in *Input) { in.Visits = append(in.Visits, in.Visits[0]) }, "one inspection, or of two"},
		"no photos":          {func(in *Input) { in.Visits[0].Engine.Inspection.Photos = nil }, "no photos"},
		"photos without one": {func(in *Input) { in.Visits[0].Photos = in.Visits[0].Photos[1:] }, "4 results for 5 photos"},
		"another vehicle":    {func(in *Input) { in.Visits[1].Engine.Inspection.Vehicle = "fleet-18" }, `"fleet-17" and "fleet-18"`},
		"another engine":     {func(in *Input) { in.Visits[1].Engine.Inspection.Engine.Cylinders = 4 }, "cylinders and valves of each are 2 and 2, then 4 and 2"},
		"the later first": {func(in *Input) {
			in.Visits[1].Engine.Inspection.Stage, in.Visits[1].Engine.Inspection.Odometer.Value = inspection.Routine, 3000
		}, "in the wrong order: the second inspection is the earlier one by its date or odometer"},
		"the clean one first": {func(in *Input) {
			slices.Reverse(in.Visits)
			in.Visits[1].Engine.Inspection.Date = in.Visits[0].Engine.Inspection.Date
		}, "in the wrong order"},
		"64 cylinders":       {func(in *Input) { in.Visits[0].Engine.Inspection.Engine.Cylinders = 64 }, "1 to 16"},
		"no language":        {func(in *Input) { in.Locale = "!" }, "language tag"},
		"history of another": {func(in *Input) { in.History = append(in.History, other(t)) }, "vehicle"},
	} {
		in := inputOf(t, "before", "after")
		c.change(&in)
		_, err := Build(in)
		assert.ErrorContains(t, err, c.says, name)
	}
}

func other(t *testing.T) *engine.Engine {
	engine := invented(t, "before").Engine
	engine.Inspection.Vehicle = "fleet-99"
	return engine
}

func TestNothingGradedIsSaid(t *testing.T) {
	in := inputOf(t, "before")
	i := in.Visits[0].Engine.Inspection
	i.Photos = i.Photos[3:4] // the refused one
	in.Visits[0] = sourceOf(t, i, []score.Record{in.Visits[0].Photos[3]})
	m := build(t, in)
	assert.Equal(t, "No photo could be judged: nothing is graded.", m.Summary)
	assert.Equal(t, []string{"Cylinder 1: not graded: no photo."}, m.Cylinders[0].Lines)
	assert.Equal(t, []string{"Cylinder 2: not graded: out of focus."}, m.Cylinders[1].Lines)

	for n := range i.Photos {
		i.Photos[n].LeftOut = &inspection.LeftOut{By: "Ann", Reason: "smeared"}
	}
	m = build(t, in)
	assert.Equal(t, "All photos were left out: nothing is graded.", m.Summary, "the program was not asked to judge one")
	assert.Equal(t, []string{"Cylinder 2: not graded: all photos were left out."}, m.Cylinders[1].Lines)
}

// Whatever a refused photo shows must not stand for the valve.
func TestARefusedPhotoStandsForNoVisit(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Visits[0].Pictures[0].Plain, in.Visits[1].Pictures[0].Plain = speckled(t, 1), speckled(t, 1)
	m := build(t, in)
	v := m.Cylinders[0].Valves[0]
	require.NotNil(t, v.Shown(0))
	require.NotNil(t, page{Model: m, T: m.Texts}.Slider(v))

	in.Visits[0].Photos[0].Status = score.Refused
	m = build(t, in)
	v = m.Cylinders[0].Valves[0]
	assert.Nil(t, v.Shown(0))
	assert.NotNil(t, v.Shown(1))
	assert.Nil(t, page{Model: m, T: m.Texts}.Slider(v), "no divider either")
}

func TestEnginesOfEverySizeAreWritten(t *testing.T) {
	for _, valves := range []int{1, 2, 3} {
		in := inputOf(t)
		in.Visits = []Source{engineOf(t, inspection.MostCylinders, valves)}
		for name, write := range formats(build(t, in)) {
			assert.NotEmpty(t, written(t, write), name)
		}
	}
}

// Photos without a form, of cylinder 2 by their names, say nothing of a cylinder 1; names of two valves are doubted on the
// paper itself.
func TestPlainPhotosAreOfTheCylinderOfTheirNames(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Workshop = false
	for n := range in.Visits {
		i := *in.Visits[n].Engine.Inspection
		i.Assumed, i.Methods = []string{"both photos are taken for one valve"}, nil
		i.Photos = []inspection.Photo{{File: "c2v1.jpg", Cylinder: 2, Valve: 1}}
		i.Heard = []inspection.Place{{Cylinder: 2, Valve: 1}}
		record := in.Visits[n].Photos[1]
		record.Photo = "c2v1.jpg"
		in.Visits[n] = sourceOf(t, &i, []score.Record{record})
	}
	m := build(t, in)
	require.Len(t, m.Cylinders, 1)
	text := written(t, m.WriteText)
	assert.NotContains(t, text, "Cylinder 1")
	assert.NotContains(t, text, "valve 2")
	assert.NotContains(t, strings.Join(m.Notes, "\n"), "has no photo")
	assert.NotContains(t, text, "by their names")
	assert.Contains(t, text, "Cylinder 2: grade 3")
	assert.NotContains(t, text, "of 4 valves", "nobody said that there are four")
	assert.NotEmpty(t, written(t, m.WriteHTML))

	in.Visits[1].Engine.Inspection.Photos[0].File = "c1v1.jpg"
	text = written(t, build(t, in).WriteText)
	assert.Contains(t, text, "\nNote: Cylinder 2, valve 1: by their names the photos that were compared show two valves.\n")
	in.Locale = "de-DE"
	in.Visits[0].Engine.Inspection.Vehicle, in.Visits[1].Engine.Inspection.Vehicle = inspection.Unnamed, inspection.Unnamed
	assert.Contains(t, written(t, build(t, in).WriteText), "Fahrzeug ohne Namen")
	assert.Contains(t, written(t, build(t, in).WriteHTML), "<dd dir=\"auto\">Fahrzeug ohne Namen</dd>")
	assert.Contains(t, written(t, build(t, in).WriteText), "\nHinweis: Zylinder 2, Ventil 1: die verglichenen Fotos zeigen ihren Namen nach zwei Ventile.\n")
}

// A grade that a person gave stands in the circle of its valve, the measured one on it, and both are told in words.
func TestAGradeOverruledStandsInItsCircle(t *testing.T) {
	in := inputOf(t, "before", "after")
	first := in.Visits[0].Engine.Inspection
	first.Overruled = append(first.Overruled, inspection.Overruled{Cylinder: 1, Valve: 1, Grade: 1, By: "Ann", Reason: "oil sheen"})
	m := build(t, in)
	measured := m.Plate(m.Cylinders[0].Valves[0].States[0].Reading)
	require.NotEqual(t, "1", measured.Digit)
	given, later := m.Discs(m.Cylinders[0], 0)[0], m.Discs(m.Cylinders[0], 1)[0]
	assert.Equal(t, Plate{"1", "1", "film"}, given.Plate)
	require.NotNil(t, given.Measured)
	assert.Equal(t, measured, given.Measured.Plate)
	assert.Nil(t, later.Measured, "nobody gave the valve another grade after cleaning")
	assert.Contains(t, m.CylinderAlt(m.Cylinders[0], 0), "grade 1 film by the eye of Ann, measured: grade "+measured.Digit)
	page := written(t, m.WriteHTML)
	assert.Equal(t, 1, strings.Count(page, `class="disc g1 given"`))
	assert.Contains(t, page, m.Texts.OverruledKey)
	assert.NotContains(t, written(t, build(t, inputOf(t, "before")).WriteHTML), m.Texts.OverruledKey)
}
