package score

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/reason"
)

// folder makes so many files, every third of them no image, and returns their paths.
func folder(t *testing.T, files int) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i := range files {
		name := fmt.Sprintf("%02d.png", i)
		if i%3 == 2 {
			paths = append(paths, filepath.Join(dir, name))
			require.NoError(t, os.WriteFile(paths[i], []byte("no image"), 0o600))
			continue
		}
		paths = append(paths, plainPhoto(t, dir, name))
	}
	return paths
}

func TestBatchesOfACrewHaveTheSameWorkers(t *testing.T) {
	crew := new(Crew)
	paths := folder(t, 4)
	batch := func() (names []string) {
		require.NoError(t, Batch(t.Context(), paths, BatchOptions{Workers: 2, Crew: crew}, func(r *Result) error {
			names = append(names, r.Name)
			return nil
		}))
		return names
	}
	assert.Equal(t, paths, batch())
	require.Len(t, crew.idle, 2, "all have come back when the batch is over")
	scorers := func() (all []*Scorer) {
		for _, w := range crew.idle {
			all = append(all, w.scorer)
		}
		return all
	}
	first := scorers()
	assert.Equal(t, paths, batch())
	for _, s := range first {
		if s != nil { // one that had no photo has loaded nothing
			assert.True(t, slices.Contains(scorers(), s))
		}
	}
	worker := crew.idle[0]
	crew.Close()
	assert.Empty(t, crew.idle)
	assert.Nil(t, worker.scorer)
}

func TestBatchKeepsTheOrderAndLosesNone(t *testing.T) {
	paths := folder(t, 9)
	for _, workers := range []int{0, 1, 3, 20} {
		var names []string
		var drawn atomic.Int32
		o := BatchOptions{Workers: workers, Picture: func([]*Result) error { drawn.Add(1); return nil }}
		err := Batch(context.Background(), paths, o, func(r *Result) error {
			names = append(names, r.Name)
			assert.Equal(t, Refused, r.Status, "neither a plain grey nor a text shows a valve")
			return nil
		})
		require.NoError(t, err)
		assert.Equal(t, paths, names, "%d workers", workers)
		assert.Equal(t, len(paths), int(drawn.Load()))
	}
	assert.NoError(
		t,
		Batch(
			context.Background(),
			nil,
			BatchOptions{},
			func(*Result) error { return errors.New("no result expected") },
		),
	)
}

func TestBatchDropsThePicturesAfterHandingOver(t *testing.T) {
	var kept []*Result
	err := Batch(context.Background(), folder(t, 2), BatchOptions{}, func(r *Result) error {
		assert.NotNil(t, r.Photo)
		kept = append(kept, r)
		return nil
	})
	require.NoError(t, err)
	for _, r := range kept {
		assert.Nil(t, r.Photo)
		assert.Nil(t, r.Region)
	}
}

func TestBatchStopsWhenCancelledAndKeepsWhatIsDone(t *testing.T) {
	paths := folder(t, 30)
	ctx, cancel := context.WithCancel(context.Background())
	var names []string
	err := Batch(ctx, paths, BatchOptions{Workers: 2}, func(r *Result) error {
		names = append(names, r.Name)
		if len(names) == 3 {
			cancel()
		}
		return nil
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Less(t, len(names), len(paths))
	assert.Equal(t, paths[:len(names)], names, "what was begun is finished and handed on in order")
}

func TestBatchEndsWithTheFirstError(t *testing.T) {
	full := errors.New("disk full")
	calls := 0
	err := Batch(context.Background(), folder(t, 12), BatchOptions{}, func(*Result) error { calls++; return full })
	assert.ErrorIs(t, err, full)
	assert.Equal(t, 1, calls, "nothing is handed on after an error")

	err = Batch(
		context.Background(),
		folder(t, 12),
		BatchOptions{Picture: func([]*Result) error { return full }},
		func(*Result) error { return nil },
	)
	assert.ErrorIs(t, err, full)

	err = Batch(
		context.Background(),
		folder(t, 2),
		BatchOptions{Picture: func([]*Result) error { panic("no ink") }},
		func(*Result) error { return nil },
	)
	assert.ErrorContains(t, err, "no ink", "a failure of the program is an error, too")

	err = Batch(
		context.Background(),
		folder(t, 2),
		BatchOptions{Options: Options{Nets: [][]byte{[]byte("no net")}}},
		func(*Result) error { return nil },
	)
	assert.ErrorContains(t, err, "net")
}

func TestFailureInsideOnePhotoIsItsRefusal(t *testing.T) {
	path := plainPhoto(t, t.TempDir(), "a.png")
	valves, panicked := scoreSafely(&Scorer{}, path) // without a finder the scorer fails as a program does
	assert.True(t, panicked)
	require.Len(t, valves, 1)
	r := valves[0]
	assert.Equal(t, Refused, r.Status)
	assert.Equal(t, path, r.Name)
	require.Len(t, r.Reasons, 1)
	assert.Equal(t, reason.Failed, r.Reasons[0].Code)
}
