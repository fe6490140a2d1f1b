package score

import (
	"errors"
	"fmt"

	"valvegrade/internal/net"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/unroll"
)

// Options say how to score. The zero value is right for everyday use.
type Options struct {
	// Program is the program's version, noted in every result; "" is noted as "0".
	Program string
	// Limits are the bounds a file must keep before its pixels are decoded.
	Limits photo.Limits
	// Nets are the contents of ONNX files, each of which replaces the embedded net of the look that its shape tells.
	// They must be trusted: on a spoilt net OpenCV may end the process.
	Nets [][]byte
	// Marks are outlines set by hand that hold for every photo; nil reads the file region.FindMarks beside each, if
	// there is one.
	Marks *region.Marks
	// Deposit tunes the measurement proper.
	Deposit deposit.Options
	// Map asks for the map of the valve, which comparing needs: half a megabyte a photo.
	Map bool
}

// Version names the program and the nets of the options, such as "1.0.0+net.0123456789ab" (semantic versioning's form).
// Of nets that cannot be used, which New refuses, it says "unusable".
func (o Options) Version() string {
	program := o.Program
	if program == "" {
		program = "0"
	}
	hash, err := net.HashOf(o.Nets...)
	if err != nil {
		return program + "+net.unusable"
	}
	return program + "+net." + hash[:12]
}

// Scorer measures photos one after the other. It owns its nets, so it is not safe for concurrent use: one per worker.
type Scorer struct {
	options Options
	version string
	finder  finder
}

// finder is what a Scorer asks of region.Finder.
type finder interface {
	Find(p *photo.Photo, marks *region.Marks) ([]*region.Region, error)
	Close()
}

// New returns a Scorer; the error says why the nets could not be loaded. Close it after use.
func New(o Options) (*Scorer, error) {
	finder, err := region.NewFinder(region.FinderOptions{Nets: o.Nets})
	if err != nil {
		return nil, fmt.Errorf("score: %w", err)
	}
	return &Scorer{options: o, version: o.Version(), finder: finder}, nil
}

// Close frees the nets. The Scorer must not be used afterwards.
func (s *Scorer) Close() { s.finder.Close() }

// Score measures the photo in the file and returns a result for each valve in it, from left to right. There is always
// one: whatever is wrong with the file is a refusal in it.
func (s *Scorer) Score(path string) []*Result {
	r := s.begin(path)
	p, err := photo.Read(path, s.options.Limits)
	if err != nil {
		return alone(r.refuse(photo.ReasonFor(err)))
	}
	return s.look(r, p, func() (*region.Marks, error) { return marksBeside(path) })
}

// ScoreBytes is Score for data, the content of an image file called name, and marks, that of its marks file, empty where
// it has none.
func (s *Scorer) ScoreBytes(name string, data, marks []byte) []*Result {
	r := s.begin(name)
	p, err := photo.Decode(name, data, s.options.Limits)
	if err != nil {
		return alone(r.refuse(photo.ReasonFor(err)))
	}
	return s.look(r, p, func() (*region.Marks, error) {
		if len(marks) == 0 {
			return nil, nil
		}
		return region.ParseMarks(marks)
	})
}

// look finds the valves in the photo and measures each. Marks of the options hold before those that belong to the photo.
func (s *Scorer) look(r *Result, p *photo.Photo, read func() (*region.Marks, error)) []*Result {
	r.show(p)
	marks := s.options.Marks
	if marks == nil {
		var err error
		if marks, err = read(); err != nil { // whatever it is, the user wanted these marks to hold
			return alone(r.refuse(reason.With(reason.BadMarks, err.Error())))
		}
	}
	if marks != nil {
		if err := marks.Check(p.Whole.X, p.Whole.Y); err != nil {
			return alone(r.fail(err))
		}
		marks = marks.Shrunk(p.Shrunk)
	}
	found, err := s.finder.Find(p, marks)
	if err != nil {
		return alone(r.fail(err))
	}
	valves := make([]*Result, len(found))
	for i := range found {
		one := *r
		one.Valve, one.Valves = i+1, len(found)
		valves[i] = s.measure(&one, p, found[i])
	}
	return judged(valves)
}

// measure is the job for a valve that was found: how well it can be seen, what lies on it, and what grade that makes.
func (s *Scorer) measure(r *Result, p *photo.Photo, found *region.Region) *Result {
	r.Region = found
	if found.HeadPixels+found.StemPixels == 0 {
		return r.refuse(merge(found.Reasons)...)
	}
	quality := photo.Assess(p, found.Mask)
	measured, err := deposit.Measure(p, found, s.options.Deposit)
	if err != nil {
		return r.fail(err)
	}
	r.Quality, r.Deposit = &quality, measured
	reasons := merge(found.Reasons, quality.Reasons(), measured.Reasons)
	if reason.Refuses(reasons) {
		return r.refuse(reasons...)
	}
	if s.options.Map {
		flat, err := unroll.Of(p, found, measured)
		if err != nil {
			return r.fail(err)
		}
		r.Map = flat.Pack()
	}
	r.Status, r.Reasons, r.Grade = Scored, reasons, grade.Of(measured.Both.Index, measured.Grades)
	return r
}

// marksBeside returns the marks in the file beside a photo, nil where it has none.
func marksBeside(path string) (*region.Marks, error) {
	if sidecar := region.FindMarks(path); sidecar != "" {
		return region.ReadMarks(sidecar)
	}
	return nil, nil
}

func (s *Scorer) begin(name string) *Result {
	return &Result{Name: name, Label: Labels([]string{name})[0], Version: s.version, Valve: 1, Valves: 1}
}

func (r *Result) show(p *photo.Photo) {
	r.Photo, r.SHA256, r.Width, r.Height, r.Taken = p, p.SHA256, p.Whole.X, p.Whole.Y, p.Taken
}

func (r *Result) refuse(reasons ...reason.Reason) *Result {
	r.Status, r.Reasons = Refused, reasons
	return r
}

// fail refuses the photo for an error of a room: marks that cannot belong to it, else a failure of the program.
func (r *Result) fail(err error) *Result {
	if errors.Is(err, region.ErrMarks) {
		return r.refuse(reason.With(reason.BadMarks, err.Error()))
	}
	return r.refuse(reason.With(reason.Failed, err.Error()))
}
