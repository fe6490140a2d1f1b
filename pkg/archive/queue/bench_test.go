package queue_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/score"
)

var (
	photos  = flag.Int("photos", 400, "photos that the benchmarks have scored")
	scoring = flag.Duration(
		"scoring",
		60*time.Millisecond,
		"what scoring a photo takes in BenchmarkWorkers, which waits instead",
	)
)

// BenchmarkFeed is what a database can feed: tasks a second that are taken, judged and ended without any scoring.
func BenchmarkFeed(b *testing.B) { benchmarkWork(b, []int{1, 2, 4, 8, 32}, 0) }

// BenchmarkWorkers is how much of a worker's time goes to scoring, where scoring takes as long as on a core of its own.
func BenchmarkWorkers(b *testing.B) { benchmarkWork(b, []int{1, 2, 4, 8}, *scoring) }

func benchmarkWork(b *testing.B, workers []int, scoring time.Duration) {
	for _, engine := range []string{"SQLite", "PostgreSQL"} {
		a := benchArchive(b, engine)
		for _, n := range workers {
			b.Run(fmt.Sprintf("%s-%d", engine, n), func(b *testing.B) {
				for b.Loop() {
					put, err := queue.Put(
						context.Background(),
						a,
						queue.Order{Version: fmt.Sprint("v", databases.Add(1))},
					)
					require.NoError(b, err)
					require.Equal(b, *photos, put)
					measureWork(b, a, n, put, scoring)
				}
			})
		}
	}
}

// measureWork takes the time between the first task and the last.
func measureWork(b *testing.B, a *archive.Archive, workers, put int, scoring time.Duration) {
	ctx, stop := context.WithCancel(context.Background())
	var first, last atomic.Int64
	var done atomic.Int64
	err := queue.Work(ctx, a, queue.Options{Workers: workers,
		Grade: func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
			first.CompareAndSwap(0, time.Now().UnixNano())
			time.Sleep(scoring)
			return graded(t, data, marks)
		},
		Done: func(queue.Task, error) {
			last.Store(time.Now().UnixNano())
			if done.Add(1) == int64(put) {
				stop()
			}
		}})
	require.NoError(b, err)
	seconds := time.Duration(last.Load() - first.Load()).Seconds()
	b.ReportMetric(float64(put)/seconds, "photos/s")
	if scoring > 0 {
		share := scoring.Seconds() * float64(put) / float64(workers) / seconds
		b.ReportMetric(100*(1-share), "%-waiting")
	}
}

// benchArchive has the photos that the flag says, eight an inspection.
func benchArchive(b *testing.B, engine string) *archive.Archive {
	dir := b.TempDir()
	place := filepath.Join(dir, "archive.db")
	if engine == "PostgreSQL" {
		url, err := server.Make(fmt.Sprintf("bench_%d", databases.Add(1)))
		require.NoError(b, err)
		place = url
	}
	location, err := archive.Locate(place)
	require.NoError(b, err)
	a, err := archive.Open(
		context.Background(),
		archive.Options{Location: location, Photos: filepath.Join(dir, "photos")},
	)
	require.NoError(b, err)
	b.Cleanup(func() { a.Close() })
	for n := range *photos / 4 {
		addFolder(b, a, n)
	}
	fmt.Fprintf(os.Stderr, "%s: %d photos\n", engine, *photos)
	return a
}
