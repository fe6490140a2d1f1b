package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// became is a figure that changed by what two photos can show from so many points on.
func became(before, after, detectable float64) compare.Change {
	d := after - before
	return compare.Change{
		Before: measure.Figure{Value: before}, After: measure.Figure{Value: after}, Detectable: detectable,
		Difference: measure.Figure{Value: d, Low: d - detectable, High: d + detectable},
	}
}

// headlineOf is that of a report on an engine whose valves, and whose cylinders, have become so.
func headlineOf(t *testing.T, language string, cleaned bool, engine compare.Change, cylinders ...compare.Change) string {
	in := inputOf(t, "before", "after")
	in.Locale = language
	m := build(t, in)
	all := func(c compare.Change) compare.Changes { return compare.Changes{Index: became(50, 50, 9), Dark: c} }
	if !cleaned {
		first, second := *m.Change.Before, *m.Change.After
		first.Stage, first.Odometer.Value, second.Odometer.Value = inspection.After, 3000, 45020
		m.Change.Before, m.Change.After, m.Between = &first, &second, m.Texts.Mileage
	}
	m.Change.Changes, m.Change.Verdict = all(engine), engine.Verdict()
	for n, c := range cylinders {
		m.Change.Cylinders[n].Changes, m.Change.Cylinders[n].Verdict = all(c), c.Verdict()
	}
	return strings.ReplaceAll(m.headline(), "\u00a0", " ")
}

func TestHeadlines(t *testing.T) {
	same := became(50, 50, 5)
	for _, told := range []struct {
		english, german string
		cleaned         bool
		engine          compare.Change
		cylinders       [2]compare.Change
	}{
		{
			"The cleaning helped (99 % likely): dark deposit 56 % before, 10 % after (2 of 4 valves).",
			"Die Reinigung hat geholfen (zu 99 % wahrscheinlich): dunkle Ablagerung 56 % vorher, 10 % nachher (2 von 4 Ventilen).",
			true, became(56, 10, 8), [2]compare.Change{became(56, 10, 8), same},
		}, {
			"The cleaning did not help: dark deposit 20 % before, 40 % after (2 of 4 valves), 20 points more than before (95 % interval 14 to 26).",
			"Die Reinigung hat nicht geholfen: dunkle Ablagerung 20 % vorher, 40 % nachher (2 von 4 Ventilen), 20 Punkte mehr als vorher (95-%-Bereich 14 bis 26).",
			true, became(20, 40, 6), [2]compare.Change{same, same},
		}, {
			"Dark deposit (2 of 4 valves) grew by 8 points (95 % interval 2 to 14) over 42,000 mi.",
			"Dunkle Ablagerung (2 von 4 Ventilen) nahm um 8 Punkte zu (95-%-Bereich 2 bis 14) auf 42.000 mi.",
			false, became(20, 28, 6), [2]compare.Change{same, same},
		}, {
			"Dark deposit (2 of 4 valves) fell by 8 points (95 % interval 2 to 14) over 42,000 mi.",
			"Dunkle Ablagerung (2 von 4 Ventilen) nahm um 8 Punkte ab (95-%-Bereich 2 bis 14) auf 42.000 mi.",
			false, became(28, 20, 6), [2]compare.Change{same, same},
		}, {
			"The cleaning helped (99 % likely): dark deposit 56 % before, 10 % after (2 of 4 valves). Cylinder 2: more deposit than before.",
			"Die Reinigung hat geholfen (zu 99 % wahrscheinlich): dunkle Ablagerung 56 % vorher, 10 % nachher (2 von 4 Ventilen). Zylinder 2: mehr Ablagerung als vorher.",
			true, became(56, 10, 8), [2]compare.Change{became(56, 10, 8), became(10, 60, 8)},
		}, {
			"Dark deposit 50 % before, 50 % after (2 of 4 valves): no sure change; only one of more than 5 points of dark deposit or 9 points of the index would be sure. " +
				"Cylinder 1 changed, the mean of all valves did not. " +
				"Cylinder 2 alone would read changed, but of 2 cylinders one does by chance more often than the 5 % that one may.",
			"Dunkle Ablagerung 50 % vorher, 50 % nachher (2 von 4 Ventilen): keine sichere Änderung; sicher wäre erst eine von mehr als 5 Punkten dunkler Ablagerung oder 9 Punkten des Index. " +
				"Zylinder 1: geändert, das Mittel aller Ventile nicht. " +
				"Zylinder 2: für sich allein geändert, aber von 2 Zylindern zeigt das einer durch Zufall öfter als in den 5 %, die einem zustehen.",
			true, same, [2]compare.Change{became(56, 10, 8), became(50, 44, 5.9)},
		},
	} {
		assert.Equal(t, told.english, headlineOf(t, "en-US", told.cleaned, told.engine, told.cylinders[:]...))
		assert.Equal(t, told.german, headlineOf(t, "de-DE", told.cleaned, told.engine, told.cylinders[:]...))
	}
}

func TestHeadlineNamesWhatWasNotCompared(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	assert.Contains(t, m.Summary, "Cylinder 2: not compared; each valve says why.")
	m.Change.Changes, m.Change.Verdict = compare.Changes{}, ""
	for _, c := range []*compare.Change{&m.Change.Index, &m.Change.Dark} {
		c.Difference = measure.Unmeasured()
	}
	assert.Equal(t, "Before and after were not compared; each valve says why. "+
		"Worst cylinder: grade 3 crusted before, grade 1 film after.", m.headline())
	m.Texts, m.Between = &texts.German, texts.German.Cleaning
	assert.Contains(t, m.headline(), "nicht verglichen")
}

// Of one cylinder, and of a photo by itself, there is neither a worst nor a median.
func TestOneCylinderIsNeitherWorstNorMedian(t *testing.T) {
	for language, said := range map[string]string{
		"en-US": `^Grade [0-4] .*, deposit index [0-9.]+ \(95.% interval [0-9.]+ to [0-9.]+\)\.$`,
		"de-DE": `^Grad [0-4] .*, Ablagerungsindex [0-9,]+ \(95-%-Bereich [0-9,]+ bis [0-9,]+\)\.$`,
	} {
		in := inputOf(t, "before")
		in.Locale, in.Visits = language, []Source{engineOf(t, 1, 1)}
		assert.Regexp(t, said, build(t, in).Summary)
		in.Visits = []Source{engineOf(t, 2, 1)}
		assert.Regexp(t, "^(Worst cylinder|Schlechtester Zylinder): ", build(t, in).Summary)
	}
}
