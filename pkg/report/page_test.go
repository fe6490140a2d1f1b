package report

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

// fullPage has everything that a page can have: before and after, a residue map, history, a refused photo, an absent
// one, a missing valve, a logo, odd names.
func fullPage(t *testing.T) string {
	t.Helper()
	in := fullInput(t, "before", "after")
	m := build(t, in)
	m.Cylinders[0].Valves[0].Comparison.Map = speckled(t, 2)
	m.Cylinders[0].Valves[0].Comparison.Left = []Residue{{"rim", 12.5}, {"4 o'clock", 20}}
	return written(t, m.WriteHTML)
}

func fullInput(t *testing.T, names ...string) Input {
	t.Helper()
	in := inputOf(t, names...)
	in.Shop.Logo, in.Job.Customer, in.Job.Remarks = speckled(t, 1), "سيارة <b>", "second look\nbelt worn"
	in.Visits[0].Pictures[3].Plain, in.Visits[0].Pictures[3].Absent = nil, "The photo was not found."
	for n, odometer := range []float64{20000, 30000} {
		earlier := invented(t, "before").Engine
		earlier.Inspection.Odometer.Value, earlier.Inspection.Stage = odometer, inspection.Routine
		earlier.Inspection.Date = time.Date(2023+n, 1, 1, 0, 0, 0, 0, time.UTC)
		in.History = append(in.History, earlier)
	}
	return in
}

func TestPageInABrowser(t *testing.T) {
	chromium := browser(t)
	both := fullPage(t)
	one := written(t, build(t, fullInput(t, "before")).WriteHTML)
	for name, text := range map[string]string{"one": one, "both": both} {
		t.Run("quiet/"+name, func(t *testing.T) { staysQuiet(t, open(t, chromium, text, 1200, 900)) })
		t.Run("rules/"+name, func(t *testing.T) { keepsAccessibilityRules(t, open(t, chromium, text, 1200, 900)) })
		t.Run("phone/"+name, func(t *testing.T) {
			b := open(t, chromium, text, 360, 740)
			assert.LessOrEqual(
				t,
				eval[int](t, b, "document.documentElement.scrollWidth"),
				360,
				"nothing sticks out to the side",
			)
			assert.Zero(
				t,
				eval[int](
					t,
					b,
					"(e => e.scrollWidth - e.clientWidth)(document.querySelector('.stacked').parentElement)",
				),
				"the result needs no scrolling to the side",
			)
			assert.Contains(t, eval[string](t, b, "document.querySelector('.remarks').innerText"), "second look\nbelt worn", "its lines are kept")
			keepsAccessibilityRules(t, b)
		})
		t.Run("print/"+name, func(t *testing.T) { printsWell(t, open(t, chromium, text, 1200, 900)) })
	}
	t.Run("tablet", func(t *testing.T) { resultFits(t, chromium) })
	t.Run("larger", func(t *testing.T) { mapEnlarges(t, open(t, chromium, both, 360, 740)) })
	t.Run("divider", func(t *testing.T) { dividerMoves(t, open(t, chromium, both, 1200, 900)) })
	t.Run("marks", func(t *testing.T) { marksGoAway(t, open(t, chromium, one, 1200, 900)) })
}

// resultFits: in the language of the longest words the result needs no scrolling to the side, whatever the width of the
// window, and what is in brackets stands on one line.
func resultFits(t *testing.T, chromium context.Context) {
	in := fullInput(t, "before", "after")
	in.Locale = "de-DE"
	b := open(t, chromium, written(t, build(t, in).WriteHTML), 1200, 900)
	for _, width := range []int64{360, 640, 641, 768, 800, 896, 897, 960, 1024, 1087, 1089} {
		b.do(t, chromedp.EmulateViewport(width, 900))
		assert.Zero(t, eval[int](t, b, "(e => e.scrollWidth - e.clientWidth)(document.querySelector('.stacked').parentElement)"), "at %d", width)
	}
	assert.Regexp(t, `^\d+.% \(\d+\x{a0}bis\x{a0}\d+\)$`, eval[string](t, b, "document.querySelector('.stacked td.number').innerText"))
}

// staysQuiet: no complaint of the browser, such as a breach of the content policy, and no request but for the page.
func staysQuiet(t *testing.T, b *tab) {
	assert.Zero(
		t,
		eval[int](t, b, "[...document.images].filter(i => !i.complete || i.naturalWidth === 0).length"),
		"every picture shows",
	)
	problems, requests := b.heard()
	assert.Empty(t, problems)
	assert.Len(t, requests, 1)

	// The policy must be able to complain: it forbids what is not the page's own.
	eval[bool](t, b, "document.body.append(Object.assign(new Image, {src: 'https://example.org/spy.png'})) || true")
	require.Eventually(
		t,
		func() bool { problems, _ := b.heard(); return len(problems) > 0 },
		5*time.Second,
		20*time.Millisecond,
	)
}

// keepsAccessibilityRules runs the rules of axe-core 4.14.1.
func keepsAccessibilityRules(t *testing.T, b *tab) {
	checker, err := os.ReadFile("testdata/axe-core/axe.min.js")
	require.NoError(t, err)
	eval[chromedp.Void](t, b, string(checker))
	result := eval[struct {
		Passes int      `json:"passes"`
		Broken []string `json:"broken"`
	}](t, b, `axe.run().then(r => ({passes: r.passes.length, broken: r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html).slice(0, 3).join(' | '))}))`)
	assert.Greater(t, result.Passes, 20, "the checker did run")
	assert.Empty(t, result.Broken)
}

