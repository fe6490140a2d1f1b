package serve

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// view is where the picture that is worked on lies in its table, and how large it is.
func (b *tab) view(t *testing.T) (x, y, zoom float64) {
	t.Helper()
	at := eval[[]float64](t, b, "(m => [m.e, m.f, m.a])(new DOMMatrix(getComputedStyle(document.querySelector('.stage')).transform))")
	return at[0], at[1], at[2]
}

// pinch puts two fingers down at a distance and moves both, in steps as fingers do.
func (b *tab) pinch(t *testing.T, x, y, apart, thenX, thenY, thenApart float64) {
	t.Helper()
	points := func(share float64) []*input.TouchPoint {
		mx, my, half := x+(thenX-x)*share, y+(thenY-y)*share, (apart+(thenApart-apart)*share)/2
		return []*input.TouchPoint{{X: mx - half, Y: my, ID: new(1.0)}, {X: mx + half, Y: my, ID: new(2.0)}}
	}
	b.touch(t, input.DispatchTouchEventTypeTouchStart, points(0)[:1]...)
	b.touch(t, input.DispatchTouchEventTypeTouchStart, points(0)...)
	for step := 1; step <= 8; step++ {
		b.touch(t, input.DispatchTouchEventTypeTouchMove, points(float64(step)/8)...)
	}
	b.touch(t, input.DispatchTouchEventTypeTouchEnd)
}

// Two fingers zoom and move the picture under the outline and under the brush, whatever they land on, and change
// nothing; one finger moves a zoomed picture.
func fingersZoomAndMove(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl2-valve1-before.jpg"})
	bayed, server := start(t, dir, Options{})
	ready(t, bayed, 1)
	b := visit(t, chromium, server.URL+"/#/here/photo/IMG_1.JPG", 360, 740, "light")
	b.button(t, "Outline by hand")
	b.until(t, "document.querySelector('.handle.head')")
	shape := func() string {
		return eval[string](t, b, "document.querySelector('.stage ellipse.line').outerHTML")
	}
	before := shape()
	x, y := b.middle(t, ".table")
	b.pinch(t, x, y, 80, x, y, 200)
	fromX, fromY, zoom := b.view(t)
	assert.InDelta(t, 2.5, zoom, 0.05)
	assert.InDelta(t, 0, fromX, 2)
	assert.Equal(t, before, shape())

	b.pinch(t, x, y, 120, x-40, y-30, 120)
	dx, dy, same := b.view(t)
	assert.InDelta(t, fromX-40, dx, 3)
	assert.InDelta(t, fromY-30, dy, 3)
	assert.InDelta(t, zoom, same, 0.1)

	hx, hy := b.middle(t, ".handle.head") // the first finger lands on a handle
	b.pinch(t, hx+40, hy, 80, hx+40, hy, 40)
	_, _, smaller := b.view(t)
	assert.InDelta(t, zoom/2, smaller, 0.1)
	assert.Equal(t, before, shape(), "what the first finger began is taken back")

	b.touch(t, input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x + 100, Y: y + 70, ID: new(1.0)})
	b.touch(t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 80, Y: y + 50, ID: new(1.0)})
	b.touch(t, input.DispatchTouchEventTypeTouchEnd)
	moved, _, _ := b.view(t)
	assert.NotEqual(t, dx, moved)
	b.button(t, "Cancel")

	b.button(t, "Correct by brush")
	b.until(t, "document.querySelector('.stage canvas')")
	paint := func() int {
		return eval[int](t, b, `(c => {
			const copy = new OffscreenCanvas(c.width, c.height).getContext('2d', { willReadFrequently: true });
			copy.drawImage(c, 0, 0);
			return copy.getImageData(0, 0, c.width, c.height).data.filter((v, n) => n % 4 === 3 && v).length;
		})(document.querySelector('.stage canvas'))`)
	}
	x, y = b.middle(t, ".table")
	b.pinch(t, x, y, 60, x, y, 120)
	_, _, zoom = b.view(t)
	assert.InDelta(t, 2, zoom, 0.05)
	assert.Zero(t, paint(), "two fingers paint nothing")
	b.touch(t, input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y, ID: new(1.0)})
	b.touch(t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 30, Y: y, ID: new(1.0)})
	b.touch(t, input.DispatchTouchEventTypeTouchEnd)
	assert.Positive(t, paint(), "one paints")
	b.quiet(t)
}

// A picture that is pasted, and one that comes from a phone's camera, are graded like any other.
func pastedAndTaken(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL, 360, 740, "light")
	b.until(t, "document.querySelector('.empty')")
	data, err := os.ReadFile(filepath.Join(demoFolder, "cyl1-valve1-before.jpg"))
	require.NoError(t, err)
	eval[any](t, b, fmt.Sprintf(`void (() => {
		const bytes = Uint8Array.from(atob(%q), (c) => c.charCodeAt(0));
		const data = new DataTransfer();
		data.items.add(new File([bytes], 'image.png', { type: 'image/png' }));
		document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
	})()`, encoded(data)))
	b.until(t, "document.querySelectorAll('.tile.good').length === 1")

	photo, err := filepath.Abs(filepath.Join(demoFolder, "cyl1-valve2-before.jpg"))
	require.NoError(t, err)
	document := call(t, b, dom.GetDocument, dom.GetDocumentParams{})
	camera := call(t, b, dom.QuerySelector, dom.QuerySelectorParams{
		NodeID: document.Root.NodeID, Selector: "input[type=file][capture=environment]",
	})
	call(t, b, dom.SetFileInputFiles, dom.SetFileInputFilesParams{NodeID: camera.NodeID, Files: []string{photo}})
	b.until(t, "document.querySelectorAll('.tile.good').length === 2")
	assert.FileExists(t, filepath.Join(dir, "cyl1-valve2-before.jpg"))
	b.quiet(t)
}
