package compare

import (
	"fmt"
	"slices"
	"strings"
)

// bareBelow is the index below which a place counts as bare on the scale.
const bareBelow = 2

// Outcome says in one sentence, without capital and full stop, what the comparison comes to.
func (c *Comparison) Outcome() string {
	if !c.Compared {
		return "not compared: " + c.Reasons[0].Advice
	}
	return c.Index.sentence(c.left())
}

// sentence words a change of the index. left says where deposit is left, "" for nowhere or unknown.
func (c Change) sentence(left string) string {
	figures := fmt.Sprintf("index %.1f to %.1f", c.Before.Value, c.After.Value)
	switch {
	case c.Verdict() == NotDistinguishable:
		return fmt.Sprintf("%s: no change that these photos can show (it would have to exceed %.1f points)", figures, c.Detectable)
	case c.Difference.Value > 0:
		return fmt.Sprintf("%s: %.1f points more (%.1f to %.1f)", figures, c.Difference.Value, c.Difference.Low, c.Difference.High)
	}
	if removed := c.Removed(); removed.Value >= 0 { // false for NaN
		figures += fmt.Sprintf(": %.0f %% removed (%.0f to %.0f)", 100*removed.Value, 100*removed.Low, 100*removed.High)
	}
	switch {
	case left != "":
		return figures + ", left " + left
	case c.After.Value < bareBelow:
		return figures + ", bare"
	default:
		return figures
	}
}

// left names the zones that still carry deposit, the one that matters most first, and where on the clock most of it is.
func (c *Comparison) left() string {
	if c.Zones == nil {
		return ""
	}
	zones := slices.DeleteFunc([]Zone{Rim, Fillet, Stem}, func(z Zone) bool { return !(c.Zones[z].After.Index() >= bareBelow) })
	slices.SortStableFunc(zones, func(a, b Zone) int {
		return int(1e6 * (c.Zones[b].Share*c.Zones[b].After.Index() - c.Zones[a].Share*c.Zones[a].After.Index()))
	})
	var words []string
	for _, zone := range zones {
		words = append(words, fmt.Sprintf("on the %s (index %.0f)", zone, c.Zones[zone].After.Index()))
	}
	text := strings.Join(words, ", ")
	if span := c.worstHours(); span != "" && text != "" {
		text += ", most of it at " + span
	}
	return text
}

// worstHours names the stretch of the clock around the hour with the most deposit in which there is at least half as much; "" when it is
// spread over more than half the clock, or the clock is not known.
func (c *Comparison) worstHours() string {
	peak := -1
	for i := range c.Clock {
		if index := c.Clock[i].After.Index(); index >= bareBelow && (peak < 0 || index > c.Clock[peak].After.Index()) {
			peak = i
		}
	}
	if peak < 0 {
		return ""
	}
	heavy := func(i int) bool { return c.Clock[(i+hours)%hours].After.Index() >= c.Clock[peak].After.Index()/2 }
	from, to := peak, peak
	for to-from < hours && heavy(from-1) {
		from--
	}
	for to-from < hours && heavy(to+1) {
		to++
	}
	name := func(i int) int { return (i+hours)%hours + 1 }
	switch {
	case to-from >= hours/2:
		return ""
	case from == to:
		return fmt.Sprintf("%d o'clock", name(from))
	default:
		return fmt.Sprintf("%d to %d o'clock", name(from), name(to))
	}
}
