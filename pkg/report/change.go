package report

import (
	"fmt"
	"slices"

	"valvegrade/internal/draw"
	"valvegrade/pkg/compare"
)

// compare holds the second visit against the first.
func (m *Model) compare(in Input) error {
	if len(in.Visits) < 2 {
		return nil
	}
	before, after := in.Visits[0], in.Visits[1]
	change, err := compare.Inspections(before.Graded, after.Graded, in.Compare)
	if err != nil {
		return err
	}
	m.Change = change
	for _, sentence := range change.Notes {
		if !slices.Contains(m.Notes, sentence) {
			m.Notes = append(m.Notes, sentence)
		}
	}
	return nil
}

// comparison takes from the comparison of a valve what the report tells.
func (m *Model) comparison(found *compare.Comparison) (*Comparison, error) {
	c := &Comparison{Comparable: found.Common, Index: found.Index, Left: m.left(found)}
	if found.Before != nil {
		c.BeforeSHA256, c.AfterSHA256 = found.Before.SHA256, found.After.SHA256
	}
	if !found.Compared {
		c.Refused = fmt.Sprintf(m.Texts.NotCompared, m.Texts.Reason(found.Reasons[0]).Advice)
		return c, nil
	}
	form := m.Texts.ValveOutcome
	if c.Whole() {
		form = m.Texts.WholeOutcome
	}
	c.Outcome = fmt.Sprintf(form, m.changeSentence(found.Index))
	if found.Residue == nil {
		return c, nil
	}
	var err error
	c.Map, err = NewDrawing(draw.ResidueMap(found, m.residueWords()))
	return c, err
}

// residueWords are those on a residue map, which stands below what the comparison came to.
func (m *Model) residueWords() draw.ResidueWords {
	return draw.ResidueWords{
		Before: m.Texts.Before, After: m.Texts.After, Index: m.Texts.Index, Stem: m.Texts.StemZone,
		Zones: map[compare.Zone]string{
			compare.Rim:    m.Texts.Rim,
			compare.Fillet: m.Texts.Fillet,
			compare.Stem:   m.Texts.StemZone,
		},
		Classes: [4]string{m.Texts.Bare, m.Texts.Film, m.Texts.Medium, m.Texts.Heavy},
		OneOnly: m.Texts.OneOnly, Neither: m.Texts.Neither, Number: func(index float64) string { return m.Locale.Number(index, 0) },
	}
}

// changeSentence says what became of an index.
func (m *Model) changeSentence(c compare.Change) string {
	before, after := m.Locale.Number(c.Before.Value, 1), m.Locale.Number(c.After.Value, 1)
	removed := c.Removed()
	switch {
	case c.Verdict() != compare.Changed && !c.CanShow():
		return fmt.Sprintf(m.Texts.NothingCouldShow, before, after)
	case c.Verdict() != compare.Changed:
		return fmt.Sprintf(m.Texts.NoChange, before, after, m.Locale.Number(c.Detectable, 1))
	case removed.Value >= 0 && c.Difference.Value < 0: // false for NaN
		return fmt.Sprintf(
			m.Texts.LessDeposit,
			before,
			after,
			m.Locale.Share(removed.Value),
			m.Locale.Share(removed.Low),
			m.Locale.Share(removed.High),
		)
	default:
		d := c.Difference
		return fmt.Sprintf(
			m.Texts.MoreDeposit,
			before,
			after,
			m.Locale.Number(d.Value, 1),
			m.Locale.Number(d.Low, 1),
			m.Locale.Number(d.High, 1),
		)
	}
}

// left names the zones with what is left on each, the worst first, and the clock positions that carry most.
func (m *Model) left(c *compare.Comparison) []Residue {
	names := map[compare.Zone]string{
		compare.Rim:    m.Texts.Rim,
		compare.Fillet: m.Texts.Fillet,
		compare.Stem:   m.Texts.StemZone,
	}
	var left []Residue
	for _, zone := range c.Left() {
		left = append(left, Residue{names[zone], c.Zones[zone].After.Index()})
	}
	for _, hour := range c.Thickest() {
		left = append(left, Residue{fmt.Sprintf(m.Texts.Clock, hour), c.Clock[hour-1].After.Index()})
	}
	return left
}
