package bay

import (
	"os"
	"path/filepath"
	"slices"
	"time"

	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

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
