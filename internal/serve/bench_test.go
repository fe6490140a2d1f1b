package serve

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

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
	page := visit(b, browser(b), server.URL, 1200, 900, "light")
	page.until(b, "document.querySelector('.empty')")
	photo, err := os.ReadFile(filepath.Join(demoFolder, "cyl2-valve1-before.jpg"))
	require.NoError(b, err)
	eval[any](b, page, `void (() => {
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
		page.until(b, "window.shownAt["+quote(name)+"]")
		if n > 0 { // the first one warms the nets
			times = append(times, float64(eval[int64](b, page, "window.shownAt["+quote(name)+"]")-written))
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

// BenchmarkInteractive is the time from asking for the page to its answering keys, with a hundred photos and nothing in
// the browser's memory.
func BenchmarkInteractive(b *testing.B) {
	address := hundred(b)
	page := visit(b, browser(b), address, 1200, 900, "light")
	var times []float64
	for n := range max(b.N, 12) {
		page.do(b, chromedp.Navigate("about:blank"))
		began := time.Now()
		page.do(b, chromedp.Navigate(address))
		page.until(b, "document.querySelectorAll('.tile').length === 100")
		eval[any](b, page, "void document.querySelector('.tile').focus()")
		press(b, page, " ")
		page.until(b, "document.querySelector('.selection')")
		if n > 0 {
			times = append(times, float64(time.Since(began).Milliseconds()))
		}
	}
	spread(b, "interactive", times)
}

// BenchmarkScroll is the time between two frames while the contact sheet of a hundred photos is scrolled.
func BenchmarkScroll(b *testing.B) {
	page := visit(b, browser(b), hundred(b), 360, 740, "light")
	page.until(b, "document.querySelectorAll('.tile').length === 100")
	var times []float64
	for range b.N {
		times = append(times, eval[[]float64](b, page, `new Promise((done) => {
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
