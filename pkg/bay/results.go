package bay

import (
	"bytes"
	"errors"
	"io/fs"
	"path/filepath"

	"valvegrade/internal/limit"
	"valvegrade/pkg/score"
)

// Results is the file in an inspection's folder in which its results are kept, as score --json writes them.
const Results = "results.json"

// keepResults writes what is graded; where that cannot be done a note says so, and the next round tries again.
func (j *Job) keepResults() {
	unkept := ""
	if err := j.writeResults(); err != nil {
		unkept = Results + " cannot be written: " + cause(err).Error()
	}
	j.lock.Lock()
	defer j.lock.Unlock()
	if j.unkept != unkept {
		j.unkept = unkept
		j.changed()
	}
}

// cause is an error of the system without the path, whose name is the shop's business.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// writeResults writes what is graded: the inspection where all of it is filled in, else its photos. A file of that name
// which is none of ours stays as it is.
func (j *Job) writeResults() error {
	j.lock.Lock()
	defer j.lock.Unlock()
	if !j.unsaved {
		return nil
	}
	path := filepath.Join(j.dir, Results)
	if err := ours(path); err != nil {
		return &fs.PathError{Op: "keep", Path: path, Err: cause(err)}
	}
	var text bytes.Buffer
	if _, err := j.form.Inspection(j.dir); err == nil {
		graded, err := j.graded()
		if err != nil {
			return err
		}
		if err := graded.Write(&text); err != nil {
			return err
		}
	} else {
		document := score.NewDocument(j.bay.Version())
		for _, s := range j.inOrder() {
			document.Photos = append(document.Photos, s.records...)
		}
		if len(document.Photos) == 0 {
			return nil
		}
		if err := document.Write(&text); err != nil {
			return err
		}
	}
	if err := put(path, text.Bytes()); err != nil { // of a file with a name that nobody gave
		return &fs.PathError{Op: "write", Path: path, Err: cause(err)}
	}
	j.unsaved = false
	return nil
}

// ours returns an error if the file is there and holds no results.
func ours(path string) error {
	old, err := limit.ReadFile(path, limit.SavedBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil {
		_, err = score.ReadDocument(bytes.NewReader(old))
	}
	return err
}
