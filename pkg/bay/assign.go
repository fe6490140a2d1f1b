package bay

import (
	"errors"
	"fmt"
	"slices"

	"valvegrade/pkg/inspection"
)

// ErrNoEngine is returned where cylinders and valves are not known yet.
var ErrNoEngine = errors.New("say first how many cylinders and intake valves the engine has")

// Assign says which valves photos show: one, or several of one cylinder from left to right as the photo shows them. No
// valves take the photos' places away.
func (j *Job) Assign(files []string, cylinder int, valves []int) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	var entries []inspection.Entry
	for _, file := range files {
		if len(valves) > 0 {
			entries = append(entries, inspection.Entry{File: file, Cylinder: cylinder, Valves: slices.Clone(valves)})
		}
	}
	return j.assign(files, entries, assigned(len(files), cylinder, valves))
}

// assigned says which valves so many photos were given to, for who may take it back.
func assigned(files, cylinder int, valves []int) string {
	switch len(valves) {
	case 0:
		return photos(files) + " without a valve"
	case 1:
		return fmt.Sprintf("%s to cylinder %d valve %d", photos(files), cylinder, valves[0])
	}
	return fmt.Sprintf("%s to cylinder %d", photos(files), cylinder)
}

func photos(n int) string {
	if n == 1 {
		return "1 photo"
	}
	return fmt.Sprintf("%d photos", n)
}

// assign replaces what is known of files by entries. The lock is held.
func (j *Job) assign(files []string, entries []inspection.Entry, words string) error {
	for _, file := range files {
		if _, known := j.shots[file]; !known {
			return ErrUnknown
		}
	}
	return j.edit(words, func(f *inspection.Form) error { return place(f, files, entries) })
}

func place(f *inspection.Form, files []string, entries []inspection.Entry) error {
	if len(entries) > 0 && (f.Engine.Cylinders == 0 || f.Engine.Valves == 0) {
		return ErrNoEngine
	}
	for _, e := range entries {
		if !within(f.Engine, e) {
			return fmt.Errorf(
				"the cylinders of the engine are 1 to %d, the intake valves of each 1 to %d",
				f.Engine.Cylinders,
				f.Engine.Valves,
			)
		}
	}
	for n := range entries { // a photo that was left out stays so
		if old := f.Entry(entries[n].File); old != nil {
			entries[n].LeftOut = old.LeftOut
		}
	}
	f.Photos = slices.DeleteFunc(f.Photos, func(e inspection.Entry) bool { return slices.Contains(files, e.File) })
	f.Photos = append(f.Photos, entries...)
	return nil
}

// AssignInOrder gives photos to valves as they were shot: so many of each, in an order such as "1.1,1.2,2.1"; "" is
// cylinder 1 first. No files stand for all good photos without a valve.
func (j *Job) AssignInOrder(files []string, order string, each int) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	places := j.form.Engine.Places()
	if order != "" {
		var err error
		if places, err = inspection.ParseOrder(order); err != nil {
			return err
		}
	}
	if len(places) == 0 {
		return ErrNoEngine
	}
	var chosen []string
	for _, s := range j.inOrder() {
		if slices.Contains(files, s.file) || len(files) == 0 && s.good(nil) && j.form.Entry(s.file) == nil {
			chosen = append(chosen, s.file)
		}
	}
	if len(chosen) == 0 {
		return errors.New("there is no good photo without a valve")
	}
	entries, err := inspection.Deal(chosen, places, each)
	if err != nil {
		return err
	}
	return j.assign(chosen, entries, photos(len(chosen))+" in order")
}

// AssignByNames gives photos without a valve to those that their names, or those of their folders, tell: in the usual
// ways of naming, or by a pattern of inspection.NewPattern. A photo whose name tells its cylinder alone is given to all
// valves of it where it shows as many, and to one of them where there are as many photos as valves, in the order of names, and
// none of the cylinder was given to a valve before. Where the engine is not known yet it becomes the smallest that has all of them;
// else what is told of others stays without a valve. While a photo whose name tells its cylinder alone is still being read
// it is an error: whether it shows one valve or all is not known yet.
func (j *Job) AssignByNames(pattern string) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	unread := false
	o := inspection.DraftOptions{Engine: j.form.Engine, Valves: func(path string) int {
		s := j.at(path)
		unread = unread || s != nil && s.state != graded
		return j.inView(path)
	}}
	if pattern != "" {
		var err error
		if o.Pattern, err = inspection.NewPattern(pattern); err != nil {
			return err
		}
	}
	var files []string
	for _, s := range j.inOrder() {
		if j.form.Entry(s.file) == nil {
			files = append(files, s.file)
		}
	}
	draft, err := inspection.Draft(j.dir, files, o)
	if err != nil {
		return err
	}
	if unread {
		return errors.New("some names tell their cylinder alone, and what these photos show is still being read: press again in a moment")
	}
	if len(draft.Placed) == 0 {
		return errors.New("no name tells a valve, as c2v1.jpg does")
	}
	entries, known := draft.Entries(), j.form.Engine
	if len(known.Places()) == 0 {
		known = draft.Engine
	}
	had := map[int]bool{}
	for _, e := range j.form.Photos {
		had[e.Cylinder] = true
	}
	entries = slices.DeleteFunc(entries, func(e inspection.Entry) bool { return had[e.Cylinder] && draft.IsRanked(e.File) })
	if len(entries) == 0 {
		return errors.New("names that tell only the cylinder do not say which of its valves are still to come: give each photo its valve")
	}
	all := len(entries)
	entries = slices.DeleteFunc(entries, func(e inspection.Entry) bool { return !within(known, e) })
	if len(entries) == 0 {
		return fmt.Errorf("the names tell valves of %s that the engine does not have", photos(all))
	}
	words := photos(len(entries)) + " by their names"
	ranked := slices.DeleteFunc(slices.Clone(entries), func(e inspection.Entry) bool { return !draft.IsRanked(e.File) })
	if len(ranked) > 0 {
		words = fmt.Sprintf("%s, %d of them in order", words, len(ranked))
	}
	return j.edit(words, func(f *inspection.Form) error {
		if len(f.Engine.Places()) == 0 {
			f.Engine = known
		}
		f.Photos = append(f.Photos, entries...)
		return nil
	})
}

// inView returns how many valves a photo shows, 0 where none can be judged or nobody looked yet. The lock is held.
func (j *Job) inView(path string) int {
	if s := j.at(path); s != nil && s.good(nil) {
		return len(s.records)
	}
	return 0
}

// at returns the photo that lies at a path, nil for none. The lock is held.
func (j *Job) at(path string) *shot {
	for _, s := range j.shots {
		if j.path(s.file) == path {
			return s
		}
	}
	return nil
}

func within(engine inspection.Layout, e inspection.Entry) bool {
	return e.Cylinder >= 1 && e.Cylinder <= engine.Cylinders && slices.Min(e.Valves) >= 1 && slices.Max(e.Valves) <= engine.Valves
}
