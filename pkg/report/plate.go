package report

import (
	"fmt"
	"strings"
)

// Plate is a grade as it is shown: a digit on its colour, and the words.
type Plate struct {
	// Class is "0" to "4", or "none".
	Class, Digit, Words string
}

// Plate shows the grade of a reading.
func (m *Model) Plate(r Reading) Plate {
	if r.Grade == nil {
		return Plate{"none", m.Texts.NotMeasured, m.Texts.NotGraded}
	}
	words := m.Texts.Grades[r.Grade.Value].Name
	if doubt := m.Texts.Doubt(r.Grade); doubt != "" {
		words += ", " + doubt
	}
	digit := fmt.Sprint(r.Grade.Value)
	return Plate{digit, digit, words}
}

// ScalePlate shows a row of the scale.
func (m *Model) ScalePlate(row ScaleRow) Plate {
	digit := fmt.Sprint(row.Value)
	return Plate{digit, digit, row.Name}
}

// Disc is a valve in the drawing of its cylinder: centre and radius, and the size of its digit, in units of which the
// cylinder has 60.
type Disc struct {
	Plate
	X, Y, R, Size float64
}

// places of one, two and three intake valves within a cylinder, seen from above.
var places = [...][]Disc{
	{{X: 30, Y: 30, R: 18, Size: 18}},
	{{X: 17, Y: 30, R: 11.5, Size: 14}, {X: 43, Y: 30, R: 11.5, Size: 14}},
	{{X: 17, Y: 36, R: 10.5, Size: 12.5}, {X: 30, Y: 16, R: 10.5, Size: 12.5}, {X: 43, Y: 36, R: 10.5, Size: 12.5}},
}

// Discs are the valves of a cylinder in one visit.
func (m *Model) Discs(c Cylinder, visit int) []Disc {
	discs := append([]Disc(nil), places[len(c.Valves)-1]...)
	for i, v := range c.Valves {
		discs[i].Plate = m.Plate(v.States[visit].Reading)
	}
	return discs
}

// CylinderAlt says in words what the drawing of a cylinder shows.
func (m *Model) CylinderAlt(c Cylinder, visit int) string {
	parts := []string{fmt.Sprintf("%s %d: %s", m.Texts.Cylinder, c.Number, m.GradeText(c.Readings[visit]))}
	for _, v := range c.Valves {
		parts = append(parts, fmt.Sprintf("%s %d: %s", m.Texts.Valve, v.Number, m.GradeText(v.States[visit].Reading)))
	}
	return strings.Join(parts, "; ")
}

// CleanedBy is what the table says of how a cylinder was cleaned, "" when that is not said.
func (m *Model) CleanedBy(c Cylinder) string {
	if c.LeftAlone {
		return m.Texts.LeftAlone
	}
	return c.Method
}

// Methods reports whether any cylinder says how it was cleaned.
func (m *Model) Methods() bool {
	for _, c := range m.Cylinders {
		if c.Method != "" {
			return true
		}
	}
	return false
}
