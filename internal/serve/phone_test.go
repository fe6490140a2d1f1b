package serve

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A small screen held in either way: nothing lies under something else, and nothing is cut.
func aPhoneIsEnough(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "then"), "before")
	whole(t, filepath.Join(dir, "now"), "after")
	marks := "head: {centre: [320, 240], axes: [200, 190], angle: 0}\nstem: {from: [320, 20], to: [322, 236], width: 80}\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "now", "a.marks.yaml"), []byte(marks), 0o644))
	_, server := start(t, dir, Options{})

	b := visit(t, chromium, server.URL+"/#/now/photo/a.jpg", 390, 844, "light")
	b.button(t, "Outline by hand")
	b.until(t, "document.querySelector('.stage img')?.complete && document.querySelector('.handle.foot')")
	eval[any](t, b, "new Promise((later) => setTimeout(later, 300))")
	x, y := b.middle(t, ".handle.head")
	footX, footY := b.middle(t, ".handle.foot")
	assert.Greater(t, (x-footX)*(x-footX)+(y-footY)*(y-footY), 40.0*40, "the handle of the whole outline lies free")
	ellipse := "Number(document.querySelector('.stage ellipse.line').getAttribute('cx'))"
	before := eval[float64](t, b, ellipse)
	scale := eval[float64](t, b, "640 / document.querySelector('.stage').getBoundingClientRect().width")
	b.touch(t, input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	b.touch(t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 20, Y: y})
	b.until(t, fmt.Sprintf("%s > %f", ellipse, before+1))
	b.touch(t, input.DispatchTouchEventTypeTouchEnd)
	assert.InDelta(t, before+20*scale, eval[float64](t, b, ellipse), 1.5, "head and stem move with it")
	after, _ := b.middle(t, ".handle.foot")
	assert.InDelta(t, footX+20, after, 1.5)

	b.speak(t, "de")
	eval[any](t, b, "void (location.hash = '#/now/compare')")
	b.button(t, "Vergleichen")
	b.until(t, "document.querySelector('.changes')")
	assert.LessOrEqual(t, eval[int](t, b, "(e => e.scrollWidth - e.clientWidth)(document.querySelector('.scroll'))"), 0, "the table fits")
	eval[any](t, b, "void (location.hash = '#/now/report')")
	b.button(t, "Text")
	b.until(t, "document.querySelector('.reporting .work a[download]')?.innerText.endsWith('.txt')")

	wide := visit(t, chromium, server.URL+"/#/now/photo/b.jpg", 844, 390, "light")
	wide.until(t, "document.querySelector('.picture img')?.complete && document.querySelector('.panel')")
	assert.Equal(t, []bool{true, true}, eval[[]bool](t, wide, `(() => {
		const [photo, panel] = ['.picture', '.panel'].map((e) => document.querySelector(e).getBoundingClientRect());
		return [photo.right <= panel.left + 1, photo.height > 0.8 * innerHeight];
	})()`), "the photo has the height of a phone on its side, and the words stand beside it")
	wide.quiet(t)
}
