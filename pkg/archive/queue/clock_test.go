package queue_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cluster"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/score"
)

// onOwnServer runs a test on a server that it may stop and whose clock it may set.
func onOwnServer(t *testing.T, inspections int, test func(t *testing.T, s *cluster.Server, a *archive.Archive)) {
	s, err := cluster.Start()
	require.NoError(t, err)
	t.Cleanup(s.Remove)
	url, err := s.Make("own")
	require.NoError(t, err)
	location, err := archive.Locate(url)
	require.NoError(t, err)
	o := archive.Options{Location: location, Photos: filepath.Join(t.TempDir(), "photos"), Program: "1.0.0"}
	a, err := archive.Open(context.Background(), o)
	require.NoError(t, err)
	t.Cleanup(func() { a.Close() })
	for n := range inspections {
		addFolder(t, a, n)
	}
	test(t, s, a)
}

// troubles collects what Work says of what hinders it.
type troubles struct {
	lock sync.Mutex
	all  []string
}

func (t *troubles) add(err error) {
	t.lock.Lock()
	defer t.lock.Unlock()
	t.all = append(t.all, fmt.Sprint(err))
}

func (t *troubles) String() string {
	t.lock.Lock()
	defer t.lock.Unlock()
	return strings.Join(t.all, "\n")
}

// failing is graded, but for the first photo, which fails once.
func failing() func(queue.Task, []byte, string) ([]score.Record, error) {
	var begun atomic.Int64
	return func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
		if begun.Add(1) == 1 {
			return nil, errors.New("the store is away")
		}
		return graded(t, data, marks)
	}
}

// A machine whose clock differs from the database's works as others do, tries again what failed, and says so.
func TestAMachineWithAWrongClock(t *testing.T) {
	for word, ahead := range map[string]time.Duration{"behind": 2 * time.Hour, "ahead of": -2 * time.Hour} {
		t.Run(word, func(t *testing.T) {
			t.Parallel()
			onOwnServer(t, 3, func(t *testing.T, s *cluster.Server, a *archive.Archive) {
				require.NoError(t, s.SetClock(ahead))
				eventually(t, func() error { _, err := queue.Look(context.Background(), a); return err })
				require.Equal(t, 12, put(t, a, queue.Order{}))
				ctx, stop := context.WithTimeout(context.Background(), time.Minute)
				defer stop()
				var said troubles
				require.NoError(t, queue.Work(ctx, a, queue.Options{Grade: failing(), UntilEmpty: true, Workers: 2,
					Rescue: 4 * time.Second, Trouble: said.add}))
				require.NoError(t, ctx.Err(), "it did not end by itself")
				versions, err := a.Versions(context.Background())
				require.NoError(t, err)
				assert.Equal(t, 12, versions[next])
				assert.Contains(t, said.String(), "the clock of this machine is 2h0m")
				assert.Contains(t, said.String(), word+" the database's")
			})
		})
	}
}

// eventually does something until it succeeds: each connection notices once that its server is gone.
func eventually(t *testing.T, do func() error) {
	var err error
	for range 20 {
		if err = do(); err == nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	require.NoError(t, err)
}

// A clock that was put back leaves tasks, and whoever looks after them, in what is the future then.
func TestAClockThatWasPutBack(t *testing.T) {
	t.Parallel()
	onBoth(t, 3, func(t *testing.T, a *archive.Archive, _ archive.Options) {
		require.Equal(t, 12, put(t, a, queue.Order{}))
		later := `strftime('%Y-%m-%d %H:%M:%f', 'now', '+3 hours')`
		if a.Location().Shared() {
			later = `now() + interval '3 hours'`
		}
		for _, statement := range []string{
			`UPDATE river_job SET scheduled_at = ` + later,
			`UPDATE river_job SET state = 'retryable', attempt = 1 WHERE id IN (2, 3)`,
			`UPDATE river_job SET state = 'running', attempt = 1, attempted_at = ` + later + ` WHERE id = 4`,
			`INSERT INTO river_leader (leader_id, elected_at, expires_at) VALUES ('of the dead', ` + later + `, ` + later + `)`,
		} {
			_, err := a.Database().Exec(statement)
			require.NoError(t, err)
		}
		ctx, stop := context.WithTimeout(context.Background(), 2*time.Minute)
		defer stop()
		require.NoError(t, queue.Work(ctx, a, queue.Options{Grade: graded, UntilEmpty: true, Rescue: 4 * time.Second}))
		require.NoError(t, ctx.Err(), "it did not end by itself")
		versions, err := a.Versions(context.Background())
		require.NoError(t, err)
		assert.Equal(t, 12, versions[next])
	})
}

// The database goes in the middle of the work and comes back with another clock.
func TestADatabaseThatComesBackWithAnotherClock(t *testing.T) {
	t.Parallel()
	onOwnServer(t, 10, func(t *testing.T, s *cluster.Server, a *archive.Archive) {
		require.Equal(t, 40, put(t, a, queue.Order{Adopt: true}))
		ctx, stop := context.WithTimeout(context.Background(), 3*time.Minute)
		defer stop()
		var said troubles
		var done atomic.Int64
		some := make(chan struct{})
		worked := make(chan error, 1)
		go func() {
			worked <- queue.Work(ctx, a, queue.Options{UntilEmpty: true, Workers: 2, Rescue: 4 * time.Second, Trouble: said.add,
				Grade: func(t queue.Task, data []byte, marks string) ([]score.Record, error) {
					time.Sleep(100 * time.Millisecond)
					return graded(t, data, marks)
				},
				Done: func(queue.Task, error) {
					if done.Add(1) == 8 {
						close(some)
					}
				}})
		}()
		<-some
		require.NoError(t, s.Stop())
		require.Eventually(t, func() bool { return strings.Contains(said.String(), archive.ErrGone.Error()) }, time.Minute, 50*time.Millisecond)
		require.NoError(t, s.SetClock(-3*time.Hour))
		require.NoError(t, <-worked)
		require.NoError(t, ctx.Err(), "it did not end by itself")
		assert.Contains(t, said.String(), "the clock of this machine is 3h0m")
		versions, err := a.Versions(context.Background())
		require.NoError(t, err)
		assert.Equal(t, 40, versions[next])
		checked, err := a.Check(context.Background(), archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
	})
}