// printsWell: before and after stand side by side, controls are gone, the signature line is there.
func printsWell(t *testing.T, b *tab) {
	paper, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPrintBackground()))
	require.NoError(t, err)
	sheets := printed(t, paper)
	assert.Greater(t, len(sheets), 2)
	for _, sheet := range sheets {
		lines := strings.Split(strings.TrimSpace(sheet), "\n")
		assert.NotRegexp(
			t,
			`^(Before and after,|\w+\.jpg)`,
			lines[0],
			"what belongs to a valve stands below its heading",
		)
		assert.NotRegexp(t, `^(Cylinder|Valve) \d+$`, lines[len(lines)-1], "and a heading above what it heads")
	}
	assert.Regexp(t, `Signature\s*\n\s*Written by`, sheets[len(sheets)-1])
	call(t, b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	assert.Zero(
		t,
		eval[int](t, b, "[...document.querySelectorAll('input, .handle')].filter(e => e.offsetParent).length"),
	)
	assert.Positive(t, eval[int](t, b, "document.querySelector('.signature').offsetHeight"))
	for _, gap := range eval[[]float64](t, b, `[...document.querySelectorAll('.pair')].map(p =>
		p.querySelector('.after').getBoundingClientRect().left - p.querySelector('.before').getBoundingClientRect().right)`) {
		assert.Positive(t, gap)
	}
}

// printed returns the text of each page, laid out as on paper, read with Poppler.
func printed(t *testing.T, paper []byte) []string {
	t.Helper()
	reader := exec.Command("pdftotext", "-layout", "-", "-")
	reader.Stdin = bytes.NewReader(paper)
	text, err := reader.Output()
	require.NoError(t, err, "is Poppler installed? scripts/install-deps.sh --tests")
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// dividerMoves with mouse, touch and keyboard, and always as far as the input.
func dividerMoves(t *testing.T, b *tab) {
	b.do(t, chromedp.ScrollIntoView(chromedp.CSS(".slider")))
	box := eval[struct{ X, Y, Width, Height float64 }](
		t,
		b,
		"(r => ({X: r.x, Y: r.y, Width: r.width, Height: r.height}))(document.querySelector('.pair').getBoundingClientRect())",
	)
	x := func(share float64) float64 { return box.X + share*box.Width }
	y := box.Y + box.Height/2
	at := func() float64 {
		return eval[float64](
			t,
			b,
			"parseFloat(getComputedStyle(document.querySelector('.slider')).getPropertyValue('--at'))",
		)
	}
	require.Equal(t, 50.0, at())
	// 4 %: a range input leaves half a thumb free at each end, so the divider runs a little ahead of the input.
	const close = 4

	b.do(t, chromedp.DragAndDropXY(x(0.5), y, x(0.2), y))
	assert.InDelta(t, 20, at(), close, "mouse")
	assert.Contains(
		t,
		eval[string](t, b, "getComputedStyle(document.querySelector('.after')).clipPath"),
		"inset(0px 0px 0px ",
	)

	b.touch(t, input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x(0.2), Y: y})
	b.touch(t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x(0.6), Y: y})
	b.touch(t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x(0.8), Y: y})
	b.touch(t, input.DispatchTouchEventTypeTouchEnd)
	assert.InDelta(t, 80, at(), close, "touch")

	before := at()
	b.do(
		t,
		chromedp.Focus(chromedp.CSS(".slider input")),
		chromedp.KeyEvent(kb.ArrowLeft),
		chromedp.KeyEvent(kb.ArrowLeft),
	)
	assert.Equal(t, before-2, at(), "keyboard")
	b.do(t, chromedp.KeyEvent(kb.Home))
	assert.Equal(t, 0.0, at())
	assert.Equal(t, "0 %", eval[string](t, b, "document.querySelector('.slider input').getAttribute('aria-valuetext')"))
}

// marksGoAway: what was measured can be hidden to see the metal.
func marksGoAway(t *testing.T, b *tab) {
	seen := func() bool { return eval[bool](t, b, "document.querySelector('.marked').offsetParent !== null") }
	require.True(t, seen())
	b.do(t, chromedp.Click(chromedp.CSS(".show-marks")))
	assert.False(t, seen())
}

// mapEnlarges: on a phone the residue map can be shown at a size at which its letters can be read, scrolled within its
// own frame.
func mapEnlarges(t *testing.T, b *tab) {
	width := func() int { return eval[int](t, b, "document.querySelector('.residue img').offsetWidth") }
	require.Less(t, width(), 360)
	b.do(t, chromedp.Click(chromedp.CSS(".show-larger")))
	assert.Greater(t, width(), 600)
	assert.LessOrEqual(t, eval[int](t, b, "document.documentElement.scrollWidth"), 360)
}

func TestPageOfSixteenPhotosIsSmall(t *testing.T) {
	in := inputOf(t)
	in.Visits = []Source{engineOf(t, 8, 2)}
	page := written(t, build(t, in).WriteHTML)
	assert.Less(t, len(page), 3_000_000)
	assert.Equal(t, 32, strings.Count(page, `src="data:image/jpeg`), "each photo, plain and marked")
}

func TestPageNamesNothingToLoad(t *testing.T) {
	page := fullPage(t)
	for _, trace := range []string{`src="http`, `href="http`, "@import", "url(", "<link rel=\"stylesheet\"", "<iframe", "<object", "on" + "load="} {
		assert.NotContains(t, page, trace)
	}
	assert.Contains(t, page, "default-src &#39;none&#39;")
}
