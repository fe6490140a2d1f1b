package compare

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// day is an inspection of an engine with two cylinders of two valves, one photo of each valve.
func day(stage inspection.Stage, date string, miles float64) *inspection.Inspection {
	when, err := time.Parse(time.DateOnly, date)
	if err != nil {
		panic(err)
	}
	return &inspection.Inspection{
		Vehicle: "fleet-17", Engine: inspection.Layout{Cylinders: 2, Valves: 2}, Date: when,
		Odometer: inspection.Odometer{Value: miles, Unit: inspection.Miles}, Stage: stage, Methods: map[int]string{},
		Photos: []inspection.Photo{
			{File: "11", Cylinder: 1, Valve: 1}, {File: "12", Cylinder: 1, Valve: 2},
			{File: "21", Cylinder: 2, Valve: 1}, {File: "22", Cylinder: 2, Valve: 2},
		},
	}
}

// saved returns results as they were saved; NaN stands for a refused photo. The intervals are ±4 points.
func saved(indices ...float64) []score.Record {
	records := make([]score.Record, len(indices))
	for i, index := range indices {
		r := score.Record{
			Photo:         string(rune('a' + i)),
			ValveInPhoto:  1,
			ValvesInPhoto: 1,
			Status:        score.Refused,
			Version:       "1+net.test",
		}
		if !math.IsNaN(index) {
			r.Status = score.Scored
			m := around(index, 4)
			text := fmt.Sprintf(
				`{"index": %v, "index_low": %v, "index_high": %[3]v, "coverage": %[1]v, "coverage_low": %[2]v, "coverage_high": %[3]v}`,
				m.Value,
				m.Low,
				m.High,
			)
			if err := json.Unmarshal([]byte(text), &r); err != nil {
				panic(err)
			}
		}
		records[i] = r
	}
	return records
}

func before(indices ...float64) *engine.Graded {
	return &engine.Graded{
		Engine: &engine.Engine{Inspection: day(inspection.Before, "2026-03-14", 45210)},
		Photos: saved(indices...),
	}
}

func after(indices ...float64) *engine.Graded {
	g := &engine.Graded{
		Engine: &engine.Engine{Inspection: day(inspection.After, "2026-03-15", 45210)},
		Photos: saved(indices...),
	}
	g.Engine.Inspection.Methods = map[int]string{1: "shell blasting", 2: "hand tools"}
	return g
}

func engines(t *testing.T, a, b *engine.Graded, o Options) *Engine {
	t.Helper()
	e, err := Inspections(a, b, o)
	require.NoError(t, err)
	return e
}

func TestMethodsComeOutSideBySide(t *testing.T) {
	e := engines(t, before(60, 70, 50, 40), after(0, 0, 20, 16), exact)
	require.Len(t, e.Cylinders, 2)
	one, two := e.Cylinders[0], e.Cylinders[1]
	assert.Equal(t, "shell blasting", one.Method)
	assert.Equal(t, "hand tools", two.Method)
	means := []float64{one.Index.Before.Value, one.Index.After.Value, two.Index.Before.Value, two.Index.After.Value}
	assert.Equal(t, []float64{65, 0, 45, 18}, means)
	assert.InDelta(
		t,
		4/math.Sqrt(0.7),
		one.Index.Before.Value-one.Index.Before.Low,
		1e-9,
		"two valves are misread alike, so their mean is no surer",
	)
	assert.Equal(t, []Verdict{Changed, Changed, Changed}, []Verdict{one.Verdict, two.Verdict, e.Verdict})
	assert.Equal(
		t,
		"cylinder 1, shell blasting: index 65.0 to 0.0, mean of its valves: 100 % removed (93 to 100), bare",
		one.Outcome(),
	)
	assert.Contains(t, two.Outcome(), "cylinder 2, hand tools: index 45.0 to 18.0, mean of its valves: 60 % removed")
}

func TestNothingRemovedIsNotDistinguishable(t *testing.T) {
	e := engines(t, before(60, 70, 50, 40), after(58, 71, 52, 39), exact)
	assert.Equal(t, NotDistinguishable, e.Verdict)
	assert.Contains(t, e.Cylinders[0].Outcome(), "no sure change")
}

func TestSavedResultsClaimNoMoreThanPartsDo(t *testing.T) {
	c := engines(t, before(50, 50, 50, 50), after(20, 20, 20, 20), exact).Cylinders[0].Valves[0]
	half := 4 / math.Sqrt(0.7) // ±4 points, seven tenths in common
	assert.InDelta(t, 30-half*math.Sqrt2, -c.Index.Difference.High, 1e-9, "float64 rounding")
	assert.InDelta(t, 30+half*math.Sqrt2, -c.Index.Difference.Low, 1e-9, "float64 rounding")
	assert.Contains(t, c.Reasons[len(c.Reasons)-1].Advice, "as if 70 % of the valve were in both")
}

