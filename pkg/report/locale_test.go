package report

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Separators are those of the Unicode Common Locale Data Repository.
func TestNumbersAndDatesByRegion(t *testing.T) {
	moments := map[string]string{"en-US": "March 9, 2026, 2:05\u00a0PM", "en-GB": "9 March 2026, 14:05", "en-CA": "9 March 2026, 2:05\u00a0PM",
		"de-DE": "9. März 2026, 14:05"}
	for tag, moment := range moments {
		words, _ := texts.For(tag)
		l, err := NewLocale(tag, words, inspection.Miles)
		require.NoError(t, err)
		assert.Equal(t, moment, l.Moment("2026-03-09T14:05:33"))
		assert.Equal(t, "not said", l.Moment("not said"))
	}
	day := time.Date(2026, 3, 9, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct{ tag, number, date, far string }{
		{"en-US", "1,234.5", "March 9, 2026", "45,210\u00a0mi"},
		{"en-GB", "1,234.5", "9 March 2026", "45,210\u00a0mi"},
		{"de-DE", "1.234,5", "9 March 2026", "45.210\u00a0mi"},
		{"fr-FR", "1\u00a0234,5", "9 March 2026", "45\u00a0210\u00a0mi"},
	} {
		l, err := NewLocale(c.tag, &texts.English, inspection.Miles)
		require.NoError(t, err)
		assert.Equal(t, c.number, l.Number(1234.5, 1), c.tag)
		assert.Equal(t, c.date, l.Date(day), c.tag)
		assert.Equal(t, c.far, l.Distance(inspection.Odometer{Value: 45210, Unit: inspection.Miles}), c.tag)
	}
	_, err := NewLocale("no such tag", &texts.English, inspection.Miles)
	assert.EqualError(t, err, `locale "no such tag" is not a language tag such as en-GB`)
}

func TestNumbersRoundAndMissOutTheUnmeasured(t *testing.T) {
	l, err := NewLocale("en-US", &texts.English, inspection.Kilometres)
	require.NoError(t, err)
	assert.Equal(t, "0.3", l.Number(0.25, 1), "halves away from zero, as everywhere in the program")
	assert.Equal(t, "0.0", l.Number(-0.01, 1), "no minus zero")
	assert.Equal(t, "–", l.Number(math.NaN(), 1))
	assert.Equal(t, "–", l.Percent(math.NaN()))
	assert.Equal(t, "–", l.Range(measure.Unmeasured(), 1))
	assert.Equal(t, "28.0 to 41.3", l.Range(measure.Figure{Value: 34, Low: 28, High: 41.26}, 1))
	assert.Equal(t, "12\u00a0%", l.Share(0.123))
	// 100 mi are 160.9344 km.
	assert.Equal(t, "161\u00a0km", l.Distance(inspection.Odometer{Value: 100, Unit: inspection.Miles}))
}

func TestPaperByRegion(t *testing.T) {
	for tag, paper := range map[string]Paper{"en-US": Letter, "es-MX": Letter, "en-GB": A4, "de-DE": A4} {
		l, err := NewLocale(tag, &texts.English, inspection.Miles)
		require.NoError(t, err)
		assert.Equal(t, paper, l.Paper(), tag)
	}
}
