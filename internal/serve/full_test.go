package serve

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

// smallDisk is a file system of its own for a test, that it can fill up and empty again. Who may not mount one gets a
// limit on the size of files in its place: then writing fails just so in the middle of a file.
func smallDisk(t *testing.T) (dir string, fill, empty func()) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "disk")
	require.NoError(t, os.Mkdir(dir, 0o755))
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=3m"); err == nil {
		t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
		filler := filepath.Join(dir, ".filler")
		return dir, func() {
			file, err := os.Create(filler)
			require.NoError(t, err)
			for size := 1 << 20; size > 0; size /= 2 { // to the last byte
				for err = nil; err == nil; {
					_, err = file.Write(make([]byte, size))
				}
				require.ErrorIs(t, err, syscall.ENOSPC)
			}
			require.NoError(t, file.Close())
		}, func() { require.NoError(t, os.Remove(filler)) }
	}
	t.Log("a file system of its own cannot be mounted here: the size of files is limited in its place")
	signal.Ignore(syscall.SIGXFSZ)
	var usual syscall.Rlimit
	require.NoError(t, syscall.Getrlimit(syscall.RLIMIT_FSIZE, &usual))
	limit := func(size uint64) func() {
		return func() {
			require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: size, Max: usual.Max}))
		}
	}
	t.Cleanup(limit(usual.Cur))
	return dir, limit(64), limit(usual.Cur)
}

// listing is what lies in a folder, with sizes.
func listing(t *testing.T, dir string) map[string]int64 {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	files := map[string]int64{}
	for _, entry := range entries {
		info, err := entry.Info()
		require.NoError(t, err)
		files[entry.Name()] = info.Size()
	}
	return files
}

// The disk is full: the page says so, nothing is changed and nothing half-written is left; with room again everything
// goes on, the photo that waited by itself.
func theDiskIsFull(t *testing.T, chromium context.Context) {
	dir, fill, empty := smallDisk(t)
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl1-valve1-before.jpg"})
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 1)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	require.Eventually(t, func() bool { return listing(t, dir)["results.json"] > 0 }, time.Minute, 20*time.Millisecond)
	b := visit(t, chromium, server.URL, 390, 844, "light")
	b.until(t, "document.querySelectorAll('.disc').length === 8")
	form, err := os.ReadFile(filepath.Join(dir, inspection.File))
	require.NoError(t, err)

	fill()
	before := listing(t, dir)
	eval[any](t, b, "void document.querySelector('.tile').focus()")
	press(t, b, "2", "1")
	b.until(t, "document.querySelector('.said').innerText.includes('disk is full')")
	assert.Equal(t, 1, eval[int](t, b, `(() => {
		const word = document.createRange();
		word.selectNodeContents(document.querySelector('.said button'));
		return new Set([...word.getClientRects()].map(({ top }) => top)).size;
	})()`), "the word on the button is not broken")
	data, err := os.ReadFile(filepath.Join(demoFolder, "cyl1-valve2-before.jpg"))
	require.NoError(t, err)
	eval[any](t, b, fmt.Sprintf(`void (() => {
		const bytes = Uint8Array.from(atob(%q), (c) => c.charCodeAt(0));
		const data = new DataTransfer();
		data.items.add(new File([bytes], 'second.jpg', { type: 'image/jpeg' }));
		document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
	})()`, encoded(data)))
	b.until(t, "document.querySelector('.bringing')?.innerText.includes('disk is full')")
	require.Eventually(t, func() bool { return assert.ObjectsAreEqual(before, listing(t, dir)) }, time.Minute, 20*time.Millisecond,
		"nothing is left behind")
	now, err := os.ReadFile(filepath.Join(dir, inspection.File))
	require.NoError(t, err)
	assert.Equal(t, form, now)
	assert.Empty(t, j.Sheet().Shots[0].Valves)
	keepPicture(t, b, "full-1200-light")

	empty()
	b.until(t, "document.querySelectorAll('.tile.good').length === 2 && !document.querySelector('.bringing')")
	eval[any](t, b, "void document.querySelector('.tile').focus()")
	press(t, b, "2", "1")
	require.Eventually(t, func() bool { return len(find(j, "IMG_1.JPG").Valves) == 1 }, time.Minute, 20*time.Millisecond)
	b.until(t, "document.querySelector('.said').hidden")
}

// What was measured cannot be written down while the disk is full: a note says so until it was.
func TestResultsWaitForRoom(t *testing.T) {
	dir, fill, empty := smallDisk(t)
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl1-valve1-before.jpg"})
	bayed, _ := start(t, dir, Options{})
	fill()
	j := ready(t, bayed, 1)
	require.Eventually(t, func() bool { return len(j.Sheet().Notes) == 1 }, time.Minute, 20*time.Millisecond)
	assert.Contains(t, j.Sheet().Notes[0], "results.json cannot be written")
	empty()
	require.Eventually(t, func() bool { return len(j.Sheet().Notes) == 0 && listing(t, dir)["results.json"] > 0 }, time.Minute,
		20*time.Millisecond)
	for name := range listing(t, dir) {
		assert.Contains(t, []string{"IMG_1.JPG", "results.json"}, name)
	}
}
