package bay

import (
	"sync"

	"valvegrade/pkg/score"
)

// task is one photo that waits to be graded.
type task struct {
	job  *Job
	file string
}

// queue holds tasks: those of photos that just arrived, for which somebody waits with the scope in hand, go first.
type queue struct {
	lock       sync.Mutex
	filled     *sync.Cond
	fresh, old []task
	closed     bool
}

func newQueue() *queue {
	q := &queue{}
	q.filled = sync.NewCond(&q.lock)
	return q
}

func (q *queue) add(t task, arrived bool) {
	q.lock.Lock()
	defer q.lock.Unlock()
	if arrived {
		q.fresh = append(q.fresh, t)
	} else {
		q.old = append(q.old, t)
	}
	q.filled.Signal()
}

// next waits for a task; ok is false after close.
func (q *queue) next() (t task, ok bool) {
	q.lock.Lock()
	defer q.lock.Unlock()
	for len(q.fresh)+len(q.old) == 0 && !q.closed {
		q.filled.Wait()
	}
	if q.closed {
		return task{}, false
	}
	from := &q.fresh
	if len(q.fresh) == 0 {
		from = &q.old
	}
	t = (*from)[0]
	*from = (*from)[1:]
	return t, true
}

func (q *queue) close() {
	q.lock.Lock()
	defer q.lock.Unlock()
	q.closed = true
	q.filled.Broadcast()
}

// work grades photos with warm nets of its own until the Bay is closed.
func (b *Bay) work() {
	options := b.options.Options
	options.Map = true // for results.json, which is compared when the photos are gone
	worker := score.NewWorker(options)
	defer worker.Close()
	_ = worker.Warm() // what is wrong with the nets is told for each photo
	for {
		t, ok := b.queue.next()
		if !ok {
			return
		}
		t.job.grade(worker, t.file)
	}
}

// Batch is how the photos of a whole inspection are graded.
func (b *Bay) Batch() score.BatchOptions {
	return score.BatchOptions{Options: b.options.Options, Workers: b.options.Workers}
}
