package region

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTidyOnTheGrid(t *testing.T) {
	cases := map[string]struct {
		before, after []string
	}{
		"nothing": {[]string{"....", "...."}, []string{"....", "...."}},
		"specks go": {
			[]string{"h.....hhhh", "......hhhh", ".h....hhhh", "......hhhh"},
			[]string{"......hhhh", "......hhhh", "......hhhh", "......hhhh"},
		},
		"another valve goes": {
			[]string{"hh....hhhh", "hh....hhhh", "......hhhh", "......hhhh"},
			[]string{"......hhhh", "......hhhh", "......hhhh", "......hhhh"},
		},
		"touching at a corner is one valve": {
			[]string{"hhh....", "hhh....", "hhh....", "...hhh.", "...hhh."},
			[]string{"hhh....", "hhh....", "hhh....", "...hhh.", "...hhh."},
		},
		"a hole is filled": {
			[]string{".hhhhhh.", ".hhhhhh.", ".hhh.hh.", ".hhhhhh.", ".hhhhhh."},
			[]string{".hhhhhh.", ".hhhhhh.", ".hhhhhh.", ".hhhhhh.", ".hhhhhh."},
		},
		"a bay is no hole": {
			[]string{".hhhhhh.", ".hhhhhh.", ".hhhhh..", ".hhhhhh.", ".hhhhhh."},
			[]string{".hhhhhh.", ".hhhhhh.", ".hhhhh..", ".hhhhhh.", ".hhhhhh."},
		},
		"a large hole stays: something stands before the valve": {
			[]string{"hhhhhh", "hh..hh", "hh..hh", "hhhhhh"},
			[]string{"hhhhhh", "hh..hh", "hh..hh", "hhhhhh"},
		},
		"stem in the head": {
			[]string{".ss.....", ".sshhhh.", "hssshhhh", "hhhhhshh", "hhhhhhhh"},
			[]string{".ss.....", ".sshhhh.", "hssshhhh", "hhhhhhhh", "hhhhhhhh"},
		},
		"head in the stem": {
			[]string{".sss....", ".shs....", ".sss....", "hhhhhhhh", "hhhhhhhh"},
			[]string{".sss....", ".sss....", ".sss....", "hhhhhhhh", "hhhhhhhh"},
		},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p := propose(grid(c.before...))
			p.tidy()
			assert.Equal(t, c.after, p.text())
		})
	}
}

func TestTidyKeepsTheNetsEvidence(t *testing.T) {
	e := grid("hh....hhhh", "hh....hhhh", "......hhhh", "......hhhh")
	before := append([]float32(nil), e.Region[Head]...)
	propose(e).tidy()
	assert.Equal(t, before, e.Region[Head])
}

// proposalOf makes a proposal whose cells are one pixel of the mask each.
func proposalOf(mask *image.Gray) *proposal {
	e := &Evidence{Cols: mask.Rect.Dx(), Rows: mask.Rect.Dy(), CellWidth: 4, CellHeight: 4}
	for k := range e.Region {
		e.Region[k] = make([]float32, e.Cols*e.Rows)
		for i, label := range mask.Pix {
			if int(label) == k {
				e.Region[k][i] = 6
			}
		}
	}
	return propose(e)
}

func TestTidyRejoinsWhatAToolCutsOff(t *testing.T) {
	mask := (&Marks{Head: Ellipse{80, 66, 50, 34, 10}, Stem: &Line{84, 0, 81, 50, 12}}).draw(160, 120)
	whole := propose(proposalOf(mask).Evidence).label
	for y := 0; y < 120; y++ { // a probe across the lower right of the head
		for x := 100; x < 106; x++ {
			mask.Pix[y*mask.Stride+x] = Background
		}
	}
	p := proposalOf(mask)
	assert.Equal(t, 2, p.valveParts())
	head := p.tidy()
	require.NotNil(t, head)
	assert.Equal(t, 2, p.valveParts())
	assert.InDelta(
		t,
		6.0/100,
		1-float64(p.count(Head))/float64(countOf(whole, Head)),
		0.04,
		"only what the probe hides is missing",
	)
}

func (p *proposal) valveParts() int {
	return len(p.parts(func(label uint8) bool { return label != Background }, true))
}

func countOf(labels []uint8, label uint8) int {
	n := 0
	for _, l := range labels {
		if l == label {
			n++
		}
	}
	return n
}

func TestTidyTrimsFarStrays(t *testing.T) {
	truth := &Marks{Head: Ellipse{70, 70, 40, 30, 0}, Stem: &Line{70, 2, 70, 60, 10}}
	clean, strays := truth.draw(160, 120), truth.draw(160, 120)
	for y := 68; y < 72; y++ { // a reflection hanging on the rim
		for x := 110; x < 150; x++ {
			strays.Pix[y*strays.Stride+x] = Head
		}
	}
	p := proposalOf(strays)
	fitted := p.tidy()
	require.NotNil(t, fitted)
	assertEllipse(
		t,
		truth.Head,
		Ellipse{(fitted.X - 1.5) / 4, (fitted.Y - 1.5) / 4, fitted.A / 4, fitted.B / 4, fitted.Angle},
		0.6,
		"cells, from a mask of whole cells",
	)
	near := (strayLevel - 1) * truth.Head.A * 4 // rows of the stray that lie between the rim and the limit stay
	assert.InDelta(t, countOf(clean.Pix, Head), p.count(Head), near+12)
	assert.Equal(t, Background, p.label[70*160+140])
}

func TestTidyKeepsTheFillet(t *testing.T) {
	// Seen from the side, the fillet rises along the stem to well over the limit for strays.
	fillet := (&Marks{Head: Ellipse{80, 90, 50, 20, 0}, Stem: &Line{80, 30, 80, 90, 26}}).draw(160, 120)
	stem := (&Marks{Head: Ellipse{-99, -99, 2, 2, 0}, Stem: &Line{80, 4, 80, 36, 14}}).draw(160, 120)
	for i, label := range stem.Pix {
		switch {
		case label == Stem:
			fillet.Pix[i] = Stem
		case fillet.Pix[i] == Stem:
			fillet.Pix[i] = Head
		}
	}
	p := proposalOf(fillet)
	before := append([]uint8(nil), p.label...)
	head := p.tidy()
	require.NotNil(t, head)
	require.Greater(t, head.Level(Point{4 * 75, 4 * 40}), strayLevel)
	changed := 0
	for i, label := range p.label {
		if label != before[i] {
			changed++
		}
	}
	assert.LessOrEqual(t, changed, 12, "the cells at its corners, which smoothing rounds")
}
