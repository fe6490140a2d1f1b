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
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
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

// saved returns results as they were saved, without outlines; NaN stands for a refused photo. The intervals are ±4
// points, and places 1 and 2 share nothing of them.
func saved(place int, indices ...float64) []score.Record {
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
				`{"index": %v, "index_low": %v, "index_high": %[3]v, "coverage": %[1]v, "coverage_low": %[2]v, "coverage_high": %[3]v,
				"dark": %[1]v, "dark_low": %[2]v, "dark_high": %[3]v}`,
				m.Value,
				m.Low,
				m.High,
			)
			if err := json.Unmarshal([]byte(text), &r); err != nil {
				panic(err)
			}
			r.Map = (&unroll.Map{Draws: drawsAround(r.Reading(), place)}).Pack()
		}
		records[i] = r
	}
	return records
}

func before(indices ...float64) *engine.Graded {
	return &engine.Graded{
		Engine: &engine.Engine{Inspection: day(inspection.Before, "2026-03-14", 45210)},
		Photos: saved(1, indices...),
	}
}

func after(indices ...float64) *engine.Graded {
	g := &engine.Graded{
		Engine: &engine.Engine{Inspection: day(inspection.After, "2026-03-15", 45210)},
		Photos: saved(2, indices...),
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
		4*math.Sqrt(1.1/2),
		one.Index.Before.Value-one.Index.Before.Low,
		1e-9,
		"a tenth of what two valves err they err alike",
	)
	assert.Equal(t, []Verdict{Changed, Changed, Changed}, []Verdict{one.Verdict, two.Verdict, e.Verdict})
	assert.Equal(
		t,
		"cylinder 1, shell blasting: dark deposit from 65 % to 0 %, mean of its valves: 100 % removed (95 to 100); index from 65 to 0, bare",
		one.Outcome(),
	)
	assert.Contains(t, two.Outcome(), "cylinder 2, hand tools: dark deposit from 45 % to 18 %, mean of its valves: 60 % removed")
}

func TestAFallWithoutACleaningIsToldWithWhatMayExplainIt(t *testing.T) {
	const told = "the deposit fell although no cleaning is on record: check the photos, or give the later inspection stage: after"
	staged := func(first, second inspection.Stage, later ...float64) []string {
		a, b := before(60, 70, 50, 40), after(later...)
		a.Engine.Inspection.Stage, b.Engine.Inspection.Stage = first, second
		return engines(t, a, b, exact).Notes
	}
	assert.Contains(t, staged(inspection.Routine, inspection.Routine, 0, 0, 20, 16), told)
	assert.NotContains(t, staged(inspection.Routine, inspection.After, 0, 0, 20, 16), told)
	assert.NotContains(t, staged(inspection.Before, inspection.Routine, 0, 0, 20, 16), told, "the cleaning is on record")
	assert.NotContains(t, staged(inspection.Routine, inspection.Routine, 58, 71, 52, 39), told)
	assert.NotContains(t, staged(inspection.Routine, inspection.Routine, 90, 95, 90, 80), told)
}

func TestNothingRemovedIsNotDistinguishable(t *testing.T) {
	e := engines(t, before(60, 70, 50, 40), after(58, 71, 52, 39), exact)
	assert.Equal(t, NotDistinguishable, e.Verdict)
	assert.Contains(t, e.Cylinders[0].Outcome(), "no sure change")
}

// The mean of all valves adds up what each gained a little.
func TestSmallGrowthOfEveryValveAddsUp(t *testing.T) {
	repeated := Options{Repeatability: &Repeatability{Index: Precision{SEM: 4}, Dark: Precision{SEM: 4}}}
	a, b := before(20, 22, 24, 26), after(28, 30, 32, 34)
	b.Engine.Inspection = day(inspection.Routine, "2027-06-01", 87210)
	e := engines(t, a, sharing(b), repeated)
	for _, c := range e.Cylinders {
		assert.Equal(t, NotDistinguishable, c.Verdict, c.Outcome())
	}
	assert.Equal(t, Changed, e.Verdict)
	assert.Equal(t, "dark deposit grew by 8 points (2 to 14) over 42 000 mi", e.Outcome())
	a.Engine.Inspection = day(inspection.Routine, "2026-05-01", 0)
	e = engines(t, a, sharing(b), repeated)
	assert.Equal(t, "dark deposit grew by 8 points (2 to 14) over 87 200 mi", e.Outcome(), "of a new engine the reading is 0")
}

