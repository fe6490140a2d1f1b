package queue_test

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cluster"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/score"
)

var kills = flag.Int("kills", 6, "how often TestNothingIsLostWhateverDies ends a worker or the database")

// workerVariable makes this program a worker of the archive that it names, for the parent to kill.
const workerVariable = "VALVEGRADE_TEST_WORKER"

// rescue is short here, so that the tasks of a killed worker are soon handed out again.
const rescue = 4 * time.Second

// workAsChild is the life of a worker: it ends only by being killed.
func workAsChild(place string) {
	location, err := archive.Locate(place)
	for err == nil {
		var a *archive.Archive
		a, err = archive.Open(
			context.Background(),
			archive.Options{Location: location, Photos: os.Getenv(workerVariable + "_PHOTOS")},
		)
		if err != nil { // the database is away
			time.Sleep(100 * time.Millisecond)
			err = nil
			continue
		}
		err = queue.Work(context.Background(), a, queue.Options{Workers: 2, Rescue: rescue, UntilEmpty: true,
			Grade: func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
				time.Sleep(
					time.Duration(200+rand.IntN(600)) * time.Millisecond,
				) // so that the work lasts as long as the killing
				return graded(t, data, marks)
			}})
		a.Close()
		if err == nil {
			return
		}
		err = nil
	}
}

// Workers and the database are killed at random moments. In the end every photo has one result, and every task is done.
func TestNothingIsLostWhateverDies(t *testing.T) {
	for _, engine := range []string{"SQLite", "PostgreSQL"} {
		t.Run(engine, func(t *testing.T) {
			t.Parallel()
			killAtRandom(t, engine)
		})
	}
}

func killAtRandom(t *testing.T, engine string) {
	dir, ctx := t.TempDir(), context.Background()
	place, own := filepath.Join(dir, "archive.db"), (*cluster.Server)(nil)
	if engine == "PostgreSQL" {
		var err error
		own, err = cluster.Start() // other tests would not like it to be killed
		require.NoError(t, err)
		defer own.Remove()
		place, err = own.Make("killed")
		require.NoError(t, err)
	}
	location, err := archive.Locate(place)
	require.NoError(t, err)
	a, err := archive.Open(ctx, archive.Options{Location: location, Photos: filepath.Join(dir, "photos")})
	require.NoError(t, err)
	inspections := 10 + *kills
	for n := range inspections {
		addFolder(t, a, n)
	}
	require.Equal(t, 4*inspections, put(t, a, queue.Order{Adopt: true}))
	a.Close()

	workers := make([]*exec.Cmd, 3)
	start := func(n int) {
		workers[n] = exec.Command(os.Args[0])
		workers[n].Env = append(
			os.Environ(),
			workerVariable+"="+place,
			workerVariable+"_PHOTOS="+filepath.Join(dir, "photos"),
		)
		require.NoError(t, workers[n].Start())
	}
	for n := range workers {
		start(n)
	}
	for n := range *kills {
		time.Sleep(time.Duration(100+rand.IntN(500)) * time.Millisecond)
		if own != nil && n%4 == 3 {
			require.NoError(t, own.Kill())
			time.Sleep(time.Duration(rand.IntN(300)) * time.Millisecond)
			require.NoError(t, own.Run())
			continue
		}
		victim := rand.IntN(len(workers))
		_ = workers[victim].Process.Kill()
		_ = workers[victim].Wait() // it was killed, or had nothing left to do
		start(victim)
	}
	for _, worker := range workers {
		_ = worker.Process.Kill()
		_ = worker.Wait()
	}
	a, err = archive.Open(ctx, archive.Options{Location: location, Photos: filepath.Join(dir, "photos")})
	require.NoError(t, err)
	defer a.Close()
	limited, stop := context.WithTimeout(ctx, 4*time.Minute)
	defer stop()
	require.NoError(t, queue.Work(limited, a, queue.Options{Grade: graded, UntilEmpty: true, Rescue: rescue}))
	p, err := queue.Look(ctx, a)
	require.NoError(t, err)
	assert.Equal(t, 4*inspections, p.Done, "%+v", p)
	assert.Zero(t, p.Dead)
	versions, err := a.Versions(ctx)
	require.NoError(t, err)
	assert.Equal(t, 4*inspections, versions[next], "one result for each photo")
	checked, err := a.Check(ctx, archive.CheckOptions{})
	require.NoError(t, err)
	assert.Empty(t, checked.Faults)
	assert.Equal(t, 4*inspections, checked.Photos)
	s, err := a.Statistics(ctx, archive.Filter{})
	require.NoError(t, err)
	assert.Equal(t, inspections, s.Families[0].Grades[3], "all inspections have adopted")
	fmt.Fprintf(os.Stderr, "%s: %d kills, %d photos, each with one result\n", engine, *kills, versions[next])
}
