package bay

import (
	"fmt"

	"valvegrade/pkg/inspection"
)

// Follow says that photos arrive in the order of the engine from now on, so many of each valve: each good one is given
// to the valve that its name tells, else to the next one. 0 ends that.
func (j *Job) Follow(each int) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	if each < 0 || each > mostEach {
		return fmt.Errorf("photos of each valve must be 0 to %d", mostEach)
	}
	if each > 0 && len(j.form.Engine.Places()) == 0 {
		return ErrNoEngine
	}
	j.follow = each
	j.changed()
	return nil
}

// mostEach is how many photos of each valve can be asked for.
const mostEach = 9

// next returns the valve to shoot next, of one cylinder or, by 0, of the engine; false when every one has what it needs.
// The lock is held.
func (j *Job) next(cylinder int) (inspection.Place, bool) {
	have := map[inspection.Place]int{}
	for _, e := range j.form.Photos {
		s, known := j.shots[e.File]
		if !known || e.LeftOut != nil || s.state == graded && !s.good(&e) {
			continue
		}
		for _, valve := range e.Valves {
			have[inspection.Place{Cylinder: e.Cylinder, Valve: valve}]++
		}
	}
	for _, p := range j.form.Engine.Places() {
		if (cylinder == 0 || p.Cylinder == cylinder) && have[p] < max(1, j.follow) {
			return p, true
		}
	}
	return inspection.Place{}, false
}

// followOn gives a good photo that just arrived to its valve, if that is wanted. The lock is held.
func (j *Job) followOn(s *shot) {
	if j.follow == 0 || !s.good(nil) || j.form.Entry(s.file) != nil {
		return
	}
	e, open := j.following(s.file)
	if !open {
		return
	}
	// What cannot be written now is assigned by hand later.
	_ = j.assign([]string{s.file}, []inspection.Entry{e}, assigned(1, e.Cylinder, e.Valves))
}

// following is where a photo belongs that arrives in the order of the engine: to the valve that its name tells, else to
// the next one, of the cylinder that its name tells. Numbers that the engine does not have are no cylinder's: cameras
// count in names, too. The lock is held.
func (j *Job) following(file string) (entry inspection.Entry, open bool) {
	cylinder := 0
	told, err := inspection.Draft(j.dir, []string{file}, inspection.DraftOptions{Engine: j.form.Engine, Valves: j.inView})
	if err == nil {
		for _, e := range told.Entries() {
			if within(j.form.Engine, e) {
				return e, true
			}
		}
		for _, u := range told.Unplaced {
			if u.Cylinder <= j.form.Engine.Cylinders {
				cylinder = u.Cylinder
			}
		}
	}
	p, open := j.next(cylinder)
	return inspection.Entry{File: file, Cylinder: p.Cylinder, Valves: []int{p.Valve}}, open
}
