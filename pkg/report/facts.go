package report

import (
	"fmt"
	"slices"
	"strings"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// Fact is a name with its value in words.
type Fact struct{ Name, Value string }

// TableKey explains the table of the cylinders, and names those of which not all valves are told.
func (m *Model) TableKey() string {
	key := m.tableKey()
	var common []string
	var apart []int
	for _, c := range m.Cylinders {
		switch {
		case len(c.Common) > 0:
			common = append(common, m.Texts.Cylinder+" "+m.held(c))
		case c.Common != nil:
			apart = append(apart, c.Number)
		}
	}
	if common != nil {
		key += " " + fmt.Sprintf(m.Texts.CommonKey, strings.Join(common, "; "))
	}
	if apart != nil {
		key += " " + fmt.Sprintf(m.Texts.ApartKey, m.cylinders(apart))
	}
	return key
}

// otherMayBeWorst reports whether the interval of a cylinder's index is to be read otherwise than that of its worst valve,
// which stands further down: it is that of the worst, whichever valve that is.
func (m *Model) otherMayBeWorst() bool {
	for _, c := range m.Cylinders {
		for visit, r := range c.Readings {
			own := r.Grade == nil || slices.ContainsFunc(c.Valves, func(v Valve) bool {
				index := v.States[visit].Index
				return index.Value == r.Index.Value && m.Locale.Range(index, 0) == m.Locale.Range(r.Index, 0)
			})
			if !own {
				return true
			}
		}
	}
	return false
}

func (m *Model) tableKey() string {
	key := m.Texts.TableKey
	if m.otherMayBeWorst() {
		key += " " + m.Texts.WorstKey
	}
	switch {
	case m.Change == nil || m.Change.Changes.Verdict() == "":
		return key
	case len(m.Change.LeftAlone()) > 0:
		return key + " " + m.Texts.CleanedKey
	}
	return key + " " + m.Between.MeanKey
}

// VehicleNamed is the shop's reference, or in the report's language that there is none.
func (m *Model) VehicleNamed() string {
	if m.Vehicle == inspection.Unnamed {
		return m.Texts.Say(m.Vehicle)
	}
	return m.Vehicle
}

// PhotoFigures are a scored photo's own figures in one sentence.
func (m *Model) PhotoFigures(r score.Record) string {
	outline := fmt.Sprintf(m.Texts.OutlineFound, m.Locale.Share(r.RegionConfidence.Value()))
	switch {
	case r.ByHand() && r.OutlinedBy != "":
		outline = fmt.Sprintf(m.Texts.OutlineBy, r.OutlinedBy)
	case r.ByHand():
		outline = m.Texts.OutlineByHand
	}
	return fmt.Sprintf(
		m.Texts.PhotoFigures,
		m.Percentage(r.DarkFigure()),
		m.Index(r.IndexFigure()),
		m.Locale.Share(r.Unreadable.Value()),
		outline,
	)
}

// OverruledLine is a grade that a person gave, in one sentence; "" for none.
func (m *Model) OverruledLine(s State) string {
	if s.Overruled == nil {
		return ""
	}
	name := fmt.Sprintf(m.Texts.GradeOf, s.Overruled.Grade, m.Texts.Grades[s.Overruled.Grade].Name)
	return fmt.Sprintf(m.Texts.OverruledBy, s.Overruled.By, name, s.Overruled.Reason)
}

// LeftOutLine says who left a photo out, and why; "" for one that counts.
func (m *Model) LeftOutLine(p Photo) string {
	if p.LeftOut == nil {
		return ""
	}
	return fmt.Sprintf(m.Texts.LeftOutBy, p.LeftOut.By, p.LeftOut.Reason)
}

// PaintedLine says how much of a valve was painted by hand, and by whom; "" for nothing.
func (m *Model) PaintedLine(r score.Record) string {
	if r.Painted == nil {
		return ""
	}
	if r.PaintedBy == "" {
		return fmt.Sprintf(m.Texts.Painted, m.Locale.Share(r.Painted.Value()))
	}
	return fmt.Sprintf(m.Texts.PaintedBy, m.Locale.Share(r.Painted.Value()), r.PaintedBy)
}

// ClassShare is a deposit class ("bare", "film", "medium" or "heavy") with its share, 0 to 1, of the readable valve.
type ClassShare struct {
	Class string
	Value float64
	// Words name class and share: "film 12 %".
	Words string
}

// ClassShares are the classes of a photo from bare to heavy, those that were measured.
func (m *Model) ClassShares(s *measure.WrittenShares) []ClassShare {
	if s == nil {
		return nil
	}
	var shares []ClassShare
	for _, class := range []struct {
		name, words string
		share       measure.Number
	}{{"bare", m.Texts.Bare, s.Bare}, {"film", m.Texts.Film, s.Film}, {"medium", m.Texts.Medium, s.Medium}, {"heavy", m.Texts.Heavy, s.Heavy}} {
		if class.share.Known() {
			shares = append(
				shares,
				ClassShare{class.name, class.share.Value(), class.words + " " + m.Locale.Share(class.share.Value())},
			)
		}
	}
	return shares
}

// ComparisonFacts are the figures of a comparison that was not refused. How much was removed is told only where the
// photos can show that anything was.
func (m *Model) ComparisonFacts(c *Comparison) []Fact {
	var facts []Fact
	if !c.Whole() {
		facts = append(facts, Fact{m.Texts.Comparable, m.Locale.Share(c.Comparable)})
	}
	for _, one := range []struct {
		before, after, difference, removed string
		compare.Change
		write func(measure.Figure) string
	}{
		{m.Between.DarkBefore, m.Between.DarkAfter, m.Texts.DarkDifference, m.Between.DarkRemoved, c.Dark, m.Percentage},
		{m.Between.IndexBefore, m.Between.IndexAfter, m.Texts.Difference, m.Between.Removed, c.Index, m.Index},
	} {
		facts = append(facts, Fact{one.before, one.write(one.Before)}, Fact{one.after, one.write(one.After)})
		if one.Verdict() != compare.NoClaim {
			facts = append(facts, Fact{one.difference, m.Points(one.Shown())})
		}
		if removed := one.Removed(); removed.Known() {
			facts = append(facts, Fact{one.removed, m.Percentage(removed.Scaled(100))})
		}
	}
	return facts
}

// ComparisonTitle stands above a comparison and says what was compared.
func (m *Model) ComparisonTitle(c *Comparison) string {
	if c.Whole() {
		return m.Between.ChangeOfWhole
	}
	return m.Between.Change
}

// LeftFacts say where deposit is left, with the index of each place.
func (m *Model) LeftFacts(c *Comparison) []Fact {
	var facts []Fact
	for _, r := range c.Left {
		facts = append(facts, Fact{r.Place, m.IndexValue(r.Index)})
	}
	return facts
}

// Percentage writes a percentage with its interval: "62 % (57 to 66)".
func (m *Model) Percentage(v measure.Figure) string { return m.measured(v, m.Locale.Percent) }

// Points writes a figure in points with its interval: "34 (28 to 41)".
func (m *Model) Points(v measure.Figure) string {
	return m.measured(v, func(points float64) string { return m.Locale.Number(points, 0) })
}

// Index writes an index with its interval, as Points, and so that it keeps its grade.
func (m *Model) Index(v measure.Figure) string { return m.measured(v, m.IndexValue) }

// IndexValue writes an index alone.
func (m *Model) IndexValue(index float64) string { return m.Locale.index(index) }

// Whole keeps what stands in brackets on one line.
func (m *Model) Whole(figure string) string {
	value, interval, found := strings.Cut(figure, " (")
	if !found {
		return value
	}
	return value + " (" + strings.ReplaceAll(interval, " ", "\u00a0")
}

func (m *Model) measured(v measure.Figure, write func(float64) string) string {
	if !v.Known() {
		return m.Texts.NotMeasured
	}
	return write(v.Value) + " (" + m.Locale.Range(v, 0) + ")"
}
