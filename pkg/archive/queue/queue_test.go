package queue_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cluster"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

var server *cluster.Server

func TestMain(m *testing.M) {
	if place := os.Getenv(workerVariable); place != "" {
		workAsChild(place)
		return
	}
	var err error
	if server, err = cluster.Start(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	server.Remove()
	os.Exit(code)
}

var databases atomic.Int64

// onBoth runs a test on an archive of either kind with a few inspections of four photos each.
func onBoth(t *testing.T, inspections int, test func(t *testing.T, a *archive.Archive, o archive.Options)) {
	for _, engine := range []string{"SQLite", "PostgreSQL"} {
		t.Run(engine, func(t *testing.T) {
			dir := t.TempDir()
			place := filepath.Join(dir, "archive.db")
			if engine == "PostgreSQL" {
				url, err := server.Make(fmt.Sprintf("queue_%d", databases.Add(1)))
				require.NoError(t, err)
				place = url
			}
			location, err := archive.Locate(place)
			require.NoError(t, err)
			o := archive.Options{Location: location, Photos: filepath.Join(dir, "photos"), Program: "1.0.0"}
			a, err := archive.Open(context.Background(), o)
			require.NoError(t, err)
			t.Cleanup(func() { a.Close() })
			for n := range inspections {
				addFolder(t, a, n)
			}
			test(t, a, o)
		})
	}
}

// addFolder adds an inspection of four files that are no photos, so that scoring them costs nothing.
func addFolder(t testing.TB, a *archive.Archive, number int) { addPhotos(t, a, number, noPhotos) }

func noPhotos(_ testing.TB, number, cylinder int) []byte {
	return fmt.Appendf(nil, "%d %d", number, cylinder)
}

// addPhotos adds an inspection of a photo a cylinder.
func addPhotos(t testing.TB, a *archive.Archive, number int, photo func(t testing.TB, number, cylinder int) []byte) {
	i := &inspection.Inspection{
		Dir:      t.TempDir(),
		Vehicle:  fmt.Sprint("car ", number),
		Engine:   inspection.Layout{Cylinders: 4, Valves: 1},
		Date:     time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC),
		Stage:    inspection.Routine,
		Odometer: inspection.Odometer{Value: 1000, Unit: inspection.Kilometres},
	}
	for c := range 4 {
		p := inspection.Photo{File: fmt.Sprintf("%d.jpg", c+1), Cylinder: c + 1, Valve: 1}
		require.NoError(t, os.WriteFile(i.Path(p), photo(t, number, c), 0o600))
		i.Photos = append(i.Photos, p)
	}
	v, err := archive.FromFolder(i)
	require.NoError(t, err)
	require.NoError(t, v.Score(context.Background(), score.BatchOptions{Options: score.Options{Program: "1.0.0"}}, nil))
	_, _, err = a.Add(context.Background(), v)
	require.NoError(t, err)
}

// graded is a result for the tests: every photo gets the index 50.
func graded(t queue.Task, data []byte, _ string) ([]score.Record, error) {
	hash := archive.Hash(data)
	figure := measure.Figure{Value: 50, Low: 45, High: 55}
	shares := measure.SharesOf([4]float64{50, 0, 0, 50})
	r := score.Record{
		ValveInPhoto:  1,
		ValvesInPhoto: 1,
		SHA256:        &hash,
		Status:        score.Scored,
		Written:       grade.Of(figure, grade.Probabilities{}).Write(),
		Scale:         grade.Scale,
		Version:       t.Version,
		Pixels:        new(5000),
	}
	r.WrittenReading = measure.Reading{Index: figure, Coverage: figure}.Write()
	r.Shares = new(shares.Write())
	return []score.Record{r}, nil
}

const next = "2.0.0+net.ba9876543210"

func put(t *testing.T, a *archive.Archive, o queue.Order) int {
	o.Version = next
	n, err := queue.Put(context.Background(), a, o)
	require.NoError(t, err)
	return n
}

func TestEveryPhotoIsScoredOnceByManyWorkers(t *testing.T) {
	onBoth(t, 10, func(t *testing.T, a *archive.Archive, o archive.Options) {
		ctx := context.Background()
		assert.Equal(t, 40, put(t, a, queue.Order{Adopt: true}))
		assert.Zero(t, put(t, a, queue.Order{Adopt: true}), "they wait already")
		var lock sync.Mutex
		times := map[int64]int{}
		var together sync.WaitGroup
		for range 3 { // three programs
			b, err := archive.Open(ctx, o)
			require.NoError(t, err)
			together.Go(func() {
				defer b.Close()
				err := queue.Work(
					ctx,
					b,
					queue.Options{Workers: 2, Grade: graded, UntilEmpty: true, Done: func(t queue.Task, _ error) {
						lock.Lock()
						defer lock.Unlock()
						times[t.Photo]++
					}},
				)
				assert.NoError(t, err)
			})
		}
		together.Wait()
		assert.Len(t, times, 40)
		for photo, n := range times {
			assert.Equal(t, 1, n, photo)
		}
		versions, err := a.Versions(ctx)
		require.NoError(t, err)
		assert.Equal(t, 40, versions[next])
		s, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		require.Len(t, s.Families, 1)
		assert.Equal(t, 10, s.Families[0].Grades[3], "the new results count")
		checked, err := a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
		assert.Zero(t, put(t, a, queue.Order{}), "all is done")
		p, err := queue.Look(ctx, a)
		require.NoError(t, err)
		assert.Equal(t, 40, p.Done)
	})
}