// Among many cylinders one differs by chance; the limit grows with their number: 1.96 becomes 2.24 for two (normal
// quantile of 1 - 0.025/2 = 0.9875).
func TestEngineAllowsForTheNumberOfCylinders(t *testing.T) {
	limit := 4 / math.Sqrt(0.7) * math.Sqrt2 // saved results
	for share, want := range map[float64]Verdict{0.99: NotDistinguishable, 1.10: NotDistinguishable, 1.18: Changed} {
		d := share * limit
		e := engines(t, before(50, 50, 50, 50), after(50-d, 50-d, 50, 50), exact)
		assert.Equal(t, want, e.Verdict, "%v of the limit for one", share)
	}
	d := 1.10 * limit
	e := engines(t, before(50, 50, 50, 50), after(50-d, 50-d, 50, 50), exact)
	assert.Equal(t, Changed, e.Cylinders[0].Verdict, "by itself it did change")
}

func TestValvesWithoutAPairAreLeftOutAndNamed(t *testing.T) {
	a, b := before(60, math.NaN(), 50, 40), after(0, 0, 20, 16)
	b.Engine.Inspection.Photos, b.Photos = b.Engine.Inspection.Photos[:2], b.Photos[:2]
	e := engines(t, a, b, exact)
	one, two := e.Cylinders[0], e.Cylinders[1]
	assert.Equal(t, 60.0, one.Index.Before.Value, "only valve 1 counts")
	assert.Contains(t, one.Outcome(), "cylinder 1, shell blasting: index 60.0 to 0.0, valve 1 alone: 100 % removed")
	assert.Contains(t, one.Outcome(), "valve 2 not compared: b")
	assert.Equal(t, Verdict(""), two.Verdict)
	assert.Equal(t, "cylinder 2, hand tools: valve 1 not compared: take a photo of this valve in both inspections; "+
		"valve 2 not compared: take a photo of this valve in both inspections", two.Outcome())
	assert.Equal(t, Changed, e.Verdict)

	none := engines(t, before(math.NaN(), math.NaN(), math.NaN(), math.NaN()), b, exact)
	assert.Equal(t, Verdict(""), none.Verdict)
}

func TestPairWithTheMostInCommonIsTaken(t *testing.T) {
	view := func(r *score.Result) *View { return viewOf(t, r) }
	whole, half := plainView(patches).result("whole"), plainView(patches).result("half")
	for i := range half.Region.Mask.Pix {
		if i%side > 240 {
			half.Region.Mask.Pix[i] = 0
		}
	}
	clean := plainView(all(deposit.Bare)).result("clean")
	c := closest([]*View{view(refusedResult("refused")), view(half), view(whole)}, []*View{view(clean)}, exact)
	assert.Equal(t, "whole", c.Before.Photo)
	c = closest([]*View{view(refusedResult("refused"))}, []*View{view(clean)}, exact)
	assert.Equal(t, PhotoRefused, c.Reasons[0].Code)
}

func TestWhatMakesAComparisonBetter(t *testing.T) {
	refused := &Comparison{Common: math.NaN()}
	forced := &Comparison{Compared: true, Forced: true, Common: 0.97}
	unmapped := &Comparison{Compared: true, Common: math.NaN()}
	little, much := &Comparison{Compared: true, Common: 0.5}, &Comparison{Compared: true, Common: 0.9}
	ascending := []*Comparison{refused, forced, unmapped, little, much}
	for i, worse := range ascending {
		assert.False(t, worse.better(worse), "of equals the first is kept")
		for _, better := range ascending[i+1:] {
			assert.True(t, better.better(worse))
			assert.False(t, worse.better(better))
		}
	}
}

func TestForcedValvesAreNoPartOfWhatIsClaimed(t *testing.T) {
	valve := func(number int, before, after float64, forced bool) Valve {
		c := &Comparison{Compared: true, Forced: forced, Common: 0.9}
		figures := [2]measure.Figure{around(before, 1), around(after, 1)}
		c.conclude(figures, figures, Repeatability{})
		return Valve{number, c}
	}
	c := Cylinder{Number: 1, Valves: []Valve{valve(1, 60, 30, false), valve(2, 60, 0, true)}}
	c.conclude(Repeatability{})
	assert.Equal(t, Changed, c.Verdict)
	assert.InDelta(t, 0.5, c.Index.Removed().Value, 1e-9, "of valve 1 alone; float64 rounding")
	assert.Contains(t, c.Outcome(), "valve 1 alone: 50 % removed")
	assert.Contains(
		t,
		c.Outcome(),
		"valve 2: index 60.0 to 0.0: the photos do not register as one valve, so no change is claimed",
	)

	c = Cylinder{Number: 1, Valves: []Valve{valve(1, 60, 0, true), valve(2, 60, 0, true)}}
	c.conclude(Repeatability{})
	assert.Equal(t, NoClaim, c.Verdict)
	assert.NotContains(t, c.Outcome(), "removed")
	e := Engine{Cylinders: []Cylinder{c}}
	e.conclude()
	assert.Equal(t, NoClaim, e.Verdict)
}

