package bay

import (
	"errors"
	"fmt"
	"os"

	"valvegrade/pkg/region"
)

// Outline is what a page says of outlines and paint: lengths in pixels of the upright photo in its file.
type Outline struct {
	By string `json:"by"`
	// Head is null where the outlines are the program's own.
	Head *Ellipse `json:"head"`
	Stem *Line    `json:"stem"`
	// Others are those of further valves in the photo.
	Others []OfValve `json:"others"`
	// FindOthers leaves valves on which no outline lies to the program; else the photo is of the outlined ones alone.
	FindOthers bool     `json:"find_others"`
	Painted    []Stroke `json:"painted"`
}

// OfValve is the outline of one valve.
type OfValve struct {
	Head *Ellipse `json:"head"`
	Stem *Line    `json:"stem"`
}

// Ellipse, Line and Stroke are those of package region.
type (
	Ellipse struct {
		X     float64 `json:"x"`
		Y     float64 `json:"y"`
		A     float64 `json:"a"`
		B     float64 `json:"b"`
		Angle float64 `json:"angle"`
	}
	Line struct {
		X1    float64 `json:"x1"`
		Y1    float64 `json:"y1"`
		X2    float64 `json:"x2"`
		Y2    float64 `json:"y2"`
		Width float64 `json:"width"`
	}
	Stroke struct {
		Paint string       `json:"paint"`
		Width float64      `json:"width"`
		Path  [][2]float64 `json:"path"`
	}
)

// Marks returns what is set by hand for a photo; empty where nothing is.
func (j *Job) Marks(file string) (*Outline, error) {
	j.lock.Lock()
	defer j.lock.Unlock()
	if _, known := j.shots[file]; !known {
		return nil, ErrUnknown
	}
	told := &Outline{Others: []OfValve{}, Painted: []Stroke{}}
	path := region.FindMarks(j.path(file))
	if path == "" {
		return told, nil
	}
	m, err := region.ReadMarks(path)
	if err != nil {
		return nil, err
	}
	told.By, told.FindOthers = m.By, m.FindOthers
	if m.Outlined() {
		first := outlineTold(region.Outline{Head: m.Head, Stem: m.Stem})
		told.Head, told.Stem = first.Head, first.Stem
	}
	for _, o := range m.Others {
		told.Others = append(told.Others, outlineTold(o))
	}
	for _, s := range m.Painted {
		stroke := Stroke{Paint: string(s.Paint), Width: s.Width}
		for _, p := range s.Path {
			stroke.Path = append(stroke.Path, [2]float64{p.X, p.Y})
		}
		told.Painted = append(told.Painted, stroke)
	}
	return told, nil
}

func outlineTold(o region.Outline) OfValve {
	v := OfValve{Head: &Ellipse{o.Head.X, o.Head.Y, o.Head.A, o.Head.B, o.Head.Angle}}
	if s := o.Stem; s != nil {
		v.Stem = &Line{s.X1, s.Y1, s.X2, s.Y2, s.Width}
	}
	return v
}

// outline of the valve; a missing head is one that fits no photo.
func (v OfValve) outline() (o region.Outline) {
	if h := v.Head; h != nil {
		o.Head = region.Ellipse{X: h.X, Y: h.Y, A: h.A, B: h.B, Angle: h.Angle}
	}
	if s := v.Stem; s != nil {
		o.Stem = &region.Line{X1: s.X1, Y1: s.Y1, X2: s.X2, Y2: s.Y2, Width: s.Width}
	}
	return o
}

// SetMarks sets outlines and paint by hand; where neither is given the program does both by itself again. The photo is
// graded anew. What cannot belong to the photo is an error, and nothing is written then.
func (j *Job) SetMarks(file string, o Outline) error {
	j.lock.Lock()
	defer j.lock.Unlock()
	s, known := j.shots[file]
	if !known {
		return ErrUnknown
	}
	path := region.FindMarks(j.path(file))
	if o.Head == nil && len(o.Painted) == 0 {
		if path == "" {
			return nil
		}
		return errors.Join(j.write(path, nil, "outline of "+file), j.again())
	}
	m := o.marks()
	if len(s.records) > 0 && s.records[0].Width != nil {
		if err := m.Check(*s.records[0].Width, *s.records[0].Height); err != nil {
			return err
		}
	}
	text, err := m.Write()
	if err != nil {
		return err
	}
	if path == "" {
		path = region.MarksPath(j.path(file))
	}
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("the marks of %s are no file: they stay as they are", file)
	}
	return errors.Join(j.write(path, text, "outline of "+file), j.again())
}

func (o Outline) marks() *region.Marks {
	m := &region.Marks{By: o.By}
	if o.Head != nil {
		first := OfValve{o.Head, o.Stem}.outline()
		m.Head, m.Stem, m.FindOthers = first.Head, first.Stem, o.FindOthers
		for _, v := range o.Others {
			m.Others = append(m.Others, v.outline())
		}
	}
	for _, s := range o.Painted {
		stroke := region.Stroke{Paint: region.Paint(s.Paint), Width: s.Width}
		for _, p := range s.Path {
			stroke.Path = append(stroke.Path, region.Point{X: p[0], Y: p[1]})
		}
		m.Painted = append(m.Painted, stroke)
	}
	return m
}
