package serve

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// spread reports the median and the largest of times in milliseconds.
func spread(b *testing.B, what string, times []float64) {
	b.Helper()
	slices.Sort(times)
	b.ReportMetric(times[len(times)/2], what+"-median-ms")
	b.ReportMetric(times[len(times)-1], what+"-max-ms")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkShown is the time from a photo's file being written to its grade standing on the page.
func BenchmarkShown(b *testing.B) {
	dir := b.TempDir()
	_, server := start(b, dir, Options{})
	tab := visit(b, browser(b), server.URL, 1200, 900, "light")
	tab.until(b, "document.querySelector('.empty')")
	photo, err := os.ReadFile(filepath.Join(demoFolder, "cyl2-valve1-before.jpg"))
	require.NoError(b, err)
	eval[any](b, tab, `void (() => {
		window.shownAt = {};
		new MutationObserver(() => {
			for (const tile of document.querySelectorAll('.tile.good')) shownAt[tile.dataset.file] ??= Date.now();
		}).observe(document.body, { subtree: true, childList: true, attributes: true });
	})()`)
	var times []float64
	for n := range max(b.N, 30) {
		name := fmt.Sprintf("IMG_%04d.JPG", n)
		require.NoError(b, os.WriteFile(filepath.Join(dir, name), append(photo, fmt.Sprint(n)...), 0o644))
		written := time.Now().UnixMilli()
		tab.until(b, "window.shownAt["+quote(name)+"]")
		if n > 0 { // the first one warms the nets
			times = append(times, float64(eval[int64](b, tab, "window.shownAt["+quote(name)+"]")-written))
		}
	}
	spread(b, "shown", times)
}

// hundred are a hundred graded photos, served.
func hundred(b *testing.B) string {
	dir := b.TempDir()
	photo, err := os.ReadFile(filepath.Join(demoFolder, "cyl2-valve1-before.jpg"))
	require.NoError(b, err)
	for n := range 100 {
		name := fmt.Sprintf("IMG_%04d.JPG", n)
		require.NoError(b, os.WriteFile(filepath.Join(dir, name), append(photo, fmt.Sprint(n)...), 0o644))
	}
	bayed, server := start(b, dir, Options{})
	ready(b, bayed, 100)
	return server.URL
}

// milestones notes, in milliseconds since the page was asked for, when all tiles of a hundred photos stand, and when a key
// has been answered and that was drawn.
const milestones = `window.reached = {};
	const watch = new MutationObserver(() => {
		const tiles = document.querySelectorAll('.tile');
		if (tiles.length < 100) return;
		if (!reached.drawn) {
			reached.drawn = performance.now();
			tiles[0].focus();
			tiles[0].dispatchEvent(new KeyboardEvent('keydown', { key: ' ', bubbles: true }));
		} else if (document.querySelector('.selection')) {
			watch.disconnect();
			requestAnimationFrame(() => setTimeout(() => { reached.answered = performance.now(); }));
		}
	});
	watch.observe(document, { subtree: true, childList: true });`

// BenchmarkInteractive is the time from asking for the page to its answering keys, with a hundred photos and nothing in
// the browser's memory; until its modules are there, until the tiles stand, and, beside it, that until a page of one
// word from the same program has been loaded: what the browser itself takes.
func BenchmarkInteractive(b *testing.B) {
	address := hundred(b)
	tab := visit(b, browser(b), address, 1200, 900, "light")
	call(b, tab, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: milestones})
	times := map[string][]float64{}
	for n := range max(b.N, 12) {
		tab.do(b, chromedp.Navigate(address+"/api/bay"))
		bare := eval[float64](b, tab, "performance.getEntriesByType('navigation')[0].loadEventStart")
		tab.do(b, chromedp.Navigate(address))
		tab.until(b, "window.reached?.answered")
		if n == 0 {
			continue
		}
		times["bare"] = append(times["bare"], bare)
		for what, expression := range map[string]string{
			"modules": "Math.max(...performance.getEntriesByType('resource').filter(e => e.name.endsWith('.js')).map(e => e.responseEnd))",
			"drawn":   "reached.drawn", "interactive": "reached.answered",
		} {
			times[what] = append(times[what], eval[float64](b, tab, expression))
		}
	}
	for what, list := range times {
		spread(b, what, list)
	}
}

// BenchmarkScroll is the time between two frames while the contact sheet of a hundred photos is scrolled.
func BenchmarkScroll(b *testing.B) {
	tab := visit(b, browser(b), hundred(b), 360, 740, "light")
	tab.until(b, "document.querySelectorAll('.tile').length === 100")
	var times []float64
	for range b.N {
		times = append(times, eval[[]float64](b, tab, `new Promise((done) => {
			const times = [];
			scrollTo(0, 0);
			let last = performance.now();
			const step = (now) => {
				times.push(now - last);
				last = now;
				scrollBy(0, 60);
				if (times.length < 120) requestAnimationFrame(step); else done(times.slice(1));
			};
			requestAnimationFrame(step);
		})`)...)
	}
	slices.Sort(times)
	b.ReportMetric(times[len(times)*95/100], "frame-p95-ms")
	spread(b, "frame", times)
}
