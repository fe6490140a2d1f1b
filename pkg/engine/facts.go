package engine

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"valvegrade/internal/plainjson"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// ErrDocument is wrapped by every error about an inspection in a document that is none.
var ErrDocument = errors.New("not a valvegrade inspection")

// readFacts reads the facts of an inspection from what Engine.MarshalJSON wrote; Dir stays empty. Its figures are left
// unread: Combine makes them again from the results of the photos, so that the two can never contradict each other.
func readFacts(text []byte) (*inspection.Inspection, error) {
	var r engineRecord
	if err := json.Unmarshal(text, &r); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDocument, plainjson.Error(err))
	}
	i, err := r.inspection()
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDocument, err)
	}
	return i, nil
}

func (r engineRecord) inspection() (*inspection.Inspection, error) {
	if r.Schema != SchemaVersion || r.Scale != grade.Scale {
		return nil, fmt.Errorf("schema %d and scale %d, this program reads schema %d and scale %d",
			r.Schema, r.Scale, SchemaVersion, grade.Scale)
	}
	i, err := r.Written.Inspection()
	if err != nil {
		return nil, err
	}
	if r.turned() {
		return nil, errors.New("the ends of an interval are turned round")
	}
	i.Methods, i.Notes = map[int]string{}, r.Remarks
	if i.Engine, err = r.layout(); err != nil {
		return nil, err
	}
	for _, m := range r.Methods {
		if m.Cylinder < 1 || m.Cylinder > i.Engine.Cylinders {
			return nil, fmt.Errorf("a method for cylinder %d of %d", m.Cylinder, i.Engine.Cylinders)
		}
		i.Methods[m.Cylinder] = m.Method
	}
	if i.Overruled, err = r.overruled(); err != nil {
		return nil, err
	}
	i.Photos, err = r.photos()
	return i, err
}

// turned reports whether the ends of an interval are turned round. Figures are not read, but whoever wrote that wrote no
// inspection.
func (r engineRecord) turned() bool {
	all := []measure.Figure{r.Worst.IndexFigure(), r.Median.IndexFigure()}
	for _, c := range r.Cylinders {
		all = append(all, c.IndexFigure(), c.DarkFigure())
		for _, v := range c.Valves {
			thick := measure.Written{Value: v.Thick, Low: v.ThickLow, High: v.ThickHigh}
			all = append(all, v.IndexFigure(), v.DarkFigure(), v.CoverageFigure(), thick.Figure())
			for _, shot := range v.Photos {
				all = append(all, shot.IndexFigure())
			}
		}
	}
	return slices.ContainsFunc(all, measure.Figure.Turned)
}

// layout counts cylinders and valves, which are written without gaps.
func (r engineRecord) layout() (inspection.Layout, error) {
	var l inspection.Layout
	l.Cylinders = len(r.Cylinders)
	if l.Cylinders < 1 || l.Cylinders > inspection.MostCylinders {
		return l, fmt.Errorf("%d cylinders", l.Cylinders)
	}
	l.Valves = len(r.Cylinders[0].Valves)
	if l.Valves < 1 || l.Valves > inspection.MostValves {
		return l, fmt.Errorf("%d valves a cylinder", l.Valves)
	}
	for c, cylinder := range r.Cylinders {
		inOrder := cylinder.Cylinder == c+1 && len(cylinder.Valves) == l.Valves
		for v, valve := range cylinder.Valves {
			inOrder = inOrder && valve.Valve == v+1
		}
		if !inOrder {
			return l, fmt.Errorf("cylinder %d: cylinders or valves are not numbered from 1 without gaps",
				cylinder.Cylinder)
		}
	}
	return l, nil
}

// photos lists the photos, which lie in the folder of the inspection or below, as inspection.yaml has it.
func (r engineRecord) photos() ([]inspection.Photo, error) {
	photos := []inspection.Photo{}
	for _, c := range r.Cylinders {
		for _, v := range c.Valves {
			for _, shot := range v.Photos {
				if !fs.ValidPath(shot.Photo) || shot.Photo == "." {
					return nil, fmt.Errorf("photo %q is not inside the folder", shot.Photo)
				}
				p := inspection.Photo{File: shot.Photo, Cylinder: c.Cylinder, Valve: v.Valve, FromLeft: shot.FromLeft}
				if left := shot.LeftOut; left != nil {
					if left.By == "" || left.Reason == "" {
						return nil, fmt.Errorf("photo %q is left out without name or reason", shot.Photo)
					}
					p.LeftOut = &inspection.LeftOut{By: left.By, Reason: left.Reason}
				}
				photos = append(photos, p)
			}
		}
	}
	return photos, onceEach(photos)
}

// onceEach checks that a photo stands once, or once for each of several valves of one cylinder, which count from the
// left without gaps.
func onceEach(photos []inspection.Photo) error {
	listed := map[string][]inspection.Photo{}
	for _, p := range photos {
		listed[p.File] = append(listed[p.File], p)
	}
	for file, places := range listed {
		if len(places) == 1 && places[0].FromLeft == 0 {
			continue
		}
		slices.SortFunc(places, func(a, b inspection.Photo) int { return cmp.Compare(a.FromLeft, b.FromLeft) })
		valves := map[int]bool{}
		for n, p := range places {
			switch valves[p.Valve] = true; {
			case p.FromLeft != n+1 || len(valves) != n+1:
				return fmt.Errorf("photo %q stands twice", file)
			case p.Cylinder != places[0].Cylinder:
				return fmt.Errorf("photo %q is of two cylinders", file)
			}
		}
	}
	return nil
}
