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
	// Measured is the smaller one with the measured grade, where a person gave the valve another; nil for none.
	Measured *Disc
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
		state := v.States[visit]
		discs[i].Plate = m.Plate(state.Reading)
		if o := state.Overruled; o != nil {
			discs[i] = discs[i].overruled(fmt.Sprint(o.Grade), m.Texts.Grades[o.Grade].Name)
		}
	}
	return discs
}

// overruled is the disc with the grade that a person gave, and the measured one at its lower edge.
func (d Disc) overruled(digit, words string) Disc {
	const measured = 6.5 // its radius, for a digit that can still be read
	small := Disc{Plate: d.Plate, X: d.X + 0.72*d.R, Y: d.Y + 0.9*d.R, R: measured, Size: 1.4 * measured}
	d.Plate, d.Measured = Plate{digit, digit, words}, &small
	return d
}

// OverruledKey explains discs of grades that persons gave; "" where there are none.
func (m *Model) OverruledKey() string {
	for _, c := range m.Cylinders {
		for _, v := range c.Valves {
			for _, s := range v.States {
				if s.Overruled != nil {
					return m.Texts.OverruledKey
				}
			}
		}
	}
	return ""
}

// CylinderAlt says in words what the drawing of a cylinder shows.
func (m *Model) CylinderAlt(c Cylinder, visit int) string {
	parts := []string{fmt.Sprintf("%s %d: %s", m.Texts.Cylinder, c.Number, m.GradeText(c.Readings[visit]))}
	for _, v := range c.Valves {
		said := m.GradeText(v.States[visit].Reading)
		if o := v.States[visit].Overruled; o != nil {
			said = fmt.Sprintf(m.Texts.OverruledAlt, fmt.Sprintf(m.Texts.GradeOf, o.Grade, m.Texts.Grades[o.Grade].Name), o.By, said)
		}
		parts = append(parts, fmt.Sprintf("%s %d: %s", m.Texts.Valve, v.Number, said))
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
