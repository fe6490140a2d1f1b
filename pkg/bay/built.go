package bay

import (
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
)

// built is what the last report was written from. Who has looked at the page and then wants the PDF does not wait again
// until all photos are read and all pictures drawn.
type built struct {
	lock  sync.Mutex
	of    string
	model *report.Model
}

// again returns the model if it was built of the same, nil otherwise.
func (b *built) again(of string) *report.Model {
	b.lock.Lock()
	defer b.lock.Unlock()
	if b.of != of {
		return nil
	}
	return b.model
}

func (b *built) keep(of string, m *report.Model) {
	b.lock.Lock()
	defer b.lock.Unlock()
	b.of, b.model = of, m
}

// builtOf says what a report is made of: what was asked for on which day, and how the files of the inspections that it tells
// of stand.
func builtOf(o Order, pictures bool, inspections []*Job, today time.Time) (string, error) {
	o.Format = "" // the words and pictures of all forms are the same
	var of strings.Builder
	fmt.Fprintf(&of, "%#v %v %s\n", o, pictures, today.Format(time.DateOnly))
	for _, j := range inspections {
		j.lock.Lock()
		files, err := j.files()
		j.lock.Unlock()
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&of, "%s %v\n", j.id, stampOf(filepath.Join(j.dir, inspection.File), ""))
		stampIn := j.stamps()
		for _, file := range files {
			fmt.Fprintf(&of, "%q %v\n", file, stampIn(file))
		}
	}
	return of.String(), nil
}
