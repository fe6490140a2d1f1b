package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
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
	text := c.Index.sentence("")
	if rest := c.rest(); rest != "" && c.Index.less() {
		text += ", " + rest
	}
	return text
}

// refusal is the advice of every reason that stopped the comparison.
func (c *Comparison) refusal() string {
	var advice []string
	for _, r := range c.Reasons {
		if table.Refuses([]reason.Reason{r}) {
			advice = append(advice, r.Advice)
		}
	}
	return strings.Join(advice, "; ")
}

// less reports whether deposit went beyond doubt.
func (c Change) less() bool { return c.Verdict() == Changed && c.Difference.Value < 0 }

// sentence words a change of the index; of says of what the index is, "" when that is clear.
func (c Change) sentence(of string) string {
	point := func(v float64) string { return number.Text(v, 1) }
	figures := fmt.Sprintf("index %s to %s%s", point(c.Before.Value), point(c.After.Value), of)
	switch removed := c.Removed(); {
	case c.Verdict() == NoClaim:
		return figures + ": the photos do not register as one valve, so no change is claimed"
	case c.Verdict() == NotDistinguishable && !c.CanShow():
		return figures + ": the intervals are too wide to show any change"
	case c.Verdict() == NotDistinguishable:
		return fmt.Sprintf("%s: no sure change (one of more than %s points would have been seen)",
			figures, point(c.Detectable))
	case c.Difference.Value > 0:
		d := c.Difference
		return fmt.Sprintf("%s: %s points more (%s to %s)", figures, point(d.Value), point(d.Low), point(d.High))
	case removed.Value >= 0: // false for NaN
		percent := removed.Scaled(100)
		return fmt.Sprintf("%s: %.0f %% removed (%.0f to %.0f)", figures, percent.Value, percent.Low, percent.High)
	default:
		return figures
	}
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
		words = append(words, fmt.Sprintf("on the %s (index %s)", zone, number.Text(c.Zones[zone].After.Index(), 0)))
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

// Outcome says in one sentence what the comparison of a cylinder comes to: the mean of its valves, then what is left on
// each.
func (c *Cylinder) Outcome() string {
	name := fmt.Sprintf("cylinder %d", c.Number)
	if c.Method != "" {
		name += ", " + c.Method
	}
	if len(c.Valves) == 1 {
		return name + ": " + c.Valves[0].Outcome()
	}
	var compared, parts []string
	bare := true
	for _, v := range c.concluding() {
		compared = append(compared, fmt.Sprint(v.Number))
		bare = bare && v.bare()
	}
	switch len(compared) {
	case 0:
	case 1:
		parts = append(parts, c.Index.sentence(", valve "+compared[0]+" alone"))
	default:
		parts = append(parts, c.Index.sentence(", mean of its valves"))
	}
	if bare && c.Index.less() {
		parts[0] += ", bare"
	}
	for _, v := range c.Valves {
		switch rest := v.rest(); {
		case !v.Compared:
			parts = append(parts, fmt.Sprintf("valve %d %s", v.Number, v.Outcome()))
		case v.Forced && !c.Index.forced:
			parts = append(parts, fmt.Sprintf("valve %d: %s", v.Number, v.Outcome()))
		case rest != "" && !bare && c.Index.less():
			parts = append(parts, fmt.Sprintf("valve %d: %s", v.Number, rest))
		}
	}
	return name + ": " + strings.Join(parts, "; ")
}
