package pdf

import (
	"math"
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
	font          func() *sfnt.Font // read when first asked: most commands write no report

	mu       sync.Mutex // reports may be written at the same time
	buffer   sfnt.Buffer
	advances map[rune]float64
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
	parsed := sync.OnceValue(func() *sfnt.Font {
		font, err := sfnt.Parse(data)
		if err != nil {
			panic(err) // the files are constant and tested
		}
		return font
	})
	return &face{family: family, style: style, data: data, font: parsed, advances: map[rune]float64{}}
}

// has reports whether the face can show the character.
func (f *face) has(r rune) bool { return !math.IsNaN(f.advance(r)) }

// advance is how far a character moves the next one, in units of the type size, NaN when the face cannot show it.
func (f *face) advance(r rune) float64 {
	f.mu.Lock()
	defer f.mu.Unlock()
	known, ok := f.advances[r]
	if !ok {
		known = f.measure(r)
		f.advances[r] = known
	}
	return known
}

func (f *face) measure(r rune) float64 {
	glyph, err := f.font().GlyphIndex(&f.buffer, r)
	if err != nil || glyph == 0 || r >= 0xffff { // where the document's format for embedded fonts ends
		return math.NaN()
	}
	em := fixed.I(int(f.font().UnitsPerEm()))
	advance, err := f.font().GlyphAdvance(&f.buffer, glyph, em, font.HintingNone)
	if err != nil {
		return math.NaN()
	}
	return float64(advance) / float64(em)
}
