package queue

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// Options say how to work. The zero value is right for everyday use.
type Options struct {
	// Workers is the number of photos scored at the same time; 0 means one per usable core.
	Workers int
	// Program is the program's version: tasks for another are left to whoever has it.
	Program string
	// Grade scores a photo, in place of the net; nil is the net.
	Grade func(t Task, data []byte, marks string) ([]score.Record, error)
	// Done, when not nil, is called after each task, by several goroutines: with nil, or why it failed.
	Done func(t Task, err error)
	// UntilEmpty ends the work when nothing is left to do.
	UntilEmpty bool
	// Rescue is how long a task may run before its worker is taken for dead; 0 means 5 minutes. It must be more than
	// scoring a photo can take.
	Rescue time.Duration
}

// The pauses between looks into the queue: at once while it is full, half a second while it is empty.
const (
	pauseFull  = 20 * time.Millisecond
	pauseEmpty = 500 * time.Millisecond
)

// Work takes tasks until the context ends; those begun are finished. Any number of programs may work at the same time.
func Work(ctx context.Context, a *archive.Archive, o Options) error {
	if err := prepare(ctx, a); err != nil {
		return err
	}
	owns, err := a.Owns(ctx)
	if err != nil {
		return err
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	rescue := cmp.Or(o.Rescue, 5*time.Minute)
	h := &hands{archive: a, options: o, free: map[string][]*score.Scorer{}}
	defer h.close()
	workers := river.NewWorkers()
	river.AddWorker(workers, h)
	client, err := river.NewClient(driver(a), &river.Config{
		Queues:  map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: o.Workers}},
		Workers: workers, Logger: quiet, PollOnly: true,
		FetchCooldown: pauseFull, FetchPollInterval: pauseEmpty,
		JobTimeout: rescue * 2 / 3, RescueStuckJobsAfter: rescue,
		DiscardedJobRetentionPeriod: -1, // kept until somebody has looked
		// A shop sees its own tasks alone, and who leads looks after those of all.
		LeaderElectionDisabled: !owns,
	})
	if err != nil {
		return err
	}
	// Started without ctx, whose end would end the tasks begun: Stop lets them finish.
	if err := client.Start(context.WithoutCancel(ctx)); err != nil {
		return archive.Explain(err)
	}
	wait(ctx, a, o)
	return client.Stop(context.WithoutCancel(ctx))
}

// wait returns when the context ends, or when nothing is left to do where that was asked for.
func wait(ctx context.Context, a *archive.Archive, o Options) {
	if !o.UntilEmpty {
		<-ctx.Done()
		return
	}
	for {
		select {
		case <-ctx.Done():
			return
		case <-time.After(pauseEmpty):
		}
		if p, err := count(ctx, a); err == nil && p.Waiting+p.Running+p.Again == 0 {
			return
		}
	}
}

// hands score tasks. Each scorer owns its nets and is used by one task at a time.
type hands struct {
	river.WorkerDefaults[Task]
	archive *archive.Archive
	options Options
	nets    sync.Map // contents by hash
	lock    sync.Mutex
	free    map[string][]*score.Scorer // by nets
}

// otherVersion is how long a task that needs another version of the program is put off.
const otherVersion = time.Minute

// Work implements river.Worker.
func (h *hands) Work(ctx context.Context, job *river.Job[Task]) error {
	err := h.work(ctx, job)
	if h.options.Done != nil {
		h.options.Done(job.Args, err)
	}
	var other *versionError
	switch {
	case errors.As(err, &other):
		return river.JobSnooze(otherVersion)
	case errors.Is(err, archive.ErrForgotten): // nothing is left to be done
		return river.JobCancel(err)
	}
	return err
}

func (h *hands) work(ctx context.Context, job *river.Job[Task]) error {
	t := job.Args
	look := archive.Look{Photo: t.Photo, Marks: t.Marks, Shop: t.Shop}
	data, marks, err := h.archive.Taken(ctx, look)
	if err != nil {
		return err
	}
	grade := h.options.Grade
	if grade == nil {
		grade = h.grade(ctx)
	}
	valves, err := grade(t, data, marks)
	if err != nil {
		return err
	}
	return h.archive.Judge(
		ctx,
		look,
		t.Version,
		valves,
		t.Adopt,
		func(tx *sql.Tx) error { return h.complete(ctx, tx, job) },
	)
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
func (h *hands) grade(ctx context.Context) func(Task, []byte, string) ([]score.Record, error) {
	return func(t Task, data []byte, marks string) ([]score.Record, error) {
		options := score.Options{Program: h.options.Program}
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
		valves, err := Score(scorer, data, marks)
		h.give(t, scorer)
		return valves, err
	}
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

// taken numbers the names that photos get while they are scored.
var taken atomic.Int64

// Score scores a photo with outlines as YAML, "" for none.
func Score(s *score.Scorer, data []byte, marks string) ([]score.Record, error) {
	name := fmt.Sprintf("photo-%d", taken.Add(1))
	var valves []*score.Result
	if marks == "" {
		valves = s.ScoreBytes(name, data)
	} else {
		// A scorer reads outlines from the file beside the photo.
		dir, err := os.MkdirTemp("", "valvegrade-")
		if err != nil {
			return nil, err
		}
		defer os.RemoveAll(dir)
		path := filepath.Join(dir, name)
		if err := errors.Join(os.WriteFile(path, data, 0o600), os.WriteFile(region.MarksPath(path), []byte(marks), 0o600)); err != nil {
			return nil, err
		}
		valves = s.Score(path)
	}
	records := make([]score.Record, len(valves))
	for n, v := range valves {
		records[n] = v.Record()
		records[n].Photo, records[n].Label = "", ""
	}
	return records, nil
}
