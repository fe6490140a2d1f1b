package report

import (
	"fmt"

	"valvegrade/pkg/grade"
)

// ScaleRow is a grade with its limits.
type ScaleRow struct {
	Value                           int
	Name, Limits, ReadsAs, Practice string
}

// ScaleRows are the five grades.
func (m *Model) ScaleRows() []ScaleRow {
	limits := grade.Limits()
	var rows []ScaleRow
	for value, g := range m.Texts.Grades {
		row := ScaleRow{Value: value, Name: g.Name, ReadsAs: g.ReadsAs, Practice: m.practice(value)}
		switch value {
		case 0:
			row.Limits = fmt.Sprintf(m.Texts.Below, m.Locale.Number(limits[0], 0))
		case len(limits):
			row.Limits = fmt.Sprintf(m.Texts.AndUp, m.Locale.Number(limits[value-1], 0))
		default:
			row.Limits = fmt.Sprintf(
				m.Texts.FromBelow,
				m.Locale.Number(limits[value-1], 0),
				m.Locale.Number(limits[value], 0),
			)
		}
		rows = append(rows, row)
	}
	return rows
}

// ScaleNote names the version of the scale.
func (m *Model) ScaleNote() string { return fmt.Sprintf(m.Texts.ScaleNote, grade.Scale) }

// Proof is what identifies a photo.
type Proof struct{ Visit, File, Taken, Hash, Version string }

// Proofs are all photos of the report in order, those of the second visit after those of the first.
func (m *Model) Proofs() []Proof {
	var proofs []Proof
	for visit := range m.Visits {
		for _, c := range m.Cylinders {
			for _, v := range c.Valves {
				for _, photo := range v.States[visit].Photos {
					r := photo.Record
					proof := Proof{
						Visit:   m.Visits[visit].Title,
						File:    photo.Name(),
						Taken:   m.Texts.NotMeasured,
						Hash:    m.Texts.NotMeasured,
						Version: r.Version,
					}
					if r.SHA256 != nil {
						proof.Hash = *r.SHA256
					}
					if r.Taken != nil {
						proof.Taken = m.Locale.Moment(*r.Taken)
					}
					proofs = append(proofs, proof)
				}
			}
		}
	}
	return proofs
}

// Written names the program and the day of the report.
func (m *Model) Written() string {
	return fmt.Sprintf(m.Texts.Written, m.Program, m.Locale.Date(m.Job.Date))
}
