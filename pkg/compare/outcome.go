package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
)

// bareBelow is the index below which a valve, or a place on it, counts as bare on the scale: nothing to remove, nothing
// left.
var bareBelow = grade.Limits()[0]

// mostHours is how many clock positions are named.
const mostHours = 3

// Outcome says in one sentence, without capital and full stop, what the comparison comes to.
func (c *Comparison) Outcome() string {
	if !c.Compared {
		return "not compared: " + c.refusal()
	}
	text := c.sentence("", c.unclaimed())
	if rest := c.rest(); rest != "" && c.Leading().cleanedOff() {
		text += ", " + rest
	}
	return text
}

// unclaimed says why nothing is claimed.
func (c *Comparison) unclaimed() string {
	if c.ByFigures() {
		return "a result has no map of its valve, so no change is claimed"
	}
	if c.has(SamePhoto) {
		return "both files hold the same photo, so no change is claimed"
	}
	return "the photos do not register as one valve, so no change is claimed"
}

// WithoutRemedy is the advice of a reason, of a photo that is missing only which: that every valve should be photographed
// at each inspection is said once for all valves, among the notes of an Engine.
func WithoutRemedy(r reason.Reason) string {
	if r.Code != NoPhoto {
		return r.Advice
	}
	return strings.TrimSuffix(r.Advice, ": "+table.Of(NoPhoto).Advice)
}

// refusal is the advice of every reason that stopped the comparison.
func (c *Comparison) refusal() string {
	var advice []string
	for _, r := range c.Reasons {
		if table.Refuses([]reason.Reason{r}) {
			advice = append(advice, WithoutRemedy(r))
		}
	}
	return strings.Join(advice, "; ")
}

// sentence words a change; of says of what the figures are, "" when that is clear, unclaimed why nothing is claimed.
func (c Changes) sentence(of, unclaimed string) string {
	figures := c.figures()
	switch c.Verdict() {
	case NoClaim:
		return strings.Join(figures, ", ") + of + ": " + unclaimed
	case NotDistinguishable:
		return strings.Join(figures, ", ") + of + ": " + c.Unsure()
	}
	figures[0] += of + ": " + c.Leading().size()
	return strings.Join(figures, "; ")
}

// figures are dark deposit and index before and after, the leading one first; those that are known. They are rounded as
// in the tables beside them, and "from" tells them from an interval.
func (c Changes) figures() []string {
	index := fmt.Sprintf("index from %s to %s", grade.IndexText(c.Index.Before.Value), grade.IndexText(c.Index.After.Value))
	if c.Dark.Verdict() == "" {
		return []string{index}
	}
	dark := fmt.Sprintf("dark deposit from %s %% to %s %%",
		number.Text(c.Dark.Before.Value, 0), number.Text(c.Dark.After.Value, 0))
	if c.IndexLeads() {
		return []string{index, dark}
	}
	return []string{dark, index}
}

// Unsure says from what measured size on a change would be sure. It does not say that one of that size would have been
// seen: of true ones half measure less.
func (c Changes) Unsure() string {
	var limits []string
	if c.Dark.CanShow() {
		limits = append(limits, number.Text(c.Dark.SureAbove(), 0)+" points of dark deposit")
	}
	if c.Index.CanShow() {
		limits = append(limits, number.Text(c.Index.SureAbove(), 0)+" points of the index")
	}
	if limits == nil {
		return "no sure change (the intervals are too wide to show any)"
	}
	return fmt.Sprintf("no sure change (only one of more than %s would be sure)", strings.Join(limits, " or "))
}

// size words how much a figure has changed.
func (c Change) size() string {
	d := c.Shown()
	if removed := c.Removed(); removed.Known() {
		percent := removed.Scaled(100)
		share, low, high := number.Text(percent.Value, 0), number.Text(percent.Low, 0), number.Text(percent.High, 0)
		if c.uncleaned {
			return fmt.Sprintf("%s %% less (%s to %s)", share, low, high)
		}
		return fmt.Sprintf("%s %% removed (%s to %s)", share, low, high)
	}
	word := "more"
	if c.Difference.Value < 0 {
		word, d = "less", measure.Figure{Value: -d.Value, Low: -d.High, High: -d.Low}
	}
	return fmt.Sprintf("%s points %s (%s to %s)", number.Text(d.Value, 0), word, number.Text(d.Low, 0), number.Text(d.High, 0))
}

