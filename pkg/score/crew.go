package score

import "sync"

// Crew keeps the workers of a batch, with their nets loaded, for the next one. The batches of a crew have the same
// Options, and follow one after the other or run at the same time. The zero value is ready for use; close it at the end.
type Crew struct {
	lock sync.Mutex
	idle []*Worker
}

// Close frees the nets of all workers. No batch of the crew may be running.
func (c *Crew) Close() {
	for _, w := range c.idle {
		w.Close()
	}
	c.idle = nil
}

// lend returns a worker that is idle, else a new one; nil has none.
func (c *Crew) lend(o Options) *Worker {
	if c == nil {
		return NewWorker(o)
	}
	c.lock.Lock()
	defer c.lock.Unlock()
	last := len(c.idle) - 1
	if last < 0 {
		return NewWorker(o)
	}
	w := c.idle[last]
	c.idle = c.idle[:last]
	return w
}

// takeBack keeps a worker for the next batch; nil keeps none.
func (c *Crew) takeBack(w *Worker) {
	if c == nil {
		w.Close()
		return
	}
	c.lock.Lock()
	defer c.lock.Unlock()
	c.idle = append(c.idle, w)
}
