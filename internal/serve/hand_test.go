package serve

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// Seconds that a trained hand takes for each action, after the keystroke-level model of Card, Moran and Newell (1980),
// from memory: pointing 1.1, a press of a button or key 0.2, and as long as a key is held where it repeats.
const (
	pointing, pressing = 1.1, 0.2
	repeats            = 30.0 // of a held key in a second
	repeatsAfter       = 0.4
	enoughSeconds      = 15
)

// hand corrects an outline as a person does who knows where it should be, two pixels of the photo off each time.
type hand struct {
	*tab
	t       *testing.T
	finger  bool
	actions int
	seconds float64
}

// at is where a place of the photo lies on the screen, once the page has come to rest: nobody taps what moves.
func (h *hand) at(p region.Point) (x, y float64) {
	h.t.Helper()
	box := eval[[]float64](h.t, h.tab, `(async () => {
		const stage = document.querySelector('.stage'), v = stage.querySelector('svg').viewBox.baseVal;
		const box = () => (b => [b.left, b.top, b.width / v.width, b.height / v.height])(stage.getBoundingClientRect());
		const frame = () => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 20)));
		for (let before = '', same = 0; same < 3; before = String(box())) {
			await frame();
			same = String(box()) === before ? same + 1 : 0;
		}
		return box();
	})()`)
	return box[0] + (p.X+0.5)*box[2], box[1] + (p.Y+0.5)*box[3]
}

func (h *hand) press(x, y float64) {
	if h.finger {
		h.touch(h.t, input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	} else {
		h.mouse(h.t, input.DispatchMouseEventTypeMousePressed, x, y)
	}
}

func (h *hand) move(x, y float64) {
	if h.finger {
		h.touch(h.t, input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x, Y: y})
	} else {
		h.mouse(h.t, input.DispatchMouseEventTypeMouseMoved, x, y)
	}
}

func (h *hand) release(x, y float64) {
	if h.finger {
		h.touch(h.t, input.DispatchTouchEventTypeTouchEnd)
	} else {
		h.mouse(h.t, input.DispatchMouseEventTypeMouseReleased, x, y)
	}
}

// drag takes a handle to a place.
func (h *hand) drag(handle string, to region.Point) {
	h.t.Helper()
	fromX, fromY := h.middle(h.t, ".handle."+handle)
	toX, toY := h.at(region.Point{X: to.X + 2, Y: to.Y - 2})
	h.press(fromX, fromY)
	h.move((fromX+toX)/2, (fromY+toY)/2)
	h.move(toX, toY)
	h.release(toX, toY)
	h.actions, h.seconds = h.actions+1, h.seconds+2*pointing+pressing
}

func (h *hand) tap(at region.Point) {
	h.t.Helper()
	x, y := h.at(region.Point{X: at.X + 2, Y: at.Y - 2})
	h.press(x, y)
	h.release(x, y)
	h.actions, h.seconds = h.actions+1, h.seconds+pointing+pressing
}

func (h *hand) click(name string) {
	h.t.Helper()
	h.button(h.t, name)
	h.actions, h.seconds = h.actions+1, h.seconds+pointing+pressing
}

// hold moves a handle by an arrow that is held down, and then by single presses the other way or on.
func (h *hand) hold(handle, less, more string, coordinate func() float64, to float64) {
	h.t.Helper()
	eval[any](h.t, h.tab, "void document.querySelector('.handle."+handle+"').focus()")
	h.actions, h.seconds = h.actions+1, h.seconds+pressing // Tab
	if gap := to - coordinate(); math.Abs(gap) > 4 {
		key, forward := more, 1.0
		if gap < 0 {
			key, forward = less, -1
		}
		h.actions, h.seconds = h.actions+1, h.seconds+repeatsAfter
		for n := 0; forward*(to-coordinate()) > 4; n++ {
			call(h.t, h.tab, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: key, Code: key, AutoRepeat: new(n > 0)})
			h.seconds += 1 / repeats
		}
		call(h.t, h.tab, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyUp, Key: key, Code: key})
	}
	for math.Abs(to-coordinate()) > 2 {
		key := more
		if to < coordinate() {
			key = less
		}
		press(h.t, h.tab, key)
		h.actions, h.seconds = h.actions+1, h.seconds+pressing
	}
}

// moved drags the outline as a whole; its handle may stand beside the centre.
func moved(h *hand, head region.Ellipse, _ region.Line) {
	h.t.Helper()
	beside := eval[[]float64](h.t, h.tab, `(() => {
		const [handle, line] = [document.querySelector('.handle.head').style, document.querySelector('.stage ellipse.line')];
		return [['left', 'cx', 640], ['top', 'cy', 480]].map(([side, centre, size]) =>
			parseFloat(handle[side]) / 100 * size - 0.5 - Number(line.getAttribute(centre)));
	})()`)
	h.drag("head", region.Point{X: head.X + beside[0], Y: head.Y + beside[1]})
}

