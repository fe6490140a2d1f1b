package pdf

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// hebrew turns capitals into Hebrew letters, so that tests can be written as Unicode Standard Annex 9 writes its
// examples.
func hebrew(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return 'א' + r - 'A'
		}
		return r
	}, text)
}

// Rows with a source are examples of Unicode Standard Annex 9, section 3.4 (rule L2); the others follow from its rules
// W1 to L2.
func TestLinesStandInVisualOrder(t *testing.T) {
	for _, c := range []struct{ line, direction, want string }{
		{"car means CAR.", leftToRight, "car means RAC."}, // annex 9, example 1
		{"CAR MEANS car.", rightToLeft, ".car SNAEM RAC"}, // annex 9, example 2, written with the paragraph's direction
		{"he said \"IT IS 123, 456, OK\".", leftToRight, "he said \"KO ,456 ,123 SI TI\"."},
		{"HOUSE 12 abc", leftToRight, "12 ESUOH abc"},
		{"HOUSE 12 abc", rightToLeft, "abc 12 ESUOH"},
		{"(CAR) 7", rightToLeft, "7 (RAC)"},
		{"12 abc", leftToRight, "12 abc"},
		{"", leftToRight, ""},
	} {
		assert.Equal(t, hebrew(c.want), visual(hebrew(c.line), c.direction), c.line)
	}
}

// The first strong character gives a paragraph its direction: annex 9, rules P2 and P3.
func TestDirectionOfAParagraph(t *testing.T) {
	for text, want := range map[string]string{
		"12 car": leftToRight, hebrew("12 CAR car"): rightToLeft, "": leftToRight, "12": leftToRight, "سيارة 17": rightToLeft,
	} {
		assert.Equal(t, want, directionOf(text), text)
	}
}
