package score

import (
	"context"
	"fmt"
	"runtime"
	"sync"
)

// BatchOptions say how to score many photos.
type BatchOptions struct {
	Options
	// Workers is the number of photos measured at the same time; 0 means one per usable core.
	Workers int
	// Crew, when not nil, has the workers, which need not load their nets again for the next batch.
	Crew *Crew
	// Picture, when not nil, is called once for each photo, with the results of its valves, by the worker that made
	// them, so several calls run at the same time and in any order: the place for drawing and writing pictures. An
	// error, or a failure of the program, ends the batch.
	Picture func(valves []*Result) error
}

// Batch scores the photos and calls each with every valve's result in the order of paths, the valves of a photo from
// left to right, one call at a time.
//
// Memory does not grow with the number of photos: after each returns, the result loses its Photo, Region and Deposit;
// keep Result.Record instead. A program failure inside one photo is a refusal of that photo. When ctx is cancelled no
// further photo is begun, those begun are finished and handed on, and the context's error is returned. An error of each
// or of Picture ends the batch in the same way.
func Batch(ctx context.Context, paths []string, o BatchOptions, each func(*Result) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, len(paths))

	todo := make(chan job)
	// The queue holds jobs in input order; its length bounds how far workers may run ahead of a slow photo.
	queue := make(chan job, workers)
	var working sync.WaitGroup
	for range workers {
		working.Go(func() { work(o, todo, stop) })
	}
	go func() {
		defer close(queue)
		defer close(todo)
		for i, label := range Labels(paths) {
			j := job{path: paths[i], label: label, done: make(chan []*Result, 1)}
			if ctx.Err() != nil { // asked first: select picks at random when a worker is ready, too
				return
			}
			select {
			case <-ctx.Done():
				return
			case todo <- j:
				queue <- j
			}
		}
	}()
	handOver(queue, each, stop)
	working.Wait()
	return context.Cause(ctx)
}

// handOver gives the results to each in the order of the queue, until each objects; the queue is emptied in any case.
func handOver(queue <-chan job, each func(*Result) error, stop context.CancelCauseFunc) {
	var objection error
	for j := range queue {
		for _, r := range <-j.done {
			if objection == nil {
				if objection = each(r); objection != nil {
					stop(objection)
				}
			}
			r.release()
		}
	}
}

// job is one photo on its way through the batch. done receives its results, or is closed when a failure of the whole
// batch left none.
type job struct {
	path, label string
	done        chan []*Result
}

// work measures jobs with a worker of its own until there are none left.
func work(o BatchOptions, todo <-chan job, stop context.CancelCauseFunc) {
	worker := o.Crew.lend(o.Options)
	defer o.Crew.takeBack(worker)
	for j := range todo {
		valves, err := worker.Score(j.path)
		if err != nil {
			stop(err)
			close(j.done)
			continue
		}
		for _, r := range valves {
			r.Label = j.label
		}
		if err := picture(o, valves); err != nil {
			stop(err)
			close(j.done)
			continue
		}
		j.done <- valves
	}
}

// picture calls Picture; a program failure in it ends the batch with an error that names the photo.
func picture(o BatchOptions, valves []*Result) (err error) {
	if o.Picture == nil {
		return nil
	}
	defer func() {
		if failure := recover(); failure != nil {
			err = fmt.Errorf("score: picture of %q: %v", valves[0].Name, failure)
		}
	}()
	return o.Picture(valves)
}