// An outline that is off by half a radius is put right within fifteen seconds, by mouse, finger or keys: one drag where
// only its place is wrong, five taps where nothing of it is right.
func outlinesAreSoonPutRight(t *testing.T, chromium context.Context) {
	const photo = "cyl2-valve2-before.jpg"
	for name, way := range map[string]struct {
		finger, farOff bool
		most           int
		correct        func(h *hand, head region.Ellipse, stem region.Line)
	}{
		"mouse":  {most: 1, correct: moved},
		"finger": {finger: true, most: 1, correct: moved},
		"keys": {most: 12, correct: func(h *hand, head region.Ellipse, _ region.Line) {
			centre := func(axis string) func() float64 {
				return func() float64 {
					return eval[float64](h.t, h.tab, "Number(document.querySelector('.stage ellipse.line').getAttribute('c"+axis+"'))")
				}
			}
			h.hold("head", "ArrowLeft", "ArrowRight", centre("x"), head.X)
			h.hold("head", "ArrowUp", "ArrowDown", centre("y"), head.Y)
		}},
		"mouse, far off":  {farOff: true, most: 6, correct: traced},
		"finger, far off": {finger: true, farOff: true, most: 6, correct: traced},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			copyDemo(t, dir, map[string]string{"IMG_1.JPG": photo})
			bayed, server := start(t, dir, Options{})
			j := ready(t, bayed, 1)
			found := j.Sheet().Shots[0].Seen[0]
			head := region.Ellipse{X: found.Head.X.Value(), Y: found.Head.Y.Value(), A: found.Head.A.Value(), B: found.Head.B.Value(), Angle: found.Head.Angle.Value()}
			stem := region.Line{X1: found.Stem.X1.Value(), Y1: found.Stem.Y1.Value(), X2: found.Stem.X2.Value(), Y2: found.Stem.Y2.Value(), Width: found.Stem.Width.Value()}
			wrong := region.Marks{Head: head, Stem: new(stem)}
			by := head.A / 2 * math.Sqrt2 / 2
			wrong.Head.X, wrong.Head.Y = head.X+by, head.Y+by
			wrong.Stem.X1, wrong.Stem.Y1, wrong.Stem.X2, wrong.Stem.Y2 = stem.X1+by, stem.Y1+by, stem.X2+by, stem.Y2+by
			if way.farOff {
				wrong.Head.A, wrong.Head.B, wrong.Head.Angle = head.A*0.6, head.B*0.7, head.Angle+40
				wrong.Stem = nil
			}
			text, err := wrong.Write()
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "IMG_1.JPG.marks.yaml"), text, 0o644))
			require.Eventually(t, func() bool { s := j.Sheet(); return s.Reading == 0 && s.Shots[0].Seen[0].ByHand }, time.Minute, 20*time.Millisecond)
			assert.Less(t, overlap(t, dir, photo), 0.75, "it is wrong")

			width, height := int64(1200), int64(900)
			if way.finger {
				width, height = 360, 740
			}
			b := visit(t, chromium, server.URL+"/#/here/photo/IMG_1.JPG", width, height, "dark")
			b.button(t, "Outline by hand")
			b.until(t, "document.querySelector('.handle.head')")
			h := &hand{tab: b, t: t, finger: way.finger}
			way.correct(h, head, stem)
			h.button(t, "Keep")
			require.Eventually(t, func() bool {
				kept, err := os.ReadFile(filepath.Join(dir, "IMG_1.JPG.marks.yaml"))
				return err == nil && string(kept) != string(text)
			}, time.Minute, 20*time.Millisecond)
			right := overlap(t, dir, photo)
			t.Logf("%d actions, %.1f s by the keystroke-level model, IoU with the truth %.2f", h.actions, h.seconds, right)
			assert.GreaterOrEqual(t, right, 0.9)
			assert.LessOrEqual(t, h.actions, way.most)
			assert.Less(t, h.seconds, float64(enoughSeconds))
			b.quiet(t)
		})
	}
}

// traced draws the outline anew.
func traced(h *hand, head region.Ellipse, stem region.Line) {
	h.click("Draw it anew")
	h.until(h.t, "document.querySelector('.trace')")
	turn := head.Angle * math.Pi / 180
	onRim := func(a, b float64) region.Point {
		return region.Point{X: head.X + a*head.A*math.Cos(turn) - b*head.B*math.Sin(turn), Y: head.Y + a*head.A*math.Sin(turn) + b*head.B*math.Cos(turn)}
	}
	for _, place := range []region.Point{onRim(1, 0), onRim(-1, 0), onRim(0.3, math.Sqrt(1-0.3*0.3)), {X: stem.X1, Y: stem.Y1}, {X: stem.X2, Y: stem.Y2}} {
		h.tap(place)
	}
	h.until(h.t, "!document.querySelector('.trace')")
}

// overlap is how well the valve by the marks beside the photo meets the truth.
func overlap(t *testing.T, dir, photo string) float64 {
	t.Helper()
	s, err := score.New(score.Options{})
	require.NoError(t, err)
	defer s.Close()
	results := s.Score(filepath.Join(dir, "IMG_1.JPG"))
	require.NotNil(t, results[0].Region)
	truth, err := score.ReadMask(filepath.Join(demoFolder, photo[:len(photo)-len(".jpg")]+".region.png"))
	require.NoError(t, err)
	return region.IoU(results[0].Region.Mask, truth, region.Head, region.Stem)
}
