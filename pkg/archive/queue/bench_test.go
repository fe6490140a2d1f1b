package queue_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
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

// BenchmarkProcesses is the same with a worker each in several programs, without scoring and with it.
func BenchmarkProcesses(b *testing.B) {
	for _, engine := range []string{"SQLite", "PostgreSQL"} {
		a, o := benchArchive(b, engine)
		place := o.Location.File()
		if place == "" {
			place = o.Location.String()
		}
		for _, scoring := range []time.Duration{0, *scoring} {
			for _, n := range []int{1, 2, 4, 8} {
				b.Run(fmt.Sprintf("%s-%s-%d", engine, scoring, n), func(b *testing.B) {
					for b.Loop() {
						put := putNew(b, a)
						children := make([]*exec.Cmd, n)
						for n := range children {
							children[n] = exec.Command(os.Args[0])
							children[n].Env = append(os.Environ(), workerVariable+"="+place, workerVariable+"_PHOTOS="+o.Photos,
								workerVariable+"_SCORING="+scoring.String())
							require.NoError(b, children[n].Start())
						}
						for _, child := range children {
							require.NoError(b, child.Wait())
						}
						report(b, put, n, scoring, between(b, a, put))
					}
				})
			}
		}
	}
}

// between is the time from when the last so many tasks were begun until all were done.
func between(b *testing.B, a *archive.Archive, put int) time.Duration {
	rows, err := a.Database().Query(`SELECT attempted_at, finalized_at FROM river_job WHERE state = 'completed' ORDER BY id DESC LIMIT $1`, put)
	require.NoError(b, err)
	defer rows.Close()
	var first, last time.Time
	done := 0
	for ; rows.Next(); done++ {
		var begun, ended time.Time
		require.NoError(b, rows.Scan(&begun, &ended))
		if first.IsZero() || begun.Before(first) {
			first = begun
		}
		if ended.After(last) {
			last = ended
		}
	}
	require.NoError(b, rows.Err())
	require.Equal(b, put, done)
	return last.Sub(first)
}

// waiting is graded, that long after.
func waiting(scoring time.Duration) func(queue.Task, []byte, string) ([]score.Record, error) {
	return func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
		time.Sleep(scoring)
		return graded(t, data, marks)
	}
}

// putNew has all photos scored by another version.
func putNew(b *testing.B, a *archive.Archive) int {
	put, err := queue.Put(context.Background(), a, queue.Order{Version: fmt.Sprint("v", databases.Add(1))})
	require.NoError(b, err)
	require.Equal(b, *photos, put)
	return put
}

// report says how many photos were done a second, and for how much of their time the workers waited.
func report(b *testing.B, put, workers int, scoring, took time.Duration) {
	b.ReportMetric(float64(put)/took.Seconds(), "photos/s")
	if scoring > 0 {
		share := scoring.Seconds() * float64(put) / float64(workers) / took.Seconds()
		b.ReportMetric(100*(1-share), "%-waiting")
	}
}

func benchmarkWork(b *testing.B, workers []int, scoring time.Duration) {
	for _, engine := range []string{"SQLite", "PostgreSQL"} {
		a, _ := benchArchive(b, engine)
		for _, n := range workers {
			b.Run(fmt.Sprintf("%s-%d", engine, n), func(b *testing.B) {
				for b.Loop() {
					measureWork(b, a, n, putNew(b, a), scoring)
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
			return waiting(scoring)(t, data, marks)
		},
		Done: func(queue.Task, error) {
			last.Store(time.Now().UnixNano())
			if done.Add(1) == int64(put) {
				stop()
			}
		}})
	require.NoError(b, err)
	report(b, put, workers, scoring, time.Duration(last.Load()-first.Load()))
}

// benchArchive has the photos that the flag says, eight an inspection.
func benchArchive(b *testing.B, engine string) (*archive.Archive, archive.Options) {
	dir := b.TempDir()
	place := filepath.Join(dir, "archive.db")
	if engine == "PostgreSQL" {
		url, err := server.Make(fmt.Sprintf("bench_%d", databases.Add(1)))
		require.NoError(b, err)
		place = url
	}
	location, err := archive.Locate(place)
	require.NoError(b, err)
	o := archive.Options{Location: location, Photos: filepath.Join(dir, "photos")}
	a, err := archive.Open(context.Background(), o)
	require.NoError(b, err)
	b.Cleanup(func() { a.Close() })
	for n := range *photos / 4 {
		addFolder(b, a, n)
	}
	fmt.Fprintf(os.Stderr, "%s: %d photos\n", engine, *photos)
	return a, o
}
