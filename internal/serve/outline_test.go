package serve

import (
	"context"
	"fmt"
	"image"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/disintegration/imaging"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/region"
)

// The outline is dragged with the mouse and with a finger, moved with keys, kept in the sidecar and taken back.
func outlinesAreDragged(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl2-valve1-before.jpg"})
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 1)
	b := visit(t, chromium, server.URL+"/#/here/photo/IMG_1.JPG", 1200, 900, "dark")
	b.button(t, "Outline by hand")
	b.until(t, "document.querySelector('.handle.first')")
	ellipse := func() []float64 {
		return eval[[]float64](
			t,
			b,
			"(e => ['cx','cy','rx','ry'].map(k => Number(e.getAttribute(k))))(document.querySelector('.stage ellipse.line'))",
		)
	}
	before := ellipse()
	x, y := b.middle(t, ".handle.head")
	b.mouse(t, input.DispatchMouseEventTypeMousePressed, x, y)
	b.mouse(t, input.DispatchMouseEventTypeMouseMoved, x+30, y-20)
	b.until(
		t,
		fmt.Sprintf(
			"document.querySelector('.loupe') && Number(document.querySelector('.stage ellipse.line').getAttribute('cx')) > %f",
			before[0]+1,
		),
	)
	b.mouse(t, input.DispatchMouseEventTypeMouseReleased, x+30, y-20)
	moved := ellipse()
	scale := eval[float64](t, b, "640 / document.querySelector('.stage').getBoundingClientRect().width")
	assert.InDelta(t, before[0]+30*scale, moved[0], 1)
	assert.InDelta(t, before[1]-20*scale, moved[1], 1)

	x, y = b.middle(t, ".handle.second")
	b.touch(t, input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	b.touch(t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x, Y: y + 25})
	b.touch(t, input.DispatchTouchEventTypeTouchEnd)
	touched := ellipse()
	assert.NotEqual(t, moved[3], touched[3], "the second axis")
	assert.InDelta(t, moved[2], touched[2], 0.01, "and nothing else")

	eval[any](t, b, "void document.querySelector('.handle.head').focus()")
	press(t, b, "ArrowLeft", "ArrowUp")
	keyed := ellipse()
	assert.InDelta(t, touched[0]-1, keyed[0], 0.01)
	assert.InDelta(t, touched[1]-1, keyed[1], 0.01)
	b.button(t, "One step back")
	assert.InDelta(t, touched[1], ellipse()[1], 0.01)

	b.button(t, "Keep")
	require.Eventually(
		t,
		func() bool { s := j.Sheet(); return s.Reading == 0 && s.Shots[0].Seen[0].ByHand },
		time.Minute,
		20*time.Millisecond,
	)
	marks, err := region.ReadMarks(filepath.Join(dir, "IMG_1.JPG.marks.yaml"))
	require.NoError(t, err)
	assert.InDelta(t, keyed[0], marks.Head.X, 0.6)
	b.until(t, "document.body.innerText.includes('outline set by hand')")
	b.button(t, "Outline by hand")
	b.button(t, "Let the program find the outline")
	require.Eventually(
		t,
		func() bool { s := j.Sheet(); return s.Reading == 0 && !s.Shots[0].Seen[0].ByHand },
		time.Minute,
		20*time.Millisecond,
	)
	b.quiet(t)
}

