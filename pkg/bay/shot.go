package bay

import (
	"os"
	"slices"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

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
