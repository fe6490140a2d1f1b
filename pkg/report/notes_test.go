package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

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

// Days in notes are written as days beside them are, in English by region.
func TestDaysInNotesAreInWords(t *testing.T) {
	for locale, want := range map[string]string{
		"en-US": "the inspection is of March 16, 2026, but", "en-GB": "the inspection is of 16 March 2026, but", "de-DE": "die Prüfung ist vom 16. März 2026, aber",
	} {
		in := inputOf(t, "before")
		in.Locale = locale
		in.Visits[0].Engine.Notes = []string{`the inspection is of 2026-03-16, but by the camera's clock "a.jpg" was taken on 2026-03-20 ` +
			`(1 of 4 photos lie more than a day apart): check both dates`}
		notes := strings.Join(build(t, in).Notes, "\n")
		assert.Contains(t, notes, want, locale)
		assert.NotContains(t, notes, "2026-03", locale)
	}
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
