package serve

import (
	"context"
	"encoding/base64"
	"net"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/bay"
	"valvegrade/pkg/inspection"
)

const demoFolder = "../../testdata/engine"

// copyDemo copies photos of the demo engine into a folder, under names of their own.
func copyDemo(t testing.TB, dir string, names map[string]string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for as, name := range names {
		data, err := os.ReadFile(filepath.Join(demoFolder, name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, as), data, 0o644))
	}
}

// start serves a folder on a free port of this machine.
func start(t testing.TB, dir string, o Options) (*bay.Bay, *httptest.Server) {
	t.Helper()
	b, err := bay.Open(dir, bay.Options{Workers: 1})
	require.NoError(t, err)
	t.Cleanup(func() { _ = b.Close() })
	s := New(b, o)
	server := httptest.NewServer(s)
	t.Cleanup(func() {
		close(s.ended)
		server.Close()
	})
	return b, server
}

// ready waits until the photos of the folder's own inspection are graded.
func ready(t testing.TB, b *bay.Bay, photos int) *bay.Job {
	t.Helper()
	j, err := b.Job(bay.Here)
	require.NoError(t, err)
	require.Eventually(t, func() bool {
		s := j.Sheet()
		return len(s.Shots) == photos && s.Reading == 0
	}, 90*time.Second, 20*time.Millisecond)
	return j
}

// whole is an inspection of the demo engine's first cylinder that lacks nothing.
func whole(t testing.TB, dir, stage string) {
	t.Helper()
	copyDemo(
		t,
		dir,
		map[string]string{"a.jpg": "cyl1-valve1-" + stage + ".jpg", "b.jpg": "cyl1-valve2-" + stage + ".jpg"},
	)
	form := &inspection.Form{
		Vehicle: "van 7", Engine: inspection.Layout{Cylinders: 1, Valves: 2}, Date: "2026-05-01", Odometer: "84200 mi",
		Stage: inspection.Stage(stage), Photos: []inspection.Entry{
			{File: "a.jpg", Cylinder: 1, Valves: []int{1}}, {File: "b.jpg", Cylinder: 1, Valves: []int{2}},
		},
	}
	text, err := form.Write(nil)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), text, 0o644))
}

// tab is a page in a headless browser, with all that the browser complained about.
type tab struct {
	ctx context.Context

	lock     sync.Mutex
	problems []string
	outside  []string
}

// browser starts one for a whole test. Chromium comes with scripts/install-deps.sh --tests.
func browser(t testing.TB) context.Context {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox) // root has none
	allocated, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	ctx, end := chromedp.NewContext(allocated)
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(ctx), "is Chromium installed? scripts/install-deps.sh --tests")
	return ctx
}

// visit opens an address in a tab of its own.
func visit(t testing.TB, in context.Context, address string, width, height int64, scheme string) *tab {
	t.Helper()
	ctx, end := chromedp.NewContext(in)
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(ctx))
	ctx, forget := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(forget)
	b := &tab{ctx: ctx}
	require.NoError(t, chromedp.Listen(ctx, b.hear(address)))
	call(t, b, network.Enable, network.EnableParams{})
	call(t, b, log.Enable, cdp.Empty{})
	call(t, b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{
			{Name: "prefers-color-scheme", Value: scheme},
			{Name: "prefers-reduced-motion", Value: "reduce"},
		},
	})
	size := []chromedp.EmulateViewportOption{chromedp.EmulateTouch}
	if width < 600 {
		size = append(size, chromedp.EmulateMobile, chromedp.EmulatePortrait)
	}
	b.do(t, chromedp.EmulateViewport(width, height, size...), chromedp.Navigate(address))
	return b
}

// hear keeps what must not be: exceptions, breaches of the policy, requests to anybody else.
func (b *tab) hear(address string) func(any) {
	host := strings.Join(strings.Split(address, "/")[:3], "/")
	return func(event any) {
		b.lock.Lock()
		defer b.lock.Unlock()
		switch e := event.(type) {
		case *runtime.EventExceptionThrown:
			text := e.ExceptionDetails.Text
			if e.ExceptionDetails.Exception != nil {
				text += " " + e.ExceptionDetails.Exception.Description
			}
			b.problems = append(b.problems, text)
		case *log.EventEntryAdded:
			b.problems = append(b.problems, e.Entry.Text+" "+e.Entry.URL)
		case *network.EventRequestWillBeSent:
			u := e.Request.URL
			if !strings.HasPrefix(u, host) && !strings.HasPrefix(u, "data:") && !strings.HasPrefix(u, "blob:") {
				b.outside = append(b.outside, u)
			}
		}
	}
}

