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

var (
	kills  = flag.Int("kills", 6, "how often TestNothingIsLostWhateverDies ends a worker or the database")
	scored = flag.Bool("scored", false, "have TestNothingIsLostWhateverDies score photos of testdata by the net")
)

// workerVariable makes this program a worker of the archive that it names, for the parent to kill.
const workerVariable = "VALVEGRADE_TEST_WORKER"

// rescue is short here, so that the tasks of a killed worker are soon handed out again.
const rescue = 4 * time.Second

// rescueScored leaves a busy machine the time to score what a worker has taken.
const rescueScored = 30 * time.Second

// again is the program by which photos are scored again.
var again = score.Options{Program: "2.0.0"}

// slowly takes so long that the work lasts as long as the killing.
func slowly(t queue.Task, data []byte, marks string) ([]score.Record, error) {
	time.Sleep(time.Duration(200+rand.IntN(600)) * time.Millisecond)
	return graded(t, data, marks)
}

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
		o := queue.Options{Workers: 2, Rescue: rescue, UntilEmpty: true, Program: again.Program}
		switch scoring, err := time.ParseDuration(os.Getenv(workerVariable + "_SCORING")); {
		case err == nil:
			o.Workers, o.Rescue, o.Grade = 1, 0, waiting(scoring)
		case os.Getenv(workerVariable+"_SCORED") != "":
			o.Rescue = rescueScored
		default:
			o.Grade = slowly
		}
		err = queue.Work(context.Background(), a, o)
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
	version, photos := next, noPhotos
	if *scored { // half as many: the net takes each of them twice, in the work and in the check
		inspections, version, photos = 10+*kills/2, again.Version(), testPhotos
	}
	for n := range inspections {
		addPhotos(t, a, n, photos)
	}
	waiting, err := queue.Put(ctx, a, queue.Order{Adopt: true, Version: version})
	require.NoError(t, err)
	require.Equal(t, 4*inspections, waiting)
	a.Close()

	workers := make([]*exec.Cmd, 3)
	start := func(n int) {
		workers[n] = exec.Command(os.Args[0])
		workers[n].Env = append(
			os.Environ(),
			workerVariable+"="+place,
			workerVariable+"_PHOTOS="+filepath.Join(dir, "photos"),
		)
		if *scored {
			workers[n].Env = append(workers[n].Env, workerVariable+"_SCORED=yes")
		}
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
	limited, stop := context.WithTimeout(ctx, 30*time.Minute)
	defer stop()
	rest := queue.Options{Grade: graded, UntilEmpty: true, Rescue: rescue, Program: again.Program}
	if *scored {
		rest.Grade, rest.Rescue = nil, rescueScored
	}
	require.NoError(t, queue.Work(limited, a, rest))
	p, err := queue.Look(ctx, a)
	require.NoError(t, err)
	assert.Equal(t, 4*inspections, p.Done, "%+v", p)
	assert.Zero(t, p.Dead)
	versions, err := a.Versions(ctx)
	require.NoError(t, err)
	assert.Equal(t, 4*inspections, versions[version], "one result for each photo")
	s, err := a.Statistics(ctx, archive.Filter{}, "")
	require.NoError(t, err)
	adopted, err := archive.ParseFilter([]string{"version=" + version})
	require.NoError(t, err)
	of, err := a.Statistics(ctx, adopted, "")
	require.NoError(t, err)
	assert.Equal(t, s, of, "all inspections have adopted")
	checked, err := a.Check(ctx, checking(t))
	require.NoError(t, err)
	assert.Empty(t, checked.Faults)
	assert.Equal(t, 4*inspections, checked.Photos)
	fmt.Fprintf(os.Stderr, "%s: %d kills, %d photos, each with one result; %d made again\n", engine, *kills, versions[version], checked.Again)
}

// checking scores every photo again, where that was done by the net.
func checking(t *testing.T) (o archive.CheckOptions) {
	if !*scored {
		return o
	}
	scorer, err := score.New(again)
	require.NoError(t, err)
	t.Cleanup(scorer.Close)
	o.Version = again.Version()
	o.Score = func(data []byte, marks string) []score.Record { return queue.Score(scorer, data, marks) }
	return o
}

// testPhotos are the photos of an engine, told apart by what follows the end of each picture.
func testPhotos(t testing.TB, number, cylinder int) []byte {
	data, err := os.ReadFile(fmt.Sprintf("../../../testdata/engine/cyl%d-valve%d-before.jpg", 1+cylinder, 1+number%2))
	require.NoError(t, err)
	return fmt.Appendf(data, "%d", number)
}
