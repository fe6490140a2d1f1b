package report

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// tab is a page in a headless browser, with all that the browser complained about and asked for since it was opened.
type tab struct {
	ctx context.Context

	mu       sync.Mutex
	problems []string
	requests []string
}

// browser starts one for a whole test. Chromium comes with scripts/install-deps.sh --tests.
func browser(t *testing.T) context.Context {
	t.Helper()
	options := append(
		chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox,
	) // root has no sandbox, and CI is root
	allocated, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	ctx, end := chromedp.NewContext(allocated)
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(ctx), "is Chromium installed? scripts/install-deps.sh --tests")
	return ctx
}

// open shows the page in a tab of its own, in a window of the given size; a narrow one is a phone's.
func open(t *testing.T, in context.Context, page string, width, height int64) *tab {
	t.Helper()
	file := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(file, []byte(page), 0o600))
	ctx, end := chromedp.NewContext(in)
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(ctx))
	ctx, forget := context.WithTimeout(ctx, time.Minute)
	t.Cleanup(forget)

	b := &tab{ctx: ctx}
	require.NoError(t, chromedp.Listen(ctx, b.hear))
	call(t, b, network.Enable, network.EnableParams{})
	call(t, b, log.Enable, cdp.Empty{})
	size := []chromedp.EmulateViewportOption{chromedp.EmulateTouch}
	if width < 600 {
		size = append(size, chromedp.EmulateMobile, chromedp.EmulatePortrait)
	}
	b.do(t, chromedp.EmulateViewport(width, height, size...),
		chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()), chromedp.WaitReady(chromedp.CSS("footer")))
	return b
}

// hear keeps what must not be: messages on the console, exceptions, requests.
func (b *tab) hear(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		b.problems = append(b.problems, "console: "+string(e.Type))
	case *runtime.EventExceptionThrown:
		b.problems = append(b.problems, e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		b.problems = append(b.problems, e.Entry.Text)
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, "data:") {
			b.requests = append(b.requests, e.Request.URL)
		}
	}
}

// heard returns complaints and requests so far.
func (b *tab) heard() (problems, requests []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string{}, b.problems...), append([]string{}, b.requests...)
}

func (b *tab) do(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	require.NoError(t, chromedp.Do(b.ctx, steps...))
}

// eval returns the value of a JavaScript expression; a promise is waited for.
func eval[T any](t *testing.T, b *tab, expression string) T {
	t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	return value
}

// call sends a command for which chromedp has no action.
func call[P, R any](t *testing.T, b *tab, command cdp.Command[P, R], params P) {
	t.Helper()
	_, err := chromedp.Call(b.ctx, command, params)
	require.NoError(t, err)
}

// touch moves a finger; nil points lift it.
func (b *tab) touch(t *testing.T, kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
	t.Helper()
	call(t, b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
}