func (b *tab) heard() (problems, outside []string) {
	b.lock.Lock()
	defer b.lock.Unlock()
	return append([]string{}, b.problems...), append([]string{}, b.outside...)
}

func (b *tab) do(t testing.TB, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	require.NoError(t, chromedp.Do(b.ctx, steps...))
}

func eval[T any](t testing.TB, b *tab, expression string) T {
	t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(t, err, expression)
	return value
}

func call[P, R any](t testing.TB, b *tab, command cdp.Command[P, R], params P) R {
	t.Helper()
	answer, err := chromedp.Call(b.ctx, command, params)
	require.NoError(t, err)
	return answer
}

// until waits for an expression to hold.
func (b *tab) until(t testing.TB, expression string) {
	t.Helper()
	require.Eventually(
		t,
		func() bool { return eval[bool](t, b, "Boolean("+expression+")") },
		90*time.Second,
		30*time.Millisecond,
		expression,
	)
}

// button presses the button of a name, as a person does, in the moment in which it is there: what is read meanwhile may
// take it away again.
func (b *tab) button(t testing.TB, name string) {
	t.Helper()
	name = quote(name)
	b.until(t, "[...document.querySelectorAll('button, a, summary')].filter(b => b.textContent.trim().startsWith("+name+
		") || b.ariaLabel === "+name+").slice(0, 1).map(b => b.click()).length")
}

func quote(text string) string { return "'" + strings.ReplaceAll(text, "'", `\'`) + "'" }

// middle is where an element lies in the window.
func (b *tab) middle(t testing.TB, selector string) (x, y float64) {
	t.Helper()
	at := eval[[]float64](
		t,
		b,
		"(e => { e.scrollIntoView({block: 'nearest'}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })(document.querySelector("+quote(
			selector,
		)+"))",
	)
	return at[0], at[1]
}

func (b *tab) mouse(t testing.TB, kind input.DispatchMouseEventType, x, y float64) {
	t.Helper()
	call(t, b, input.DispatchMouseEvent, input.DispatchMouseEventParams{
		Type: kind, X: x, Y: y, Button: input.MouseButtonLeft, Buttons: 1, ClickCount: 1,
	})
}

func (b *tab) touch(t testing.TB, kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
	t.Helper()
	call(t, b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
}

// breaches are the rules that axe-core finds broken.
func (b *tab) breaches(t testing.TB) []string {
	t.Helper()
	axe, err := os.ReadFile("../../pkg/report/testdata/axe-core/axe.min.js")
	require.NoError(t, err)
	eval[any](t, b, "void (window.axe || (() => {"+string(axe)+"})())")
	return eval[[]string](t, b, `axe.run({resultTypes: ['violations'], iframes: false}).then(r => r.violations.map(v =>
		v.id + ': ' + v.nodes.map(n => n.target.join(' ') + ' ' + n.failureSummary.replace(/\s+/g, ' ')).slice(0, 3).join(' | ')))`)
}

func encoded(data []byte) string { return base64.StdEncoding.EncodeToString(data) }

// listen waits for an address that was just given up.
func listen(t testing.TB, address string) net.Listener {
	t.Helper()
	var listener net.Listener
	require.Eventually(t, func() (ok bool) {
		var err error
		listener, err = net.Listen("tcp", address)
		return err == nil
	}, 20*time.Second, 20*time.Millisecond)
	return listener
}

// keepPicture keeps what the window shows where SCREENSHOTS says, for people to look at.
func keepPicture(t testing.TB, b *tab, name string) {
	t.Helper()
	dir := os.Getenv("SCREENSHOTS")
	if dir == "" {
		return
	}
	data, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, name+".png"), data, 0o644))
}
