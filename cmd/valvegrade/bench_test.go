package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkCold times fresh processes: one that only starts and one that scores a photo of 640 x 480, on one core when
// run under `taskset -c 0`. MB-peak is the most memory that any of them held.
func BenchmarkCold(b *testing.B) {
	photo := demoPhotos(b)[0]
	b.Run("start", func(b *testing.B) { benchmarkProgram(b, "version") })
	b.Run("score", func(b *testing.B) { benchmarkProgram(b, "score", "--json", "-", photo) })
}

// BenchmarkManyPhotos scores ever more photos in one process: MB-peak must not grow with their number.
func BenchmarkManyPhotos(b *testing.B) {
	for _, count := range []int{1, 100, 500} {
		b.Run(fmt.Sprint(count), func(b *testing.B) {
			folder, photos := b.TempDir(), demoPhotos(b)
			for i := range count {
				require.NoError(b, os.Symlink(photos[i%len(photos)], filepath.Join(folder, fmt.Sprintf("%03d.jpg", i))))
			}
			benchmarkProgram(b, "score", "--json", filepath.Join(folder, "results.json"), folder)
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N*count), "ms/photo")
		})
	}
}

// benchmarkProgram runs the program, which TestMain has put on the path.
func benchmarkProgram(b *testing.B, arguments ...string) {
	b.Helper()
	peak := 0.0
	for b.Loop() {
		command := exec.Command("valvegrade", arguments...)
		text, err := command.CombinedOutput()
		require.NoError(b, err, string(text))
		used := command.ProcessState.SysUsage().(*syscall.Rusage)
		peak = max(peak, float64(used.Maxrss)/1024)
	}
	b.ReportMetric(peak, "MB-peak")
}

func demoPhotos(b *testing.B) []string {
	b.Helper()
	photos, err := filepath.Glob("../../testdata/engine/*.jpg")
	require.NoError(b, err)
	require.NotEmpty(b, photos, "the demo photos are missing")
	for i, path := range photos {
		photos[i], err = filepath.Abs(path)
		require.NoError(b, err)
	}
	return photos
}