// Where nobody cleaned, nothing was removed: the cylinders say less, as the report does.
func TestBetweenTwoReadingsDepositIsLessAndNotRemoved(t *testing.T) {
	b := after(0, 0, 20, 16)
	b.Engine.Inspection = day(inspection.Routine, "2027-06-01", 87210)
	e := engines(t, before(60, 70, 50, 40), b, exact)
	assert.Equal(t, "cylinder 1: dark deposit from 65 % to 0 %, mean of its valves: 100 % less (95 to 100); index from 65 to 0, bare",
		e.Cylinders[0].Outcome())
	assert.Contains(t, e.Cylinders[1].Valves[0].Outcome(), "% less (")
	for _, c := range e.Cylinders {
		assert.NotContains(t, c.Outcome(), "removed")
	}
}

// Among many cylinders one differs by chance; the limit grows with their number: 1.96 becomes 2.24 for two of them
// (normal quantile of 1 - 0.025/2 = 0.9875, 2.2414).
func TestEngineAllowsForTheNumberOfCylinders(t *testing.T) {
	// 10 points for the mean of two valves that err alike by a tenth, of which 10 apart leave 8 points² of their ±4.
	limit := Precision{SEM: math.Sqrt((100/(1.1/2)-8)/2) / measure.Normal975}
	of := func(d float64) *Engine {
		a, b := before(50, 50, 50, 50), after(50-d, 50-d, 50+d, 50+d)
		return engines(t, a, sharing(b), Options{Repeatability: &Repeatability{Index: limit, Dark: limit}})
	}
	for d, want := range map[float64]Verdict{9.5: NotDistinguishable, 10.5: NotDistinguishable, 12: Changed} {
		assert.Equal(t, want, of(d).Verdict, "%v points", d)
	}
	assert.Equal(t, Changed, of(10.5).Cylinders[0].Verdict, "by itself it did change")
	assert.Contains(t, of(10.5).Outcome(), "cylinders 1, 2 alone would read changed")
	assert.Contains(t, of(12).Outcome(), "cylinders 1, 2 changed, the mean of all valves did not")
	assert.NotContains(t, of(9.5).Outcome(), "cylinder")
}

// sharing makes all that the photos after are unsure of what those before are, too.
func sharing(g *engine.Graded) *engine.Graded {
	for n := range g.Photos {
		g.Photos[n].Map = (&unroll.Map{Draws: drawsAround(g.Photos[n].Reading(), 1)}).Pack()
	}
	return g
}

func TestHeadlines(t *testing.T) {
	assert.Equal(t, "helped (99 % likely): dark deposit from 55 % to 9 %", engines(t, before(60, 70, 50, 40), after(0, 0, 20, 16), exact).Outcome())
	assert.Equal(t, "did not help: dark deposit from 20 % to 40 %, 20 points more (17 to 23)",
		engines(t, before(20, 20, 20, 20), after(40, 40, 40, 40), exact).Outcome())
	grown := after(40, 40, 40, 40)
	grown.Engine.Inspection = day(inspection.Routine, "2027-06-01", 45210)
	assert.Equal(t, "dark deposit grew by 20 points (17 to 23)", engines(t, before(20, 20, 20, 20), grown, exact).Outcome())
	assert.Contains(t, engines(t, before(20, 20, 20, 20), after(21, 20, 20, 20), exact).Outcome(), "dark deposit from 20 % to 20 %: no sure change (only one of more than 4 points of dark deposit")
}

func TestForcedValvesAreNoPartOfWhatIsClaimed(t *testing.T) {
	valve := func(number int, before, after float64, forced bool) Valve {
		c := &Comparison{Forced: forced, Common: 0.9}
		c.each(Repeatability{}, func(reading, Precision) Change { return change(before, after, repeated(1)) })
		return Valve{Number: number, Comparison: c}
	}
	c := Cylinder{Number: 1, Valves: []Valve{valve(1, 60, 30, false), valve(2, 60, 0, true)}}
	c.conclude()
	assert.Equal(t, Changed, c.Verdict)
	assert.InDelta(t, 0.5, c.Index.Removed().Value, 1e-9, "of valve 1 alone; float64 rounding")
	assert.Contains(t, c.Outcome(), "valve 1 alone: 50 % removed")
	assert.Contains(
		t,
		c.Outcome(),
		"valve 2: dark deposit from 60 % to 0 %, index from 60 to 0: the photos do not register as one valve, so no change is claimed",
	)

	c = Cylinder{Number: 1, Valves: []Valve{valve(1, 60, 0, true), valve(2, 60, 0, true)}}
	c.conclude()
	assert.Equal(t, NoClaim, c.Verdict)
	assert.NotContains(t, c.Outcome(), "removed")
	e := Engine{Cylinders: []Cylinder{c}}
	e.conclude()
	assert.Equal(t, NoClaim, e.Verdict)
}

