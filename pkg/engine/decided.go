package engine

import (
	"fmt"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

// signedRecord is who decided something, and why.
type signedRecord struct {
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// overruledRecord is a grade that a person gave beside the measured one.
type overruledRecord struct {
	Grade     int    `json:"grade"`
	GradeName string `json:"grade_name"`
	signedRecord
}

func overruledOf(o *inspection.Overruled) *overruledRecord {
	if o == nil {
		return nil
	}
	return &overruledRecord{o.Grade, grade.Names()[o.Grade], signedRecord{o.By, o.Reason}}
}

func leftOutOf(l *inspection.LeftOut) *signedRecord {
	if l == nil {
		return nil
	}
	return &signedRecord{l.By, l.Reason}
}

// overruled reads the grades that people gave.
func (r engineRecord) overruled() ([]inspection.Overruled, error) {
	var found []inspection.Overruled
	for _, c := range r.Cylinders {
		for _, v := range c.Valves {
			o := v.Overruled
			switch {
			case o == nil:
				continue
			case o.Grade < 0 || o.Grade >= len(grade.Names()) || o.By == "" || o.Reason == "":
				return nil, fmt.Errorf(
					"cylinder %d valve %d is overruled without grade, name or reason",
					c.Cylinder,
					v.Valve,
				)
			}
			found = append(found, inspection.Overruled{
				Cylinder: c.Cylinder, Valve: v.Valve, Grade: o.Grade, By: o.By, Reason: o.Reason,
			})
		}
	}
	return found, nil
}

// Decisions are sentences on what people decided: grades that they gave beside the measured ones, photos that they left
// out, and what they corrected in the photos that count. Grades and photos left out change no measured figure.
func (e *Engine) Decisions() []string {
	var told []string
	for _, c := range e.Cylinders {
		for _, v := range c.Valves {
			if o := e.Inspection.Overruling(c.Number, v.Number); o != nil {
				told = append(told, fmt.Sprintf("%s: grade %d %s by the eye of %s, measured %s: %s",
					v.name(), o.Grade, grade.Names()[o.Grade], o.By, measuredAs(v), o.Reason))
			}
			for _, s := range v.Shots {
				if s.LeftOut != nil {
					told = append(
						told,
						fmt.Sprintf(
							"%s: photo %q was left out by %s: %s",
							v.name(),
							s.File,
							s.LeftOut.By,
							s.LeftOut.Reason,
						),
					)
				}
			}
		}
	}
	return append(told, e.corrections()...)
}

func measuredAs(v Valve) string {
	g := grade.Of(v.Index, v.Grades)
	if g == nil {
		return "none"
	}
	return fmt.Sprintf("grade %d %s", g.Value, g.Name)
}

// leftOut reports whether somebody left out all photos of a valve.
func (v Valve) leftOut() bool {
	for _, s := range v.Shots {
		if s.LeftOut == nil {
			return false
		}
	}
	return len(v.Shots) > 0
}
