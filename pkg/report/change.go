package report

import (
	"fmt"
	"image"
	"image/color"
	"slices"

	"github.com/disintegration/imaging"
	"github.com/sourcegraph/conc/iter"

	"valvegrade/internal/draw"
	"valvegrade/internal/report/texts"
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
	m.shown = append(m.shown, m.say(change.Unexplained())...)
	m.shown = append(m.shown, m.doubts(change)...)
	for _, sentence := range m.say(change.Notes) {
		if !slices.Contains(m.Notes, sentence) {
			m.Notes = append(m.Notes, sentence)
		}
	}
	return nil
}

// doubts are sentences on valves that were compared with a doubt that every reader must know: the cautions that have words
// for a customer.
func (m *Model) doubts(change *compare.Engine) []string {
	var sentences []string
	for _, c := range change.Cylinders {
		for _, v := range c.Valves {
			for _, r := range v.Reasons {
				if told := m.Texts.Reason(r).Told; v.Compared && told != "" {
					sentences = append(sentences, fmt.Sprintf(m.Texts.ValveLine, c.Number, v.Number)+": "+told)
				}
			}
		}
	}
	return sentences
}

// comparison takes from the comparison of a valve, in two states, what the report tells.
func (m *Model) comparison(found *compare.Comparison, states []State) *Comparison {
	c := &Comparison{Comparable: found.Common, Changes: found.Changes, Left: m.left(found)}
	if found.Before != nil {
		c.BeforeSHA256, c.AfterSHA256 = found.Before.SHA256, found.After.SHA256
	}
	if !found.Compared {
		c.Refused = fmt.Sprintf(m.Texts.NotCompared, m.notCompared(found, states))
		return c
	}
	form := m.Texts.ValveOutcome
	if c.Whole() {
		form = m.Texts.WholeOutcome
	}
	c.Outcome = fmt.Sprintf(form, m.changeSentence(found.Changes))
	return c
}

// draw draws the valves that were compared, several at a time: each takes a tenth of a second of a core.
func (m *Model) draw() error {
	if m.Change == nil {
		return nil
	}
	var valves []*Valve
	for c := range m.Cylinders {
		for v := range m.Cylinders[c].Valves {
			valves = append(valves, &m.Cylinders[c].Valves[v])
		}
	}
	_, err := iter.MapErr(valves, func(v **Valve) (struct{}, error) {
		found := m.Change.Cylinders[(*v).Cylinder-1].Valves[(*v).Number-1].Comparison
		return struct{}{}, m.drawChange((*v).Comparison, found, (*v).States)
	})
	for _, v := range valves { // a megabyte each, which who keeps the model would keep
		for _, state := range v.States {
			for n := range state.Photos {
				state.Photos[n].HeadOn = nil
			}
		}
	}
	return err
}

// drawChange draws the map of what is left, and the two heads that lie on each other.
func (m *Model) drawChange(c *Comparison, found *compare.Comparison, states []State) (err error) {
	if !found.Compared || found.Residue == nil {
		return nil
	}
	if c.Map, err = NewDrawing(draw.ResidueMap(found, m.Locale.ResidueWords(m.Between))); err != nil {
		return err
	}
	before, after := states[0].of(c.BeforeSHA256), states[1].of(c.AfterSHA256)
	if before == nil || before.HeadOn == nil || after == nil || after.HeadOn == nil {
		return nil
	}
	if c.BeforeHead, err = NewPhotoPicture(onGround(before.HeadOn), headBytes); err != nil {
		return err
	}
	c.AfterHead, err = NewPhotoPicture(onGround(draw.Onto(after.HeadOn, found.Registration)), headBytes)
	return err
}

// headBytes bounds the picture of a head: the photo that it is made from is in the report, too.
const headBytes = 36_000

// onGround lays a picture on a plain colour, which shows where it is transparent: JPEG knows no transparency.
func onGround(picture *image.NRGBA) *image.NRGBA {
	ground := imaging.New(picture.Rect.Dx(), picture.Rect.Dy(), color.NRGBA{0xe9, 0xe4, 0xdc, 0xff})
	return imaging.Overlay(ground, picture, image.Point{}, 1)
}

// ResidueWords are those on a residue map that stands below what the comparison came to. between are the texts for what
// lies between the two photos.
func (l Locale) ResidueWords(between texts.Between) draw.ResidueWords {
	t := l.texts
	return draw.ResidueWords{
		Before: between.Before, After: between.After, Index: t.Index, Stem: t.StemZone,
		Zones:   map[compare.Zone]string{compare.Rim: t.Rim, compare.Fillet: t.Fillet, compare.Stem: t.StemZone},
		Classes: [4]string{t.Bare, t.Film, t.Medium, t.Heavy},
		OneOnly: t.OneOnly, Neither: t.Neither, Number: l.index,
	}
}

// beforeAndAfter are dark deposit and index before and after, the leading one first.
func (m *Model) beforeAndAfter(c compare.Changes) (first, second string) {
	dark := fmt.Sprintf(m.Between.DarkChange, m.Locale.Percent(c.Dark.Before.Value), m.Locale.Percent(c.Dark.After.Value))
	index := fmt.Sprintf(m.Between.IndexChange, m.IndexValue(c.Index.Before.Value), m.IndexValue(c.Index.After.Value))
	if c.IndexLeads() {
		return index, dark
	}
	return dark, index
}

// changeSentence says what became of the deposit.
func (m *Model) changeSentence(c compare.Changes) string {
	first, second := m.beforeAndAfter(c)
	both := fmt.Sprintf(m.Texts.Both, first, second)
	switch c.Verdict() {
	case compare.NoClaim:
		return fmt.Sprintf(m.Texts.Unclaimed, both)
	case compare.NotDistinguishable:
		return m.noChange(c, both)
	}
	d, removed := c.Leading().Shown(), c.Leading().Removed()
	switch {
	case removed.Known():
		return fmt.Sprintf(m.Between.LessDeposit, first,
			m.Locale.Share(removed.Value), m.Locale.Share(removed.Low), m.Locale.Share(removed.High), second)
	case !more(c):
		return fmt.Sprintf(m.Between.FewerPoints, first,
			m.Locale.Number(-d.Value, 0), m.Locale.Number(-d.High, 0), m.Locale.Number(-d.Low, 0), second)
	}
	return fmt.Sprintf(m.Between.MoreDeposit, first,
		m.Locale.Number(d.Value, 0), m.Locale.Number(d.Low, 0), m.Locale.Number(d.High, 0), second)
}

// noChange says from what size on a change would be sure.
func (m *Model) noChange(c compare.Changes, both string) string {
	dark := fmt.Sprintf(m.Texts.DarkLimit, m.Locale.Number(c.Dark.SureAbove(), 0))
	index := fmt.Sprintf(m.Texts.IndexLimit, m.Locale.Number(c.Index.SureAbove(), 0))
	switch {
	case c.Dark.CanShow() && c.Index.CanShow():
		return fmt.Sprintf(m.Texts.NoChange, both, fmt.Sprintf(m.Texts.EitherLimit, dark, index))
	case c.Dark.CanShow():
		return fmt.Sprintf(m.Texts.NoChange, both, dark)
	case c.Index.CanShow():
		return fmt.Sprintf(m.Texts.NoChange, both, index)
	}
	return fmt.Sprintf(m.Texts.NothingCouldShow, both)
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
