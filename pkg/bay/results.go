package bay

import (
	"bytes"
	"fmt"
	"path/filepath"

	"valvegrade/internal/limit"
	"valvegrade/pkg/score"
)

// Results is the file in an inspection's folder in which its results are kept, as score --json writes them.
const Results = "results.json"

// writeResults writes what is graded: the inspection where all of it is filled in, else its photos. A file of that name
// which is none of ours stays as it is.
func (j *Job) writeResults() error {
	j.lock.Lock()
	defer j.lock.Unlock()
	if !j.unsaved {
		return nil
	}
	path := filepath.Join(j.dir, Results)
	if old, err := limit.ReadFile(path, limit.SavedBytes); err == nil {
		if _, err := score.ReadDocument(bytes.NewReader(old)); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
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
	if err := put(path, text.Bytes()); err != nil {
		return err
	}
	j.unsaved = false
	return nil
}
