package report

import (
	"encoding/csv"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
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

// The photos say 60 before and 1 after; without maps they are compared as a whole.
func TestComparisonTellsWhatWentAway(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	c := m.Cylinders[0].Valves[0].Comparison
	assert.Equal(t, compare.Changed, c.Index.Verdict())
	assert.Contains(t, m.ComparisonFacts(c), Fact{"Index removed", "98\u00a0% (92 to 100)"})
	assert.Contains(t, m.ComparisonFacts(c), Fact{"Dark deposit removed", "99\u00a0% (93 to 100)"})
	assert.Equal(t, 60.0, c.Index.Before.Value)
	assert.Equal(t, 1.0, c.Index.After.Value)
	assert.Contains(t, c.Outcome, "dark deposit 70\u00a0% before, 1\u00a0% after: 99\u00a0% removed")
	assert.Contains(t, c.Outcome, "; index 60 before, 1 after.")
}

// With photos that say little, a share removed would contradict the sentence that nothing shows.
func TestNoShareIsRemovedWhereNoChangeShows(t *testing.T) {
	for sem, words := range map[float64]string{
		21.3: "no sure change; only one of more than 70 points of dark deposit or 60 points of the index would be sure",
		23:   "no sure change; only one of more than 60 points of the index would be sure", // no more dark deposit can go
		80:   "too wide to show any change",                                                // nothing that can go or come would
	} {
		in := inputOf(t, "before", "after")
		in.Compare.Repeatability = &compare.Repeatability{
			Index: compare.Precision{SEM: min(sem, 21.3) * max(1, sem/40)}, Dark: compare.Precision{SEM: 1.17 * sem},
		}
		m := build(t, in)
		c := m.Cylinders[0].Valves[0].Comparison
		require.Equal(t, compare.NotDistinguishable, c.Verdict())
		assert.Contains(t, c.Outcome, words)
		for _, fact := range m.ComparisonFacts(c) {
			assert.NotContains(t, fact.Name, "removed")
		}
		lines, err := csv.NewReader(strings.NewReader(written(t, m.WriteCSV))).ReadAll()
		require.NoError(t, err)
		assert.Empty(t, lines[1][slices.Index(lines[0], "removed_percent")])
	}
}

// Without maps whole valves are compared: nothing may say that it was on what both photos show.
func TestComparisonOfWholeValvesSaysSo(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	c := m.Cylinders[0].Valves[0].Comparison
	require.True(t, c.Whole())
	assert.Contains(t, c.Outcome, "On all that the two photos show")
	assert.Equal(t, "Before and after", m.ComparisonTitle(c))
	assert.Equal(t, "Dark deposit before", m.ComparisonFacts(c)[0].Name)

	c.Comparable = 0.9
	assert.Equal(t, "Before and after, on what both photos show", m.ComparisonTitle(c))
	assert.Contains(t, m.ComparisonFacts(c), Fact{"Seen in both photos", "90\u00a0%"})
}

func TestCylinderSaysWhatWasCompared(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	valve := func(number int, compared bool, common float64) compare.Valve {
		return compare.Valve{Number: number, Comparison: &compare.Comparison{Compared: compared, Common: common}}
	}
	none := math.NaN()
	for says, valves := range map[string][]compare.Valve{
		"mean of its valves, on what their photos before and after both show": {valve(1, true, 0.9), valve(2, true, 0.8)},
		"mean of its valves, on all that their photos show":                   {valve(1, true, none), valve(2, true, none)},
		"mean of its valves": {valve(1, true, none), valve(2, true, 0.8)},
		"valve 2, on what its photos before and after both show": {valve(1, false, none), valve(2, true, 0.8)},
		"valve 1, on all that its photos show":                   {valve(1, true, none), valve(2, false, none)},
	} {
		assert.Equal(t, says, m.compared(compare.Cylinder{Valves: valves}))
	}
}

// Growth has an interval like every other figure.
func TestMoreDepositIsToldWithItsInterval(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Visits[0].Photos[0], in.Visits[1].Photos[0] = in.Visits[1].Photos[0], in.Visits[0].Photos[0]
	c := build(t, in).Cylinders[0].Valves[0].Comparison
	assert.Regexp(
		t,
		`dark deposit 1\x{a0}% before, 70\x{a0}% after: 69 points more than before \(95 % interval \d+ to \d+\); index 1 before, 60 after\.$`,
		c.Outcome,
	)
}

func TestForecastClaimsNoSingleMile(t *testing.T) {
	m := build(t, inputOf(t, "before"))
	told := m.forecastText(
		trend.Line{
			Forecast: &trend.Forecast{Grade: 3, Odometer: measure.Figure{Value: 90675, Low: 85169, High: 98221}},
		},
	)
	assert.Contains(t, told, "at about 91,000\u00a0mi (95 % range 85,000\u00a0mi to 98,000\u00a0mi)")
}

// Where no unit is asked for it is that of the last reading, as in compare and trend.
func TestDistancesAreInTheUnitOfTheLastReading(t *testing.T) {
	in := readings(t)
	last := &in.Visits[1].Engine.Inspection.Odometer
	*last = inspection.Odometer{Value: last.In(inspection.Kilometres), Unit: inspection.Kilometres}
	assert.Contains(t, build(t, in).Summary, " over 32,200\u00a0km")
	*last = inspection.Odometer{}
	assert.Equal(t, inspection.Miles, build(t, in).Locale.Unit)
}

// The worst cylinder of one is that one, and is told once.
func TestOneCylinderHasOneHistory(t *testing.T) {
	in := inputOf(t)
	in.Visits = []Source{engineOf(t, 1, 2)}
	earlier := engineOf(t, 1, 2).Engine
	earlier.Inspection.Date, earlier.Inspection.Odometer.Value = earlier.Inspection.Date.AddDate(-1, 0, 0), 30000
	in.History = append(in.History, earlier)
	m := build(t, in)
	require.Len(t, m.SeriesShown(), 1)
	assert.Equal(t, "Cylinder 1", m.SeriesName(m.SeriesShown()[0]))
}

func TestHistoryBringsTheTrend(t *testing.T) {
	in := inputOf(t, "before")
	for n, odometer := range []float64{20000, 30000} {
		earlier := invented(t, "before").Engine
		earlier.Inspection.Odometer.Value = odometer
		earlier.Inspection.Stage = inspection.Routine
		earlier.Inspection.Date = time.Date(2023+n, 1, 1, 0, 0, 0, 0, time.UTC)
		in.History = append(in.History, earlier)
	}
	m := build(t, in)
	require.NotNil(t, m.Trend)
	shown := m.SeriesShown()
	require.NotEmpty(t, shown)
	assert.Len(t, shown[0].Lines[0].Readings, 3)
	assert.NotEmpty(t, m.SeriesSentences(shown[0]))
}

// readings are two of one engine, with 20 000 miles and no cleaning between them.
func readings(t *testing.T) Input {
	t.Helper()
	in := inputOf(t, "after", "before")
	first, second := in.Visits[0].Engine.Inspection, in.Visits[1].Engine.Inspection
	first.Stage = inspection.Routine
	second.Stage, second.Odometer.Value = inspection.Routine, first.Odometer.Value+20000
	second.Date = first.Date.AddDate(2, 0, 0)
	in.Job.Date = second.Date
	return in
}

// Nothing was cleaned between two odometer readings, so that no word may say so, but for common practice and cautions.
func TestTwoReadingsSpeakOfGrowth(t *testing.T) {
	m := build(t, readings(t))
	assert.Equal(t, "Earlier inspection", m.Visits[0].Title)
	assert.Regexp(t, `^Dark deposit \(2 of 4 valves\) grew by 5\d points \(95 % interval \d+ to \d+\) over 20,000\x{a0}mi\.`, m.Summary)
	assert.Equal(t, "Cylinder 1: grade 1 film at the earlier inspection, grade 3 crusted at the later.", m.Cylinders[0].Lines[0])
	c := m.Cylinders[0].Valves[0].Comparison
	assert.Contains(t, c.Outcome, "dark deposit 1\u00a0% earlier, 70\u00a0% later: 69 points more (95 % interval")
	facts := m.ComparisonFacts(c)
	assert.Equal(t, "Dark deposit earlier", facts[0].Name)
	for _, text := range []string{m.Summary, c.Outcome, m.ComparisonTitle(c), m.Between.Residue, m.Between.EngineChartKey, m.Between.Divider} {
		assert.NotRegexp(t, "(?i)clean|before|after|removed|left", text)
	}

	in := readings(t)
	in.Locale = "de-DE"
	assert.Contains(t, build(t, in).Summary, "Dunkle Ablagerung (2 von 4 Ventilen) nahm um 5")
}

// After two cleanings, too, nothing says what lies between but the figures.
func TestTwoCleanedStatesAreTwoReadings(t *testing.T) {
	in := readings(t)
	for _, visit := range in.Visits {
		visit.Engine.Inspection.Stage = inspection.After
	}
	assert.Equal(t, "Later inspection", build(t, in).Visits[1].Title)
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

// A cylinder that is missing must show in the one line that is read.
func TestMissingCylindersAreNamed(t *testing.T) {
	in := inputOf(t, "before", "after")
	i := in.Visits[1].Engine.Inspection
	cylinderOne := []int{}
	for n, p := range i.Photos {
		if p.Cylinder == 1 {
			cylinderOne = append(cylinderOne, n)
		}
	}
	var photos []inspection.Photo
	var records []score.Record
	for _, n := range cylinderOne {
		photos, records = append(photos, i.Photos[n]), append(records, in.Visits[1].Photos[n])
	}
	i.Photos = photos
	in.Visits[1] = sourceOf(t, i, records)
	m := build(t, in)
	assert.Contains(t, m.Summary, "Not graded: cylinder 2 after cleaning.")
	assert.NotContains(t, build(t, inputOf(t, "before", "after")).Summary, "Not graded")
}

func TestAnInspectionAfterTheReportIsDoubted(t *testing.T) {
	in := inputOf(t, "before")
	assert.NotContains(t, strings.Join(build(t, in).Notes, "; "), "after the day of this report")
	in.Job.Date = in.Visits[0].Engine.Inspection.Date.AddDate(0, 0, -1)
	assert.Contains(
		t,
		build(t, in).Notes,
		"the inspection is dated March 14, 2026, after the day of this report: check both dates",
	)
	// East of Greenwich a day begins before it does there.
	in.Job.Date = time.Date(2026, 3, 14, 8, 0, 0, 0, time.FixedZone("Sydney", 10*60*60))
	assert.NotContains(t, strings.Join(build(t, in).Notes, "; "), "after the day of this report")
}

func TestDistancesOfTheScaleInBothUnits(t *testing.T) {
	in := inputOf(t, "before")
	assert.Equal(t, "watch: inspect again in 15,000 to 20,000\u00a0mi", build(t, in).ScaleRows()[2].Practice)
	in.Locale, in.Unit = "en-GB", inspection.Kilometres
	assert.Equal(
		t,
		"watch: inspect again in 15,000 to 20,000\u00a0mi (24,000 to 32,000\u00a0km)",
		build(t, in).ScaleRows()[2].Practice,
	)
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

// What only the workshop can use stays out of the customer's report, and in the document for programs.
func TestCustomersReadNoWorkshopNotes(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Workshop = false
	in.Visits[0].Engine.Notes = []string{"the camera's clock is wrong"}
	in.Visits[0].Engine.Inspection.Assumed = []string{"taken for one valve"}
	m := build(t, in)
	assert.Equal(t, []string{"taken for one valve"}, m.ShownNotes())
	assert.Contains(t, m.Notes, "Before cleaning: the camera's clock is wrong")
	var text, page strings.Builder
	require.NoError(t, m.WriteText(&text))
	require.NoError(t, m.WriteHTML(&page))
	for _, shown := range []string{text.String(), page.String()} {
		assert.Contains(t, shown, "taken for one valve")
		assert.NotContains(t, shown, "clock is wrong")
		assert.NotContains(t, shown, "outline confidence")
	}
	in.Workshop = true
	m = build(t, in)
	assert.Equal(t, m.Notes, m.ShownNotes())
	page.Reset()
	require.NoError(t, m.WriteHTML(&page))
	assert.Contains(t, page.String(), "For the workshop")
	assert.Contains(t, page.String(), "clock is wrong")
}

// What the program says in sentences of its own is German in a German report, in every place.
func TestNotesAreSaidInTheLanguageOfTheReport(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Locale, in.Workshop, in.History = "de-DE", true, []*engine.Engine{in.Visits[0].Engine}
	m := build(t, in)
	require.NotEmpty(t, m.Notes)
	sentences := slices.Concat(m.Notes, m.Trend.Notes)
	for _, s := range m.SeriesShown() {
		sentences = append(sentences, m.SeriesSentences(s)...)
	}
	for _, s := range sentences {
		assert.NotRegexp(t, `\b(the|and|has|is|were|of|a)\b`, s)
	}
	assert.Contains(t, strings.Join(m.Notes, "\n"), "Vor der Reinigung: Zylinder 2 Ventil 1 hat kein Foto, das zu beurteilen war: unscharf")
}

// Each cylinder says in plain words what is to be done now, and why nothing could be compared.
func TestLinesOfACylinderBeforeAndAfter(t *testing.T) {
	in := inputOf(t, "before", "after")
	lines := build(t, in).Cylinders
	assert.Contains(t, lines[0].Lines, "After cleaning: Nothing is to be done: 99\u00a0% likely. Common practice: nothing to do; look again at the next service.")
	assert.Contains(t, lines[1].Lines, "Cylinder 2 was not compared: c2v1.jpg (out of focus): choose another photo of this valve, or retake it if the valve is still as it was; "+
		"the second inspection has no photo of it: photograph every valve at each inspection.")
	in.Locale = "de-DE"
	lines = build(t, in).Cylinders
	assert.Contains(t, lines[0].Lines, "Nach der Reinigung: Es ist nichts zu tun: zu 99\u00a0% wahrscheinlich. Üblich ist: nichts zu tun; beim nächsten Service wieder ansehen.")
	assert.Contains(t, lines[1].Lines, "Zylinder 2 wurde nicht verglichen: c2v1.jpg (unscharf): ein anderes Foto dieses Ventils wählen, oder es neu aufnehmen, wenn das Ventil noch ist, "+
		"wie es war; die zweite Prüfung hat kein Foto davon: jedes Ventil bei jeder Prüfung fotografieren.")
}

// The customer reads what was wrong with a photo; what to do about it, which may be too late after a cleaning, the workshop.
func TestCustomersReadNoAdvice(t *testing.T) {
	for locale, expected := range map[string]struct{ line, refused, advice string }{
		"en-US": {
			"Cylinder 2 was not compared: the photo is out of focus (before cleaning); no photo (after cleaning).",
			"Not compared: the photo is out of focus (before cleaning).",
			"Before cleaning: c2v1.jpg: out of focus: wipe the lens, hold the tip at its focus distance, and retake",
		},
		"de-DE": {
			"Zylinder 2 wurde nicht verglichen: das Foto ist unscharf (vor der Reinigung); kein Foto (nach der Reinigung).",
			"Nicht verglichen: das Foto ist unscharf (vor der Reinigung).",
			"Vor der Reinigung: c2v1.jpg: unscharf: das Objektiv abwischen, die Spitze im Schärfeabstand halten, und neu aufnehmen",
		},
	} {
		in := inputOf(t, "before", "after")
		in.Locale, in.Workshop = locale, false
		m := build(t, in)
		assert.Contains(t, m.Cylinders[1].Lines, expected.line)
		assert.Equal(t, expected.refused, m.Cylinders[1].Valves[0].Comparison.Refused)
		var page, text strings.Builder
		require.NoError(t, m.WriteHTML(&page))
		require.NoError(t, m.WriteText(&text))
		for _, shown := range []string{page.String(), text.String()} {
			assert.NotRegexp(t, "(?i)retake|neu aufnehmen|inspection[.]yaml|by hand, or leave|von Hand setzen", shown)
		}
		assert.Contains(t, m.Advice(), expected.advice)

		in.Workshop = true
		page.Reset()
		m = build(t, in)
		require.NoError(t, m.WriteHTML(&page))
		assert.Regexp(t, "retake|neu aufnehmen", page.String())
		assert.Empty(t, m.Advice(), "the report says so itself")
	}
}

// A photo that was refused takes its valve out of what its cylinder is held against, not only out of the mean.
func TestOneValveIsNeverHeldAgainstAnother(t *testing.T) {
	in := inputOf(t, "before", "after")
	i := in.Visits[0].Engine.Inspection
	records := slices.Clone(in.Visits[0].Photos)
	records[0] = records[0].Refuse(reason.Of(reason.NoValve)) // cylinder 1 valve 1, the worst
	in.Visits[0] = sourceOf(t, i, records)
	in.Workshop = false
	m := build(t, in)
	one, two := m.Cylinders[0], m.Cylinders[1]
	assert.Equal(t, []int{2}, one.Common)
	before, after := one.Valves[1].States[0].Index, one.Valves[1].States[1].Index
	assert.Equal(t, before, one.Readings[0].Index, "valve 2 before")
	assert.Equal(t, after, one.Readings[1].Index, "and valve 2 after")
	assert.Contains(t, one.Lines[0], "Cylinder 1, valve 2: grade ")
	assert.Contains(t, strings.Join(one.Lines, "\n"), "After cleaning: Cylinder 1: grade ", "what all valves say is told beside it")
	assert.Contains(t, m.Summary, " after (1 of 4 valves).")
	assert.Contains(t, m.TableKey(), "graded at both inspections alone: Cylinder 1, valve 2. Cylinder 2: other valves were graded")

	// Of cylinder 2 one valve was graded before and the other after: there is no change to tell.
	assert.NotNil(t, two.Common)
	assert.Empty(t, two.Common)
	assert.NotContains(t, strings.Join(two.Lines, "\n"), "before cleaning, grade")
	text := written(t, m.WriteText)
	assert.Contains(t, text, "\nAfter cleaning: Cylinder 2, valve 2: not graded: no photo.\n")

	in.Locale = "de-DE"
	assert.Contains(t, build(t, in).Summary, "(1 von 4 Ventilen)")
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
	assert.Contains(t, written(t, build(t, in).WriteText), "\nHinweis: Zylinder 2, Ventil 1: die verglichenen Fotos zeigen ihren Namen nach zwei Ventile.\n")
}
