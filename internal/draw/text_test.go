package draw

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestWrapKeepsEveryWordWithinTheWidth(t *testing.T) {
	p := newPen(regular(), 14, ink)
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-z%:,]{1,12}`)).Draw(t, "words")
		width := rapid.IntRange(120, 600).Draw(t, "width")
		lines := p.wrap(strings.Join(words, " "), width)
		for _, line := range lines {
			if p.width(line) > width {
				t.Fatalf("%q is wider than %d", line, width)
			}
		}
		if got := strings.Join(lines, " "); got != strings.Join(words, " ") {
			t.Fatalf("%q became %q", words, got)
		}
	})
}

func TestFitKeepsBothEndsOfAName(t *testing.T) {
	p := newPen(regular(), 14, ink)
	name := strings.Repeat("a", 100) + "ß" + strings.Repeat("é", 100) + "-left.jpg"
	got := p.fit(name, 200)
	assert.LessOrEqual(t, p.width(got), 200)
	assert.True(t, strings.HasPrefix(got, "aaa"))
	assert.True(t, strings.HasSuffix(got, "left.jpg"))
	assert.True(t, utf8.ValidString(got))
	assert.Equal(t, "short.jpg", p.fit("short.jpg", 200))
}
