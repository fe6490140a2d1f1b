package bay

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
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

// shot is a photo with what is known of it.
type shot struct {
	file  string
	stamp stamp
	// since is when the file was seen to change last; seen when it was seen first.
	since, seen time.Time
	state       state
	// placed is true once the file was whole, and its time could be read.
	placed bool
	// live is true for a photo that arrived while the job was open.
	live    bool
	records []score.Record
	taken   *time.Time
	// waited is how long it took from arrival to grade; 0 for what was there before.
	waited time.Duration
	thumb  []byte
}

type state int

const (
	arriving state = iota // being written
	waiting               // whole, in the queue
	graded
)

// stamp tells whether a file, or the marks beside it, changed.
type stamp struct {
	size, marksSize int64
	time, marksTime time.Time
}

func (s stamp) same(other stamp) bool {
	return s.size == other.size && s.marksSize == other.marksSize && s.time.Equal(other.time) &&
		s.marksTime.Equal(other.marksTime)
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

// readForm reads inspection.yaml when it changed. The lock is held.
func (j *Job) readForm() (changed bool) {
	now := stampOf(filepath.Join(j.dir, inspection.File), "")
	if now.same(j.written) && j.revision > 0 {
		return false
	}
	j.written = now
	form, _, err := inspection.ReadForm(j.dir)
	if j.fault = err; err == nil {
		j.form = form
	}
	return true
}

// files are the photos of the folder, and those that inspection.yaml names elsewhere in it. The lock is held.
func (j *Job) files() ([]string, error) {
	var listed []string
	for _, e := range j.form.Photos {
		listed = append(listed, e.File)
	}
	return folder.Photos(j.dir, listed...)
}

func stampOf(path, marks string) stamp {
	var s stamp
	if info, err := os.Stat(path); err == nil {
		s.size, s.time = info.Size(), info.ModTime()
	}
	if marks == "" {
		return s
	}
	if info, err := os.Stat(marks); err == nil {
		s.marksSize, s.marksTime = info.Size(), info.ModTime()
	}
	return s
}

// stamps returns how photos stand now. It lists each folder once, for marks.
func (j *Job) stamps() func(file string) stamp {
	listed := map[string][]os.DirEntry{}
	return func(file string) stamp {
		path := j.path(file)
		dir, name := filepath.Split(path)
		files, known := listed[dir]
		if !known {
			files, _ = os.ReadDir(filepath.Clean(dir))
			listed[dir] = files
		}
		marks := region.MarksAmong(name, files)
		if marks != "" {
			marks = filepath.Join(dir, marks)
		}
		return stampOf(path, marks)
	}
}

// settled is how long a file must stay as it is to count as whole.
const settled = 80 * time.Millisecond

// refresh looks what changed in the folder. The lock is held. live says that the job was open when it happened.
func (j *Job) refresh(now time.Time, live bool) error {
	changed, stampIn := j.readForm(), j.stamps()
	files, err := j.files()
	if err != nil {
		return err
	}
	j.dirty = false
	for _, file := range files {
		is := stampIn(file)
		s, known := j.shots[file]
		switch {
		case !known:
			s = &shot{file: file, seen: now, live: live}
			j.shots[file] = s
		case s.stamp.same(is):
			continue
		case s.state == graded:
			s.seen = now
		}
		s.stamp, s.since, s.state, changed = is, now, arriving, true
		j.pictures.forget(file)
	}
	for file := range j.shots {
		if !slices.Contains(files, file) {
			delete(j.shots, file)
			j.pictures.forget(file)
			changed = true
		}
	}
	j.settle(now)
	j.watchParts()
	if changed {
		j.changed()
	}
	return nil
}

// settle queues the files that are whole, and reports whether others are still being written. The lock is held.
func (j *Job) settle(now time.Time) (pending bool) {
	var ready []*shot
	stampIn := j.stamps()
	for _, s := range j.shots {
		if s.state != arriving {
			continue
		}
		still := now.Sub(s.since) >= settled || !s.live && now.Sub(s.stamp.time) > time.Second
		if is := stampIn(s.file); !is.same(s.stamp) {
			s.stamp, s.since, still = is, now, false
		}
		if still {
			ready = append(ready, s)
		} else {
			pending = true
		}
	}
	slices.SortFunc(ready, func(a, b *shot) int { return a.stamp.time.Compare(b.stamp.time) })
	for _, s := range ready {
		s.state, s.placed, s.taken = waiting, true, photo.TakenOf(j.path(s.file))
		j.bay.queue.add(task{j, s.file}, s.live)
	}
	return pending
}

// patience is how long a file that ends too early may still be one that somebody is writing.
const patience = 5 * time.Second

// grade measures one photo.
func (j *Job) grade(worker *score.Worker, file string) {
	j.lock.Lock()
	s, known := j.shots[file]
	if !known || s.state != waiting {
		j.lock.Unlock()
		return
	}
	began := s.stamp
	j.lock.Unlock()

	valves, err := worker.Score(j.path(file))
	if err != nil {
		valves = []*score.Result{{Name: file, Status: score.Refused, Valve: 1, Valves: 1, Version: j.bay.Version(),
			Reasons: []reason.Reason{reason.With(reason.Failed, err.Error())}}}
	}
	thumb, trouble := j.show(file, valves)

	j.lock.Lock()
	defer j.lock.Unlock()
	now := time.Now()
	if j.shots[file] != s || !s.stamp.same(began) || s.state != waiting {
		return // changed or gone meanwhile: it will be graded again
	}
	if half(valves) && now.Sub(s.stamp.time) < patience {
		s.state, s.since = arriving, now
		return
	}
	s.state, s.thumb, s.records = graded, thumb, nil
	if j.trouble = ""; trouble != nil {
		j.trouble = trouble.Error()
	}
	for _, r := range valves {
		rec := r.Record()
		rec.Photo = file
		s.records = append(s.records, rec)
	}
	s.taken = valves[0].Taken
	if s.live {
		s.waited, j.last = now.Sub(s.seen), file
		j.followOn(s)
	}
	j.unsaved = true
	j.changed()
}

// show draws the pictures of a photo that was just scored, returns the small one, and keeps what was corrected. A mistake
// of the program costs the pictures, not the grade, nor the work of everybody else.
func (j *Job) show(file string, valves []*score.Result) (thumb []byte, err error) {
	defer func() {
		if failure := recover(); failure != nil {
			err = fmt.Errorf("the photo could not be drawn, the program failed: %v", failure)
		}
	}()
	thumb = j.pictures.keep(file, valves)
	if err := j.keepCorrected(file, valves); err != nil {
		return thumb, fmt.Errorf("the corrected photo could not be kept: %w", err)
	}
	return thumb, nil
}

// half reports whether the file ends before its picture does.
func half(valves []*score.Result) bool {
	return slices.ContainsFunc(valves[0].Reasons, func(r reason.Reason) bool {
		return r.Code == reason.Truncated || r.Code == reason.NotAnImage
	})
}

// good reports whether the photo can be used as it is listed, nil for not at all: some valve in it was graded.
func (s *shot) good(listed *inspection.Entry) bool {
	return s.state == graded &&
		slices.ContainsFunc(s.judged(listed), func(r score.Record) bool { return r.Status == score.Scored })
}

// judged are the results of the valves in the photo, or the one refusal of a photo that shows fewer than it is listed
// for. That keeps the outline that was found, for whoever corrects it.
func (s *shot) judged(listed *inspection.Entry) []score.Record {
	if listed == nil || len(listed.Valves) <= len(s.records) {
		return s.records
	}
	refused := engine.Listed(len(listed.Valves), s.records)[0]
	refused.HeadEllipse, refused.StemLine = s.records[0].HeadEllipse, s.records[0].StemLine
	return []score.Record{refused}
}

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
