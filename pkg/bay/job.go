package bay

import (
	"cmp"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"valvegrade/pkg/inspection"
)

// Job is one inspection that is worked on.
type Job struct {
	bay      *Bay
	id, dir  string
	pictures *pictures

	lock sync.Mutex
	// form is as inspection.yaml was read last, fault why it could not be; then it is not written either.
	form  *inspection.Form
	fault error
	// last is the file that was graded last of those that arrived.
	last string
	// written is the stamp of inspection.yaml when it was read.
	written stamp
	shots   map[string]*shot
	changes []change
	// follow is how many photos of each valve are taken one after the other; 0 when photos are assigned by hand.
	follow    int
	revision  int
	listeners map[chan struct{}]bool
	unsaved   bool
	// dirty says that something happened in the folder since it was looked through.
	dirty bool
	// trouble is what went wrong beside the work, for the notes; "" for nothing.
	trouble string
	// unkept is why the results could not be written, "" when they could.
	unkept string
	// watched are the folders for whose files the watcher was asked.
	watched []string
}

func newJob(b *Bay, id, dir string) (*Job, error) {
	j := &Job{
		bay: b, id: id, dir: dir, shots: map[string]*shot{}, listeners: map[chan struct{}]bool{}, form: &inspection.Form{},
		pictures: newPictures(&b.redrawing),
	}
	j.lock.Lock()
	defer j.lock.Unlock()
	j.readForm()
	return j, j.refresh(time.Now(), false)
}

// name is the inspection's as people know it: that of its folder.
func (j *Job) name() string {
	if j.id == Here {
		return j.bay.Name()
	}
	return j.id
}

// path returns where a photo lies.
func (j *Job) path(file string) string { return filepath.Join(j.dir, filepath.FromSlash(file)) }

// inOrder returns the photos in the order of shooting, those that were never whole yet last, so that no other
// changes its place for them. The lock is held.
func (j *Job) inOrder() []*shot {
	var keys []inspection.Shot
	var coming []*shot
	for _, s := range j.shots {
		if !s.placed {
			coming = append(coming, s)
			continue
		}
		keys = append(keys, inspection.Shot{File: s.file, Taken: s.taken, Written: s.stamp.time})
	}
	inspection.SortShots(keys)
	var shots []*shot
	for _, key := range keys {
		shots = append(shots, j.shots[key.File])
	}
	slices.SortFunc(coming, func(a, b *shot) int {
		return cmp.Or(a.seen.Compare(b.seen), inspection.CompareNames(a.file, b.file))
	})
	return append(shots, coming...)
}

// changed tells all listeners. The lock is held.
func (j *Job) changed() {
	j.revision++
	for listener := range j.listeners {
		select {
		case listener <- struct{}{}:
		default: // it has not looked yet since the last change
		}
	}
}

// Listen returns a channel on which something arrives after each change, and what ends that.
func (j *Job) Listen() (changes <-chan struct{}, end func()) {
	j.lock.Lock()
	defer j.lock.Unlock()
	listener := make(chan struct{}, 1)
	j.listeners[listener] = true
	return listener, func() {
		j.lock.Lock()
		defer j.lock.Unlock()
		delete(j.listeners, listener)
	}
}
