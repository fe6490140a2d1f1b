package archive

import (
	"encoding/json"
	"fmt"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/score"
)

// sums are what the statistics need of an inspection.
type sums struct {
	photos, refused, seen, retaken int
	dark                           mean
	darkOf                         map[int]*mean // by cylinder
	due                            *float64
}

// sumUp goes through the photos of an inspection. A photo of several valves counts once.
func sumUp(g *engine.Graded) (sums, error) {
	s := sums{darkOf: map[int]*mean{}}
	files, ofValve := map[string]bool{}, map[[2]int]int{}
	for n, p := range g.Engine.Inspection.Photos {
		r := &g.Photos[n]
		if !files[p.File] && r.Status == score.Refused {
			s.refused++
		}
		files[p.File] = true
		ofValve[[2]int{p.Cylinder, p.Valve}]++
		if p.LeftOut != nil {
			continue
		}
		text, err := json.Marshal(r)
		if err != nil {
			return s, err
		}
		f := figuresOf(r, text)
		if f.dark != nil {
			if s.darkOf[p.Cylinder] == nil {
				s.darkOf[p.Cylinder] = &mean{}
			}
			s.dark.add(*f.dark)
			s.darkOf[p.Cylinder].add(*f.dark)
		}
		if f.due != nil && (s.due == nil || *f.due > *s.due) {
			s.due = f.due
		}
	}
	s.photos, s.seen = len(files), len(ofValve)
	for _, photos := range ofValve {
		if photos > 1 {
			s.retaken++
		}
	}
	return s, nil
}

// countedColumns are what the results of a version say of an inspection together, in the order of counting.
const countedColumns = `version, worst, worst_low, worst_high, grade, odds, dark, due, photos, refused, seen, retaken`

func (s sums) counting(version int64, g *engine.Graded) []any {
	worst := g.Engine.Worst
	return []any{
		version, known(worst.Value), known(worst.Low), known(worst.High), gradeOf(g), oddsText(g.Engine.WorstGrades), s.dark.value(), s.due,
		s.photos, s.refused, s.seen, s.retaken,
	}
}

// count makes the results of a version those that count for an inspection, and sums them up for the statistics.
func (w writer) count(id, version int64, g *engine.Graded) error {
	s, err := sumUp(g)
	if err != nil {
		return err
	}
	counted := s.counting(version, g)
	err = w.do(fmt.Sprintf(`UPDATE inspection SET (%s) = %s WHERE id = $%d`, countedColumns, places(1, len(counted)), len(counted)+1),
		append(counted, id)...)
	if err != nil {
		return err
	}
	if err := w.do(`DELETE FROM cylinder WHERE inspection = $1`, id); err != nil {
		return err
	}
	return w.cylinders(id, g, s)
}

// cylinders writes what the results say of each cylinder.
func (w writer) cylinders(id int64, g *engine.Graded, s sums) error {
	insert := into("cylinder", "inspection", "cylinder", "method", "worst", "dark")
	for _, c := range g.Engine.Cylinders {
		insert.add(id, c.Number, c.Method, known(c.Index.Value), s.darkOf[c.Number].value())
	}
	_, err := w.insert(insert)
	return err
}

// mean is the mean of some figures, nil of none.
type mean struct {
	sum float64
	n   int
}

func (m *mean) add(v float64) { m.sum, m.n = m.sum+v, m.n+1 }

func (m *mean) value() *float64 {
	if m == nil || m.n == 0 {
		return nil
	}
	return new(m.sum / float64(m.n))
}
