package queue

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/score"
)

// hands score tasks. Each scorer owns its nets and is used by one task at a time.
type hands struct {
	river.WorkerDefaults[Task]
	archive *archive.Archive
	options Options
	turns   chan struct{} // holds one for each photo that is being scored
	watch   atomic.Pointer[watch]
	nets    sync.Map // contents by hash
	lock    sync.Mutex
	free    map[string][]*score.Scorer // by nets
}

// otherVersion is how long a task that needs another version of the program is put off.
const otherVersion = time.Minute

// pauseAfter is how long a task waits that has failed so many times.
func pauseAfter(tries int) time.Duration {
	return time.Duration(tries*tries*tries*tries) * time.Second
}

// NextRetry implements river.Worker.
func (h *hands) NextRetry(job *river.Job[Task]) time.Time {
	return h.watch.Load().now().Add(pauseAfter(job.Attempt))
}

// Work implements river.Worker.
func (h *hands) Work(ctx context.Context, job *river.Job[Task]) error {
	err := h.work(ctx, job)
	if h.options.Done != nil {
		h.options.Done(job.Args, err)
	}
	var other *versionError
	switch {
	case errors.As(err, &other):
		return river.JobSnooze(otherVersion + max(0, -h.watch.Load().ahead()))
	case errors.Is(err, errNoTurn): // it goes back, and no try is counted
		return river.JobSnooze(0)
	case errors.Is(err, archive.ErrForgotten): // nothing is left to be done
		return river.JobCancel(err)
	}
	return err
}

// work scores a photo when its turn comes. It is read before that, and written down after it, while others are scored.
func (h *hands) work(ctx context.Context, job *river.Job[Task]) error {
	t := job.Args
	look := archive.Look{Photo: t.Photo, Marks: t.Marks, Shop: t.Shop}
	data, marks, err := h.archive.Taken(ctx, look)
	switch {
	case ctx.Err() != nil:
		return errNoTurn
	case err != nil:
		return err
	}
	valves, err := h.inTurn(ctx, t, data, marks)
	if err != nil {
		return err
	}
	// What was scored is written down, even if the task's time was over meanwhile: a third of Rescue is left for it.
	ctx, stop := context.WithTimeout(context.WithoutCancel(ctx), h.options.Rescue/3)
	defer stop()
	return h.archive.Judge(
		ctx,
		look,
		t.Version,
		valves,
		t.Adopt,
		func(tx *sql.Tx) error { return h.complete(ctx, tx, job) },
	)
}

// errNoTurn says that a task's time was over before its turn came.
var errNoTurn = errors.New("its turn did not come in time: another machine, or more time, is needed")

func (h *hands) inTurn(ctx context.Context, t Task, data []byte, marks string) ([]score.Record, error) {
	select {
	case h.turns <- struct{}{}:
	case <-ctx.Done():
		return nil, errNoTurn
	}
	defer func() { <-h.turns }()
	if h.options.Grade != nil {
		return h.options.Grade(t, data, marks)
	}
	return h.grade(ctx, t, data, marks)
}

// complete ends the task in the transaction that writes its result.
func (h *hands) complete(ctx context.Context, tx *sql.Tx, job *river.Job[Task]) (err error) {
	if h.archive.Location().Shared() {
		_, err = river.JobCompleteTx[*riverdatabasesql.Driver](ctx, tx, job)
	} else {
		_, err = river.JobCompleteTx[*riversqlite.Driver](ctx, tx, job)
	}
	return err
}

// versionError says that a task is for another version of the program.
type versionError struct{ wanted, have string }

func (e *versionError) Error() string {
	return fmt.Sprintf("a task needs valvegrade %s, this is %s: it is left to a machine that has it", e.wanted, e.have)
}

// grade scores with the nets of the task.
func (h *hands) grade(ctx context.Context, t Task, data []byte, marks string) ([]score.Record, error) {
	options := score.Options{Program: h.options.Program, Map: true}
	for _, hash := range t.Nets {
		onnx, err := h.net(ctx, hash)
		if err != nil {
			return nil, err
		}
		options.Nets = append(options.Nets, onnx)
	}
	if have := options.Version(); have != t.Version {
		return nil, &versionError{t.Version, have}
	}
	scorer, err := h.take(t, options)
	if err != nil {
		return nil, err
	}
	// A scorer that panicked is not given back: whatever state the failure left must not reach the next photo.
	valves := Score(scorer, data, marks)
	h.give(t, scorer)
	return valves, nil
}

// net returns a net from the store, which is asked once for each.
func (h *hands) net(ctx context.Context, hash string) ([]byte, error) {
	if onnx, known := h.nets.Load(hash); known {
		return onnx.([]byte), nil
	}
	onnx, err := h.archive.Net(ctx, hash)
	if err == nil {
		h.nets.Store(hash, onnx)
	}
	return onnx, err
}

func (h *hands) take(t Task, o score.Options) (*score.Scorer, error) {
	h.lock.Lock()
	defer h.lock.Unlock()
	key := strings.Join(t.Nets, " ")
	if free := h.free[key]; len(free) > 0 {
		h.free[key] = free[:len(free)-1]
		return free[len(free)-1], nil
	}
	return score.New(o)
}

func (h *hands) give(t Task, s *score.Scorer) {
	h.lock.Lock()
	defer h.lock.Unlock()
	key := strings.Join(t.Nets, " ")
	h.free[key] = append(h.free[key], s)
}

func (h *hands) close() {
	h.lock.Lock()
	defer h.lock.Unlock()
	for _, free := range h.free {
		for _, s := range free {
			s.Close()
		}
	}
}

// Score scores a photo with outlines as YAML, "" for none.
func Score(s *score.Scorer, data []byte, marks string) []score.Record {
	valves := s.ScoreBytes("photo", data, []byte(marks))
	records := make([]score.Record, len(valves))
	for n, v := range valves {
		records[n] = v.Record()
		records[n].Photo, records[n].Label = "", ""
	}
	return records
}
