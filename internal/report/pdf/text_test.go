package pdf

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestPrepareMakesOneHarmlessLine(t *testing.T) {
	lost := map[rune]bool{}
	assert.Equal(t, "a b c", prepare(" a\r\n\tb \u202ec\x00\x1b", lost))
	assert.Equal(t, "é", prepare("e\u0301", lost), "composed, since marks are not placed one by one")
	assert.Equal(t, "12\u00a0%", prepare("12\u00a0%", lost), "figures keep their units on the line")
	assert.Equal(t, "Ελλάδα, Фургон, Հայ, ქართ, םולש", prepare("Ελλάδα, Фургон, Հայ, ქართ, םולש", lost))
	assert.Empty(t, lost)
	assert.Equal(t, "?5 ?", prepare("車5 \U0001f697\ufe0f", lost), "shown by no face, or beyond what the format holds")
	assert.Equal(t, map[rune]bool{'車': true, '\U0001f697': true}, lost)
}

func TestEveryPreparedCharacterHasAGlyph(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := prepare(rapid.String().Draw(t, "text"), map[rune]bool{})
		for _, faces := range [][]*face{regular, bold} {
			for _, s := range spans(visual(text, directionOf(text)), faces) {
				for _, r := range s.text {
					if r != ' ' && !s.face.has(r) {
						t.Fatalf("%q has no glyph for %U", s.face.family, r)
					}
				}
			}
		}
	})
}

func TestWrapLosesNothingAndKeepsTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := prepare(rapid.StringMatching(`[a-zA-Zא-ת0-9,. ]{0,80}`).Draw(t, "text"), map[rune]bool{})
		width := rapid.Float64Range(2, 30).Draw(t, "width")
		lines := wrap(text, regular, width)
		for _, l := range lines {
			if widthOf(l, regular) > width {
				t.Fatalf("%q is wider than %.2f", l, width)
			}
		}
		without := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if without(strings.Join(lines, "")) != without(text) {
			t.Fatalf("%q became %q", text, lines)
		}
	})
}

func TestShortenedLineEndsWithAnEllipsis(t *testing.T) {
	whole := strings.Repeat("W", 50)
	short := shorten(whole, bold, 10)
	assert.True(t, strings.HasSuffix(short, "W…"))
	assert.LessOrEqual(t, widthOf(short, bold), 10.0)
	assert.Equal(t, "W", shorten("W", bold, 10))
}

// Advance widths of Liberation Sans are those of the fonts it stands in for: 667 of 1000 for A, 278 for the space, 556
// for a digit (Adobe Core 14 AFM files, Helvetica).
func TestWidthsOfLetters(t *testing.T) {
	for letter, want := range map[string]float64{"A": 0.667, " ": 0.278, "7": 0.556} {
		assert.InDelta(t, want, widthOf(letter, regular), 0.0005, "AFM files give three decimals: %q", letter)
	}
}