// Of two valves in a photo one is outlined by hand, then both; the other one stays as the program finds it. A valve that
// nobody outlined is left out when that is asked for.
func outlinesOfSeveralValves(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"one.jpg": "cyl3-valve2-before.jpg"})
	both := image.NewNRGBA(image.Rect(0, 0, 1280, 480))
	for n, name := range []string{"cyl3-valve1-before.jpg", "cyl3-valve2-before.jpg"} {
		half, err := imaging.Open(filepath.Join(demoFolder, name))
		require.NoError(t, err)
		both = imaging.Paste(both, half, image.Pt(640*n, 0))
	}
	require.NoError(t, imaging.Save(both, filepath.Join(dir, "both.png")))
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 2)
	byHand := func(want ...bool) {
		t.Helper()
		require.Eventually(t, func() bool {
			s := j.Sheet()
			if s.Reading > 0 || len(s.Shots[0].Seen) != len(want) {
				return false
			}
			for n, seen := range s.Shots[0].Seen {
				if seen.ByHand != want[n] {
					return false
				}
			}
			return true
		}, time.Minute, 20*time.Millisecond)
	}
	byHand(false, false)
	found := j.Sheet().Shots[0].Seen
	b := visit(t, chromium, server.URL+"/#/here/photo/one.jpg", 390, 844, "light")
	b.button(t, "Outline by hand")
	b.until(t, "document.querySelector('.handle.first')")
	assert.False(t, eval[bool](t, b, "Boolean(document.querySelector('.editing select, .others ellipse'))"), "one valve: nothing to choose")

	b = visit(t, chromium, server.URL+"/#/here/photo/both.png", 1200, 900, "light")
	outline := func() {
		b.button(t, "Outline by hand")
		b.until(t, "document.querySelector('.handle.first') && document.querySelectorAll('.others ellipse').length === 1")
	}
	choose := func(n int) {
		eval[any](t, b, fmt.Sprintf(
			"(s => { s.selectedIndex = %d; s.dispatchEvent(new Event('change', {bubbles: true})) })(document.querySelector('.editing select'))", n))
	}
	outline()
	choose(1)
	b.until(t, fmt.Sprintf("Math.abs(Number(document.querySelector('.stage .casing').getAttribute('cx')) - %f) < 1", found[1].Head.X.Value()))
	eval[any](t, b, "void document.querySelector('.handle.head').focus()")
	press(t, b, "ArrowLeft", "ArrowLeft", "ArrowLeft")
	keepPicture(t, b, "outline-of-two")
	b.button(t, "Keep")
	byHand(false, true)
	seen := j.Sheet().Shots[0].Seen
	assert.Equal(t, found[0].Index, seen[0].Index, "the other valve is as it was")
	assert.InDelta(t, found[1].Head.X.Value()-3, seen[1].Head.X.Value(), 0.6)

	outline()
	choose(0)
	b.button(t, "Keep")
	byHand(true, true)
	marks, err := region.ReadMarks(filepath.Join(dir, "both.png.marks.yaml"))
	require.NoError(t, err)
	assert.Len(t, marks.Others, 1)
	assert.True(t, marks.FindOthers)

	outline()
	choose(1)
	b.button(t, "Let the program find the outline")
	byHand(true, false)

	outline()
	eval[any](t, b, "void document.querySelector('.editing input[type=checkbox]').click()")
	b.button(t, "Keep")
	byHand(true)
	b.until(t, "document.body.innerText.includes('outline set by hand')")

	b.button(t, "Outline by hand")
	b.until(t, "document.querySelector('.handle.first')")
	b.button(t, "Another valve in this photo")
	b.until(t, "document.querySelector('.trace')")
	for _, at := range [][2]float64{{-0.3, 0}, {0.3, 0}, {0, 0.2}, {0, -0.4}, {0, -0.1}} { // in heads from the right one's middle
		h := found[1].Head
		x := h.X.Value() + at[0]*2*h.A.Value()
		y := h.Y.Value() + at[1]*2*h.A.Value()
		place := eval[[]float64](t, b, fmt.Sprintf(
			"(r => [r.left + (%f / 1280) * r.width, r.top + (%f / 480) * r.height])(document.querySelector('.stage').getBoundingClientRect())", x, y))
		b.mouse(t, input.DispatchMouseEventTypeMousePressed, place[0], place[1])
		b.mouse(t, input.DispatchMouseEventTypeMouseReleased, place[0], place[1])
	}
	b.button(t, "Keep")
	byHand(true, true)
	assert.InDelta(t, found[1].Head.X.Value(), j.Sheet().Shots[0].Seen[1].Head.X.Value(), 4)
	b.quiet(t)
}

