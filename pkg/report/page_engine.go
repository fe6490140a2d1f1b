package report

import (
	"fmt"
	"strings"
)

// plate is a grade as it is shown: a digit on its colour, and the words.
type plate struct {
	// Class is "0" to "4", or "none".
	Class, Digit, Words string
}

// Plate shows the grade of a reading.
func (p page) Plate(r Reading) plate {
	if r.Grade == nil {
		return plate{"none", "–", p.T.NotGraded}
	}
	words := p.T.Grades[r.Grade.Value].Name
	if r.Grade.Borderline {
		words += ", " + p.T.Borderline
	}
	digit := fmt.Sprint(r.Grade.Value)
	return plate{digit, digit, words}
}

// ScalePlate shows a row of the scale.
func (p page) ScalePlate(row ScaleRow) plate {
	digit := fmt.Sprint(row.Value)
	return plate{digit, digit, row.Name}
}

// disc is a valve in the drawing of its cylinder, in units of which the cylinder has 60.
type disc struct {
	plate
	X, Y, R, Size float64
}

// places of one, two and three intake valves within a cylinder, seen from above.
var places = [...][]disc{
	{{X: 30, Y: 30, R: 18, Size: 18}},
	{{X: 17, Y: 30, R: 11.5, Size: 14}, {X: 43, Y: 30, R: 11.5, Size: 14}},
	{{X: 17, Y: 36, R: 10.5, Size: 12.5}, {X: 30, Y: 16, R: 10.5, Size: 12.5}, {X: 43, Y: 36, R: 10.5, Size: 12.5}},
}

// Discs are the valves of a cylinder in one visit.
func (p page) Discs(c Cylinder, visit int) []disc {
	discs := append([]disc(nil), places[len(c.Valves)-1]...)
	for i, v := range c.Valves {
		discs[i].plate = p.Plate(v.States[visit].Reading)
	}
	return discs
}

// CylinderAlt says in words what the drawing of a cylinder shows.
func (p page) CylinderAlt(c Cylinder, visit int) string {
	parts := []string{fmt.Sprintf("%s %d: %s", p.T.Cylinder, c.Number, p.GradeText(c.Readings[visit]))}
	for _, v := range c.Valves {
		parts = append(parts, fmt.Sprintf("%s %d: %s", p.T.Valve, v.Number, p.GradeText(v.States[visit].Reading)))
	}
	return strings.Join(parts, "; ")
}

// Methods reports whether any cylinder says how it was cleaned.
func (p page) Methods() bool {
	for _, c := range p.Cylinders {
		if c.Method != "" {
			return true
		}
	}
	return false
}