func TestResultsWithoutMapsAreNotCompared(t *testing.T) {
	a := before(60, 70, 50, 40)
	for n := range a.Photos {
		a.Photos[n].Map = nil
	}
	e := engines(t, a, after(0, 0, 20, 16), exact)
	c := e.Cylinders[0].Valves[0]
	assert.True(t, c.Compared, "side by side")
	assert.True(t, c.ByFigures())
	assert.True(t, e.ByFigures())
	assert.Nil(t, c.Zones)
	assert.Equal(t, FiguresOnly, c.Reasons[len(c.Reasons)-1].Code)
	assert.Equal(t, []Verdict{NoClaim, NoClaim, NoClaim}, []Verdict{c.Verdict, e.Cylinders[0].Verdict, e.Verdict})
	assert.Equal(t, []float64{60, 0}, []float64{c.Dark.Before.Value, c.Dark.After.Value})
	assert.Equal(t, "dark deposit from 60 % to 0 %, index from 60 to 0: a result has no map of its valve, so no change is claimed", c.Outcome())
	assert.Equal(t, "dark deposit from 55 % to 9 %: no change is claimed", e.Outcome())
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

func TestInspectionsInTheWrongOrderAreRefused(t *testing.T) {
	wrong := func(a, b *engine.Graded, o Options) error {
		_, err := Inspections(a, b, o)
		return err
	}
	a, b := before(1, 1, 1, 1), after(0, 0, 0, 0)
	assert.NoError(t, wrong(a, b, exact))
	assert.ErrorIs(t, wrong(b, a, exact), ErrOrder)
	assert.ErrorContains(t, wrong(b, a, exact), "the earlier one by its date")
	b.Engine.Inspection.Stage = inspection.Routine
	b.Engine.Inspection.Odometer = inspection.Odometer{Value: 72000, Unit: inspection.Kilometres}
	assert.ErrorContains(t, wrong(a, b, exact), "or odometer", "72 000 km is less than 45 210 mi")
	b.Engine.Inspection.Odometer = inspection.Odometer{Value: 72758, Unit: inspection.Kilometres}
	assert.NoError(t, wrong(a, b, exact), "one reading, rounded to whole kilometres: 45 209.7 mi")

	b.Engine.Inspection.Vehicle = "fleet-18"
	assert.NoError(t, wrong(b, a, Options{Force: true}), "the dates of two vehicles tell no order")

	b = after(0, 0, 0, 0)
	b.Engine.Inspection.Date = a.Engine.Inspection.Date
	assert.NoError(t, wrong(a, b, exact))
	assert.ErrorContains(t, wrong(b, a, exact), "the first inspection is the one after cleaning", "on one day the stages tell the order")
}

// The stages say which of the two is the one before a cleaning, so that a slip in a date or reading is only told.
func TestStagesTellTheOrderAndOddDatesAreNoted(t *testing.T) {
	a, b := before(1, 1, 1, 1), after(0, 0, 0, 0)
	b.Engine.Inspection.Odometer = inspection.Odometer{Value: 72000, Unit: inspection.Kilometres}
	assert.Contains(t, engines(t, a, b, exact).Notes[0], "the earlier one by its date or odometer")
}

// A cylinder that was left alone changes nothing that is said of the cleaning, whatever its photos show.
func TestCylindersLeftAloneDoNotCount(t *testing.T) {
	b := after(50, 60, 20, 16)
	b.Engine.Inspection.Methods = map[int]string{2: "hand tools"}
	e := engines(t, before(60, 70, 50, 40), b, exact)
	alone, cleaned := e.Cylinders[0], e.Cylinders[1]
	assert.Equal(t, []bool{true, false}, []bool{alone.LeftAlone, cleaned.LeftAlone})
	assert.Equal(t, []int{1}, e.LeftAlone())
	assert.Equal(t, cleaned.Index, e.Index, "the engine's mean is that of the other cylinder")
	assert.Equal(t, "helped (99 % likely): dark deposit from 45 % to 18 %; cylinder 1 left alone", e.Outcome())
	assert.True(t, cleaned.Index.Removed().Known())
	for _, c := range []Changes{alone.Changes, alone.Valves[0].Changes} {
		assert.False(t, c.Index.Removed().Known())
		assert.False(t, c.Dark.Removed().Known())
	}
	assert.Regexp(t, `^cylinder 1, left alone: dark deposit from 65 % to 55 %, mean of its valves: 10 points less \(\d+ to \d+\); index from 65 to 55$`, alone.Outcome())
	assert.Regexp(t, `^dark deposit from 60 % to 50 %: 10 points less [^,]*$`, alone.Valves[0].Outcome(), "nothing was left by a cleaning")
	require.Len(t, e.Unexplained(), 1, "10 points of two valves are past doubt")
	assert.Contains(t, e.Unexplained()[0], "cylinder 1 was not cleaned and differs all the same")
	assert.Subset(t, e.Notes, e.Unexplained())
	assert.Equal(t, []*Cylinder{&e.Cylinders[1]}, e.Standing())
	assert.Equal(t, 1, e.Otherwise().Of)

	b = after(60, 69, 20, 16)
	b.Engine.Inspection.Methods = map[int]string{2: "hand tools"}
	assert.Empty(t, engines(t, before(60, 70, 50, 40), b, exact).Unexplained(), "what has not changed needs no explanation")
}

// Without methods all count as cleaned, and between two odometer readings nobody cleans.
func TestWithoutMethodsNoCylinderIsLeftAlone(t *testing.T) {
	b := after(0, 0, 20, 16)
	b.Engine.Inspection.Methods = nil
	assert.Equal(t, "helped (99 % likely): dark deposit from 55 % to 9 %", engines(t, before(60, 70, 50, 40), b, exact).Outcome())

	b.Engine.Inspection.Methods = map[int]string{2: "hand tools"}
	a := before(60, 70, 50, 40)
	a.Engine.Inspection.Stage = inspection.After
	assert.Empty(t, engines(t, a, b, exact).LeftAlone(), "two cleaned states, and nothing says what lies between")
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
	assert.Regexp(t, `^cylinder 1, shell blasting: dark deposit from 100 % to 0 %, mean of its valves: 100 % removed \(.*\); index from 100 to 1\d; `+
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
	assert.Regexp(t, "^all valves: .* on your word; retake", notes[1])
}

// What people corrected is told of both inspections, and written.
func TestCorrectionsAreToldOfBothInspections(t *testing.T) {
	hand := region.ByHand
	first, second := before(40, 40, 40, 40), after(10, 10, 10, 10)
	first.Photos[0].RegionSource, first.Photos[3].RegionSource = &hand, &hand
	second.Photos[1].Painted = new(measure.Rounded(0.25, 2))
	second.Photos[0].RegionSource, second.Photos[0].OutlinedBy = &hand, "Ann"
	second.Photos[3].Painted, second.Photos[3].PaintedBy = new(measure.Rounded(0.25, 2)), "Bob"
	second.Photos[2].Reasons = []reason.Reason{reason.Of(reason.PaintBeside)}
	e, err := Inspections(first, second, Options{})
	require.NoError(t, err)
	told := []string{
		"cylinder 1 valve 1, cylinder 2 valve 2: before: the outline was set by hand, and is taken at its word",
		"cylinder 1 valve 1: after, by Ann: the outline was set by hand, and is taken at its word",
		"cylinder 1 valve 2: after: deposit classes were painted by hand, and count as they were painted",
		"cylinder 2 valve 1: after: what was painted beside the valve was ignored",
		"cylinder 2 valve 2: after, by Bob: deposit classes were painted by hand, and count as they were painted",
	}
	assert.Equal(t, told, e.ByHand())
	assert.NotSubset(t, e.Notes, told, "a report says it in its own words")
	text, err := json.Marshal(e)
	require.NoError(t, err)
	var written struct{ Notes []string }
	require.NoError(t, json.Unmarshal(text, &written))
	assert.Subset(t, written.Notes, told)
}

// With a cylinder left alone as many valves are compared as count, though one of these was refused.
func TestCautionsOfAllValvesWithOneLeftAlone(t *testing.T) {
	first, second := before(40, 40, 40, 40), after(40, 40, 10, math.NaN())
	second.Engine.Inspection.Methods = map[int]string{2: "hand tools"}
	e, err := Inspections(first, second, Options{})
	require.NoError(t, err)
	compared, of := e.Compared()
	require.Equal(t, []int{1, 2}, []int{compared, of}, "of cylinder 2 alone")
	require.Len(t, e.Notes, 1)
	assert.Regexp(t, "^all valves that were compared: .* on your word", e.Notes[0])
	second.Photos[3] = after(40, 40, 10, 10).Photos[3]
	e, err = Inspections(first, second, Options{})
	require.NoError(t, err)
	require.Len(t, e.Notes, 1)
	assert.Regexp(t, "^all valves: .* on your word", e.Notes[0])
}