// rest says where deposit is left: the zones with the thickest first, and the clock positions of the head; "bare" for
// nowhere, "" when it is not known.
func (c *Comparison) rest() string {
	if c.bare() {
		return "bare"
	}
	if c.Zones == nil {
		return ""
	}
	var words []string
	for _, zone := range c.Left() {
		words = append(words, fmt.Sprintf("on the %s (index %s)", zone, grade.IndexText(c.Zones[zone].After.Index())))
	}
	if len(words) == 0 {
		return ""
	}
	text := "left " + strings.Join(words, ", ")
	if hours := c.Thickest(); len(hours) > 0 {
		text += ", thickest on the head at " + listed(hours) + " o'clock"
	}
	return text
}

func (c *Comparison) bare() bool { return c.Index.After.Value < bareBelow }

// Left returns the zones on which deposit is left, the worst first; none where the zones are not known.
func (c *Comparison) Left() []Zone {
	index := func(z Zone) float64 { return c.Zones[z].After.Index() }
	zones := slices.DeleteFunc([]Zone{Rim, Fillet, Stem}, func(z Zone) bool {
		return c.Zones == nil || !(index(z) >= bareBelow)
	})
	slices.SortStableFunc(zones, func(a, b Zone) int { return cmp.Compare(index(b), index(a)) })
	return zones
}

// Thickest returns the clock positions of the head, 1 to 12, where deposit is left the thickest, the worst first: three
// at most, none that is bare. It is nil where the clock is not known, and where deposit is left all around: at least
// half as thick as at its worst on more than half the clock.
func (c *Comparison) Thickest() []int {
	index := func(hour int) float64 { return c.Clock[hour-1].After.Index() }
	var left []int
	for i := range c.Clock {
		if index(i+1) >= bareBelow { // false for NaN
			left = append(left, i+1)
		}
	}
	slices.SortStableFunc(left, func(a, b int) int { return cmp.Compare(index(b), index(a)) })
	if len(left) > hours/2 && index(left[hours/2]) >= index(left[0])/2 {
		return nil
	}
	return left[:min(len(left), mostHours)]
}

// listed writes "11", "11 and 1", "11, 1 and 10".
func listed(numbers []int) string {
	text := fmt.Sprint(numbers[0])
	for i, n := range numbers[1:] {
		if i == len(numbers)-2 {
			text += fmt.Sprintf(" and %d", n)
		} else {
			text += fmt.Sprintf(", %d", n)
		}
	}
	return text
}

// noClaim stands in sentences on several valves; each valve says why.
const noClaim = "no change is claimed"

// Outcome says in one sentence what the comparison of a cylinder comes to: the mean of its valves, then what is left on
// each.
func (c *Cylinder) Outcome() string {
	name := fmt.Sprintf("cylinder %d", c.Number)
	if c.Method != "" {
		name += ", " + c.Method
	}
	if c.LeftAlone {
		name += ", left alone"
	}
	if len(c.Valves) == 1 {
		return name + ": " + c.Valves[0].Outcome()
	}
	var compared, parts []string
	bare := true
	for _, v := range concluding(c.Valves) {
		compared = append(compared, fmt.Sprint(v.Number))
		bare = bare && v.bare()
	}
	switch len(compared) {
	case 0:
	case 1:
		parts = append(parts, c.sentence(", valve "+compared[0]+" alone", noClaim))
	default:
		parts = append(parts, c.sentence(", mean of its valves", noClaim))
	}
	if bare && c.Leading().cleanedOff() {
		parts[0] += ", bare"
	}
	for _, v := range c.Heard() {
		switch rest := v.rest(); {
		case !v.Compared:
			parts = append(parts, fmt.Sprintf("valve %d %s", v.Number, v.Outcome()))
		case v.Verdict == NoClaim && c.Verdict != NoClaim:
			parts = append(parts, fmt.Sprintf("valve %d: %s", v.Number, v.Outcome()))
		case rest != "" && !bare && c.Leading().cleanedOff():
			parts = append(parts, fmt.Sprintf("valve %d: %s", v.Number, rest))
		}
	}
	return name + ": " + strings.Join(parts, "; ")
}