func TestResultsStandBesideUnlessAdopted(t *testing.T) {
	onBoth(t, 1, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		ctx := context.Background()
		put(t, a, queue.Order{})
		require.NoError(t, queue.Work(ctx, a, queue.Options{Grade: graded, UntilEmpty: true}))
		kept, err := a.Inspection(ctx, 1)
		require.NoError(t, err)
		assert.Nil(t, kept.Grade)
		earlier := kept.Version
		other, err := a.Graded(ctx, 1, next)
		require.NoError(t, err)
		assert.InDelta(t, 50, other.Engine.Worst.Value, 1e-9)
		changes, err := a.Compare(ctx, earlier, next)
		require.NoError(t, err)
		assert.Equal(t, 4, changes.Judged)
	})
}

func TestFailedTasksAreTriedAgain(t *testing.T) {
	onBoth(t, 1, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		ctx, stop := context.WithTimeout(context.Background(), time.Minute)
		defer stop()
		put(t, a, queue.Order{})
		var failed atomic.Int64
		flaky := func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
			if failed.Add(1) == 1 {
				return nil, errors.New("the store is away")
			}
			return graded(t, data, marks)
		}
		require.NoError(t, queue.Work(ctx, a, queue.Options{Grade: flaky, UntilEmpty: true, Workers: 1}))
		assert.EqualValues(t, 5, failed.Load())
		versions, err := a.Versions(context.Background())
		require.NoError(t, err)
		assert.Equal(t, 4, versions[next])
	})
}

// A program takes more tasks than it scores at the same time. While one takes long, the others go back again and again:
// more often than a task is tried, and none counts as failed.
func TestTasksWhoseTurnDoesNotComeGoBack(t *testing.T) {
	onBoth(t, 1, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		ctx, stop := context.WithTimeout(context.Background(), time.Minute)
		defer stop()
		put(t, a, queue.Order{})
		const returns = 7 // a task that failed so often would have been given up
		var long atomic.Int64
		var lock sync.Mutex
		back, often := map[int64]int{}, make(chan struct{})
		slow := func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
			if long.CompareAndSwap(0, t.Photo) {
				select {
				case <-often:
				case <-ctx.Done():
				}
			}
			return graded(t, data, marks)
		}
		require.NoError(t, queue.Work(ctx, a, queue.Options{Grade: slow, UntilEmpty: true, Workers: 1, Rescue: 2 * time.Second,
			Done: func(t queue.Task, err error) {
				lock.Lock()
				defer lock.Unlock()
				if err == nil {
					return
				}
				if back[t.Photo]++; back[t.Photo] == returns {
					close(often)
				}
			}}))
		require.NoError(t, ctx.Err(), "it did not end by itself")
		versions, err := a.Versions(context.Background())
		require.NoError(t, err)
		assert.Equal(t, 4, versions[next])
		failed := 0 // but for the long one, which is taken for one whose worker died; tasks are put in in the order of photos
		err = a.Database().QueryRow(`SELECT COUNT(*) FROM river_job WHERE (attempt > 1 OR errors IS NOT NULL) AND id <> $1`,
			long.Load()).Scan(&failed)
		require.NoError(t, err)
		assert.Zero(t, failed)
	})
}

func TestAnotherVersionsTasksAreLeft(t *testing.T) {
	onBoth(t, 1, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		put(t, a, queue.Order{})
		ctx, stop := context.WithTimeout(context.Background(), 3*time.Second)
		defer stop()
		var told atomic.Value
		require.NoError(t, queue.Work(ctx, a, queue.Options{Program: "1.0.0", Done: func(_ queue.Task, err error) {
			if err != nil {
				told.Store(err.Error())
			}
		}}))
		assert.Contains(t, told.Load(), "a task needs valvegrade "+next)
		p, err := queue.Look(context.Background(), a)
		require.NoError(t, err)
		assert.Equal(t, 4, p.Waiting)
		assert.Zero(t, p.Dead)
	})
}

func TestForgottenPhotosEndTheirTasks(t *testing.T) {
	onBoth(t, 1, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		ctx := context.Background()
		put(t, a, queue.Order{})
		_, err := a.Forget(ctx, 1)
		require.NoError(t, err)
		require.NoError(t, queue.Work(ctx, a, queue.Options{Grade: graded, UntilEmpty: true}))
		versions, err := a.Versions(ctx)
		require.NoError(t, err)
		assert.Zero(t, versions[next])
	})
}

func TestSixtyFourWorkers(t *testing.T) {
	onBoth(t, 5, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		put(t, a, queue.Order{Adopt: true})
		require.NoError(
			t,
			queue.Work(context.Background(), a, queue.Options{Workers: 64, Grade: graded, UntilEmpty: true}),
		)
		versions, err := a.Versions(context.Background())
		require.NoError(t, err)
		assert.Equal(t, 20, versions[next])
		checked, err := a.Check(context.Background(), archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
	})
}
