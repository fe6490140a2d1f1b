package pdf

import (
	"sync"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is one font file. Layout measures with it; the document embeds the glyphs that were used.
type face struct {
	family, style string
	data          []byte

	mu     sync.Mutex // reports may be written at the same time
	font   *sfnt.Font
	buffer sfnt.Buffer
}

// The faces in the order in which they are asked for a character.
var (
	regular = []*face{
		newFace("Liberation Sans", "", liberationsansregular.TTF),
		newFace("DejaVu Sans Condensed", "", dejavusanscondensed.TTF),
	}
	bold = []*face{
		newFace("Liberation Sans", "B", liberationsansbold.TTF),
		newFace("DejaVu Sans Condensed", "B", dejavusanscondensedbold.TTF),
	}
)

func newFace(family, style string, data []byte) *face {
	parsed, err := sfnt.Parse(data)
	if err != nil {
		panic(err) // the files are constant and tested
	}
	return &face{family: family, style: style, data: data, font: parsed}
}

// has reports whether the face can show the character. The document's format for embedded fonts ends with U+FFFF.
func (f *face) has(r rune) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	glyph, err := f.font.GlyphIndex(&f.buffer, r)
	return err == nil && glyph != 0 && r < 0xffff
}

// width of a text in units of the type size.
func (f *face) width(text string) float64 {
	f.mu.Lock()
	defer f.mu.Unlock()
	em := int(f.font.UnitsPerEm())
	var sum fixed.Int26_6
	for _, r := range text {
		glyph, err := f.font.GlyphIndex(&f.buffer, r)
		if err != nil {
			continue
		}
		if advance, err := f.font.GlyphAdvance(&f.buffer, glyph, fixed.I(em), font.HintingNone); err == nil {
			sum += advance
		}
	}
	return float64(sum) / 64 / float64(em)
}
