package draw

import (
	"image"
	"image/color"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// The fonts are part of the program, so that an overlay looks the same everywhere.
var (
	regular = sync.OnceValue(func() *opentype.Font { return mustParse(goregular.TTF) })
	bold    = sync.OnceValue(func() *opentype.Font { return mustParse(gobold.TTF) })
)

// mustParse panics on a damaged font, which only a damaged program can have.
func mustParse(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("draw: " + err.Error())
	}
	return f
}

// pen writes text of one font, size and colour. It is for one goroutine: faces cache glyphs.
type pen struct {
	face   font.Face
	colour color.RGBA
	// ascent is the height of capitals above the base line, line the distance between base lines, in pixels.
	ascent, line int
}

func newPen(f *opentype.Font, size float64, c color.RGBA) *pen {
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("draw: " + err.Error()) // only for a size that is no number
	}
	m := face.Metrics()
	return &pen{face: face, colour: c, ascent: m.CapHeight.Ceil(), line: (m.Height * 5 / 4).Ceil()}
}

// width returns how wide the text is, in pixels.
func (p *pen) width(text string) int { return font.MeasureString(p.face, text).Ceil() }

// write puts the text with its base line at (x, y) and returns the x behind it.
func (p *pen) write(dst *image.RGBA, x, y int, text string) int {
	d := font.Drawer{Dst: dst, Src: image.NewUniform(p.colour), Face: p.face, Dot: fixed.P(x, y)}
	d.DrawString(text)
	return d.Dot.X.Ceil()
}

// wrap breaks the text at spaces into lines no wider than width; a single word that is wider is cut short.
func (p *pen) wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && p.width(longer) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	lines = append(lines, line)
	for i := range lines {
		lines[i] = p.fit(lines[i], width)
	}
	return lines
}

// fit shortens the text in its middle until it is no wider than width, so that both ends of a file name stay readable.
// Accents that stand apart, as some systems write names, are put onto their letters: the face has no others.
func (p *pen) fit(text string, width int) string {
	text = norm.NFC.String(text)
	runes := []rune(text)
	for keep := len(runes); p.width(text) > width && keep > 2; keep-- {
		text = string(runes[:keep/2]) + "…" + string(runes[len(runes)-(keep-1)/2:])
	}
	return text
}
