package bay

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/google/renameio/v2"

	"valvegrade/internal/limit"
	"valvegrade/pkg/inspection"
)

// change is a file as it was and as it became; nil for one that is not there.
type change struct {
	path          string
	before, after []byte
	words         string
}

// mostChanges is how many changes can be taken back.
const mostChanges = 100

// Errors of taking back.
var (
	ErrNothing   = errors.New("there is nothing to take back")
	ErrMeanwhile = errors.New("the file was changed by somebody else meanwhile, so this cannot be taken back")
)

// write changes a file and remembers how it was. The lock is held.
func (j *Job) write(path string, after []byte, words string) error {
	before, err := current(path)
	if err != nil {
		return err
	}
	if bytes.Equal(before, after) && (before == nil) == (after == nil) {
		return nil
	}
	if err := put(path, after); err != nil {
		return err
	}
	j.changes = append(j.changes, change{path, before, after, words})
	j.changes = j.changes[max(0, len(j.changes)-mostChanges):]
	return nil
}

// current is what stands in a file, nil when there is none.
func current(path string) ([]byte, error) {
	data, err := limit.ReadFile(path, limit.FormBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if data == nil {
		data = []byte{}
	}
	return data, err
}

// put writes a file whole or not at all; nil takes it away.
func put(path string, content []byte) error {
	if content == nil {
		return os.Remove(path)
	}
	return renameio.WriteFile(path, content, 0o644)
}

// Undo takes the last change back and says what it was.
func (j *Job) Undo() (string, error) {
	j.lock.Lock()
	defer j.lock.Unlock()
	if len(j.changes) == 0 {
		return "", ErrNothing
	}
	last := j.changes[len(j.changes)-1]
	now, err := current(last.path)
	if err != nil {
		return "", err
	}
	if !bytes.Equal(now, last.after) || (now == nil) != (last.after == nil) {
		j.changes = nil // older ones lie below what somebody else did
		j.changed()
		return "", ErrMeanwhile
	}
	if err := put(last.path, last.before); err != nil {
		return "", err
	}
	j.changes = j.changes[:len(j.changes)-1]
	return last.words, j.again()
}

// again reads the folder after a change of its files. The lock is held.
func (j *Job) again() error {
	j.unsaved = true
	if err := j.refresh(time.Now(), true); err != nil {
		return err
	}
	j.changed()
	return nil
}

// edit changes the form. It is read again first, so that what others wrote into the file stays. The lock is held.
func (j *Job) edit(words string, do func(*inspection.Form) error) error {
	form, text, err := inspection.ReadForm(j.dir)
	if err != nil {
		return err
	}
	form = form.Clone()
	if err := do(form); err != nil {
		return err
	}
	after, err := form.Write(text)
	if err != nil {
		return err
	}
	if err := j.write(filepath.Join(j.dir, inspection.File), after, words); err != nil {
		return fmt.Errorf("cannot write %s: %w", inspection.File, err)
	}
	return j.again()
}
