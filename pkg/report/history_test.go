package report

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

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

func TestDistancesOfTheScaleInTheUnitOfTheReport(t *testing.T) {
	in := inputOf(t, "before")
	assert.Equal(t, "watch: inspect again in 15,000 to 20,000\u00a0mi", build(t, in).ScaleRows()[2].Practice)
	in.Locale, in.Unit = "en-GB", inspection.Kilometres
	assert.Equal(t, "watch: inspect again in 24,000 to 32,000\u00a0km", build(t, in).ScaleRows()[2].Practice)
}
