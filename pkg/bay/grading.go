package bay

import (
	"fmt"
	"slices"
	"time"

	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

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