func TestSavedResultsHaveFiguresButNoMap(t *testing.T) {
	c := engines(t, before(60, 70, 50, 40), after(0, 0, 20, 16), exact).Cylinders[0].Valves[0]
	assert.True(t, c.Compared)
	assert.False(t, c.Forced, "nobody asked for a map that cannot be")
	assert.True(t, c.ByFigures())
	assert.Nil(t, c.Zones)
	assert.Equal(t, FiguresOnly, c.Reasons[len(c.Reasons)-1].Code)
}

func TestOtherEnginesAreRefused(t *testing.T) {
	a, b := before(60, 70, 50, 40), after(0, 0, 20, 16)
	b.Engine.Inspection.Vehicle = "fleet-18"
	_, err := Inspections(a, b, Options{})
	assert.ErrorIs(t, err, ErrOtherEngine)
	forced := engines(t, a, b, Options{Force: true})
	assert.True(t, forced.Forced)
	assert.Contains(t, forced.Notes[0], "fleet-18")

	b.Engine.Inspection.Engine.Cylinders = 3
	_, err = Inspections(a, b, Options{Force: true})
	assert.ErrorIs(t, err, ErrOtherEngine, "no force makes valves pair that are not there")

	b.Photos = b.Photos[:1]
	_, err = Inspections(a, b, Options{})
	assert.ErrorContains(t, err, "1 results of")
}

func TestInspectionsInTheWrongOrderAreNoted(t *testing.T) {
	first := func(a, b *engine.Graded) string { return engines(t, a, b, exact).Notes[0] }
	a, b := before(1, 1, 1, 1), after(0, 0, 0, 0)
	assert.Contains(t, first(a, b), "all valves: the whole valves were compared", "nothing odd about the order")
	assert.Contains(t, first(b, a), "the earlier one by its date")
	b.Engine.Inspection.Odometer = inspection.Odometer{Value: 72000, Unit: inspection.Kilometres}
	assert.Contains(t, first(a, b), "or odometer", "72 000 km is less than 45 210 mi")
	b.Engine.Inspection.Odometer = inspection.Odometer{Value: 72758, Unit: inspection.Kilometres}
	assert.Contains(t, first(a, b), "all valves", "one reading, rounded to whole kilometres: 45 209.7 mi")

	b = after(0, 0, 0, 0)
	b.Engine.Inspection.Date = a.Engine.Inspection.Date
	assert.Contains(t, first(a, b), "all valves")
	assert.Contains(
		t,
		first(b, a),
		"the first inspection is the one after cleaning",
		"on one day the stages tell the order",
	)
}

// Which valve the crust is left on must be said: zones of one valve are no parts of the mean of two.
func TestWhatIsLeftIsToldOfEachValve(t *testing.T) {
	seen := func(class func(angle, radius float64) uint8) score.Record {
		return recordOf(t, plainView(class).result("a"))
	}
	film := all(deposit.Film)
	a, b := before(0, 0, 0, 0), after(0, 0, 0, 0)
	a.Photos = []score.Record{seen(all(deposit.Heavy)), seen(all(deposit.Heavy)), seen(film), seen(film)}
	b.Photos = []score.Record{seen(all(deposit.Bare)), seen(film), seen(film), seen(film)}
	for n := range b.Photos {
		b.Photos[n].SHA256 = new("another photo")
	}
	e := engines(t, a, b, exact)
	assert.Regexp(t, `^cylinder 1, shell blasting: index 100\.0 to 12\.\d, mean of its valves: 8\d % removed \(.*\); `+
		`valve 1: bare; valve 2: left on the \w+ \(index 25\), on the \w+ \(index 25\), on the \w+ \(index 25\)$`, e.Cylinders[0].Outcome())
	assert.NotContains(
		t,
		e.Cylinders[1].Outcome(),
		"left on",
		"where nothing changed beyond doubt the table says enough",
	)
}

func TestCautionsOfValvesAreToldOnce(t *testing.T) {
	a, b := before(60, 70, 50, 40), after(0, 0, 20, 16)
	a.Photos[0].Photo, b.Photos[0].Photo = "cyl1-valve1.jpg", "x/cyl3-valve1.jpg"
	a.Photos[1].Photo, b.Photos[1].Photo = "cyl1-valve2.jpg", "x/cyl1.jpg"
	notes := engines(t, a, b, exact).Notes
	require.Len(t, notes, 2)
	assert.Regexp(t, "^cylinder 1 valve 1: cyl1-valve1.jpg and cyl3-valve1.jpg: by their names", notes[0])
	assert.Regexp(t, "^all valves: .* on your word$", notes[1])
}
