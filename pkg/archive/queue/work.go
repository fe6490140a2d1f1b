package queue

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"time"

	"github.com/riverqueue/river"

	"valvegrade/pkg/archive"
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
	// Trouble, when not nil, is called with what hinders all work, such as a database that is away, and with nil when it
	// is over.
	Trouble func(error)
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

// fetchedAhead is how many tasks a program takes for each photo that it scores at the same time: while one is scored, the
// next is read, and the one before is written down.
const fetchedAhead = 3

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
	o.Rescue = cmp.Or(o.Rescue, 5*time.Minute)
	h := &hands{archive: a, options: o, turns: make(chan struct{}, o.Workers), free: map[string][]*score.Scorer{}}
	defer h.close()
	if err := h.setWatch(ctx, owns); err != nil {
		return err
	}
	workers := river.NewWorkers()
	river.AddWorker(workers, h)
	client, err := river.NewClient(driver(a), &river.Config{
		Queues:  map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: fetchedAhead * o.Workers}},
		Workers: workers, Logger: quiet, PollOnly: true,
		FetchCooldown: pauseFull, FetchPollInterval: pauseEmpty,
		JobTimeout: o.Rescue * 2 / 3, RescueStuckJobsAfter: o.Rescue,
		DiscardedJobRetentionPeriod: -1, // kept until somebody has looked
		// A shop sees its own tasks alone, and who leads looks after those of all, by its own clock.
		LeaderElectionDisabled: !owns || h.watch.Load().wrong != nil,
	})
	if err != nil {
		return err
	}
	// Started without ctx, whose end would end the tasks begun: Stop lets them finish.
	if err := client.Start(context.WithoutCancel(ctx)); err != nil {
		return archive.Explain(err)
	}
	h.wait(ctx, owns)
	return client.Stop(context.WithoutCancel(ctx))
}

// setWatch looks at the database's clock, and puts right what a jump of it has left.
func (h *hands) setWatch(ctx context.Context, owns bool) error {
	w, err := look(ctx, h.archive)
	if err != nil {
		return err
	}
	h.watch.Store(&w)
	return putRight(ctx, h.archive, owns)
}

// The pauses between looks at how the work goes, where it is to end with the last task and where not.
const (
	lookAtEnd  = pauseEmpty
	lookAtWork = 5 * time.Second
)

// clockEvery is how many looks at the clocks there are in the time after which a worker is taken for dead.
const clockEvery = 5

// wait returns when the context ends, or when nothing is left to do where that was asked for. It says what hinders.
func (h *hands) wait(ctx context.Context, owns bool) {
	pause := lookAtWork
	if h.options.UntilEmpty {
		pause = lookAtEnd
	}
	told := ""
	for clock := time.Now(); ; {
		select {
		case <-ctx.Done():
			return
		case <-time.After(pause):
		}
		left, err := anyLeft(ctx, h.archive)
		if err == nil && time.Since(clock) > h.options.Rescue/clockEvery {
			clock = time.Now()
			err = h.setWatch(ctx, owns)
		}
		switch {
		case ctx.Err() != nil:
			return
		case err == nil && !left && h.options.UntilEmpty:
			return
		case err == nil:
			err = h.watch.Load().wrong
		}
		if text := fmt.Sprint(err); h.options.Trouble != nil && text != told && (err != nil || told != "") {
			told = text
			h.options.Trouble(err)
		}
	}
}

// anyLeft reports whether a task waits or is being worked on.
func anyLeft(ctx context.Context, a *archive.Archive) (left bool, err error) {
	err = a.Database().QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM river_job
		WHERE state IN ('available', 'running', 'retryable', 'scheduled', 'pending'))`).Scan(&left)
	return left, archive.Explain(err)
}