func classesArePainted(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl2-valve1-before.jpg"})
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 1)
	before := j.Sheet().Shots[0].Seen[0].Index.Value()
	b := visit(t, chromium, server.URL+"/#/here/photo/IMG_1.JPG", 1200, 900, "light")
	b.button(t, "Correct by brush")
	b.until(t, "document.querySelector('.stage canvas')")
	eval[any](t, b, "void [...document.querySelectorAll('input[name=paint]')][3].click()")
	x, y := b.middle(t, ".stage canvas")
	b.mouse(t, input.DispatchMouseEventTypeMousePressed, x-80, y)
	for step := range 20 {
		b.mouse(t, input.DispatchMouseEventTypeMouseMoved, x-80+float64(8*step), y+float64(step%3*20))
	}
	b.mouse(t, input.DispatchMouseEventTypeMouseReleased, x+80, y)
	eval[any](t, b, "void document.querySelector('.stage canvas').focus()")
	press(t, b, " ", "ArrowDown", "ArrowDown", "ArrowDown", " ")
	b.button(t, "Keep")
	require.Eventually(
		t,
		func() bool { s := j.Sheet(); return s.Reading == 0 && s.Shots[0].Seen[0].Painted != nil },
		time.Minute,
		20*time.Millisecond,
	)
	assert.Greater(t, j.Sheet().Shots[0].Seen[0].Index.Value(), before, "heavy crust was painted")
	path := filepath.Join(dir, "IMG_1.JPG.marks.yaml")
	painted := func(as func(*region.Marks) bool) {
		require.Eventually(t, func() bool {
			marks, err := region.ReadMarks(path)
			return err == nil && as(marks)
		}, time.Minute, 20*time.Millisecond)
	}
	marks, err := region.ReadMarks(path)
	require.NoError(t, err)
	assert.Len(t, marks.Painted, 2)
	assert.Greater(t, len(marks.Painted[0].Path), 10)
	b.until(t, "document.body.innerText.includes('painted by hand')")

	b.button(t, "Correct by brush")
	b.until(t, "document.querySelector('.stage canvas')")
	eval[any](t, b, `void (() => { // a stroke that goes on and on becomes several
		const canvas = document.querySelector('.stage canvas');
		const key = (key) => canvas.dispatchEvent(new KeyboardEvent('keydown', { key, shiftKey: true, bubbles: true }));
		canvas.focus();
		for (let n = 0; n < 2 * 197; n++) key(' ');
		key(' ');
		for (let n = 0; n < 450; n++) key(n % 2 ? 'ArrowUp' : 'ArrowDown');
	})()`)
	b.until(t, "document.body.innerText.includes('as much paint as a photo can carry')")
	b.button(t, "Keep")
	painted(func(m *region.Marks) bool { return len(m.Painted) == 200 })

	b.button(t, "Correct by brush")
	b.until(t, "document.querySelector('.stage canvas')")
	b.button(t, "Take all paint off")
	b.until(t, "!document.querySelector('.stage canvas')")
	b.button(t, "Correct by brush")
	b.until(t, "document.querySelector('.stage canvas')")
	eval[any](t, b, `void (() => { // as much as fits into a file, long before there are so many strokes
		const canvas = document.querySelector('.stage canvas');
		const key = (key) => canvas.dispatchEvent(new KeyboardEvent('keydown', { key, shiftKey: true, bubbles: true }));
		canvas.focus();
		key(' ');
		for (let n = 0; n < 12000; n++) key(n % 2 ? 'ArrowUp' : 'ArrowDown');
	})()`)
	b.until(t, "document.body.innerText.includes('as much paint as a photo can carry')")
	b.button(t, "Keep")
	painted(func(m *region.Marks) bool { return len(m.Painted) == 50 && len(m.Painted[49].Path) == 200 })
	b.quiet(t)
}
