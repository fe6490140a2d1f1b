package bay

import (
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/fsnotify/fsnotify"

	"valvegrade/pkg/folder"
)

const (
	// glance is how often files that are being written are looked at.
	glance = 20 * time.Millisecond
	// round is how often the folders are looked through whatever the watcher says: shares of other machines tell it
	// nothing.
	round = 2 * time.Second
)

// watch follows the folders of all jobs until the Bay is closed.
func (b *Bay) watch() {
	glances, rounds := time.NewTicker(glance), time.NewTicker(round)
	defer glances.Stop()
	defer rounds.Stop()
	for {
		select {
		case <-b.stop:
			return
		case event, ok := <-b.watcher.Events:
			if !ok {
				return
			}
			b.each(func(j *Job) { j.noticed(event) })
		case <-b.watcher.Errors: // an overflow, say: the next round sees what was missed
		case now := <-glances.C:
			b.each(func(j *Job) { j.glance(now) })
		case now := <-rounds.C:
			b.each(func(j *Job) { j.round(now) })
		}
	}
}

func (b *Bay) each(do func(*Job)) {
	b.lock.Lock()
	var jobs []*Job
	for _, j := range b.jobs {
		jobs = append(jobs, j)
	}
	b.lock.Unlock()
	for _, j := range jobs {
		do(j)
	}
}

func (j *Job) noticed(event fsnotify.Event) {
	j.lock.Lock()
	defer j.lock.Unlock()
	j.dirty = j.dirty ||
		slices.Contains(j.watched, filepath.Dir(event.Name)) // a file that is written brings many events
}

func (j *Job) glance(now time.Time) {
	j.lock.Lock()
	defer j.lock.Unlock()
	if j.dirty {
		_ = j.refresh(now, true) // a folder that cannot be read just now will be in the next round
		return
	}
	for _, s := range j.shots {
		if s.state == arriving {
			j.settle(now)
			return
		}
	}
}

func (j *Job) round(now time.Time) {
	j.lock.Lock()
	_ = j.refresh(now, true)
	save := j.unsaved && !slices.ContainsFunc(j.inOrder(), func(s *shot) bool { return s.state != graded })
	j.lock.Unlock()
	if save {
		j.keepResults()
	}
}

// watchParts asks for news of the folder and of those of its cylinders. The lock is held.
func (j *Job) watchParts() {
	dirs := []string{j.dir}
	entries, _ := os.ReadDir(j.dir)
	for _, entry := range entries {
		if folder.IsPart(j.dir, entry) {
			dirs = append(dirs, filepath.Join(j.dir, entry.Name()))
		}
	}
	for _, dir := range dirs {
		if !slices.Contains(j.watched, dir) && j.bay.watcher.Add(dir) == nil {
			j.watched = append(j.watched, dir)
		}
	}
}
