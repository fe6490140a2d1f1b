package compare

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

// Cleaned reports whether the two inspections stand before and after a cleaning.
func (e *Engine) Cleaned() bool { return Cleaned(e.Before, e.After) }

// Cleaned reports whether two inspections, the earlier one first, stand before and after a cleaning; else they are two
// odometer readings.
func Cleaned(before, after *inspection.Inspection) bool {
	return after.Stage == inspection.After && before.Stage != inspection.After
}

// Driven is the distance between the two inspections in miles, 0 where a reading is missing, below 0 where the second
// is the earlier one.
func (e *Engine) Driven() float64 {
	if !e.Before.Odometer.Known() || !e.After.Odometer.Known() {
		return 0
	}
	return e.After.Odometer.In(inspection.Miles) - e.Before.Odometer.In(inspection.Miles)
}

// Outcome says in one sentence what the comparison of the engine comes to: the mean of its valves, which cylinders say
// otherwise, and which were left alone.
func (e *Engine) Outcome() string {
	if alone := e.LeftAlone(); len(alone) > 0 {
		return e.outcome() + "; " + cylinders(alone) + " left alone"
	}
	return e.outcome()
}

func (e *Engine) outcome() string {
	leading, figures := e.Leading(), e.figures()
	of := ""
	if compared, all := e.Compared(); compared < all {
		of = fmt.Sprintf(" (%d of %d valves)", compared, all)
	}
	figures[0] += of
	switch e.Changes.Verdict() {
	case "":
		return "not compared"
	case NoClaim:
		return figures[0] + ": " + noClaim
	case NotDistinguishable:
		return figures[0] + ": " + e.Unsure() + e.apart()
	}
	name := "dark deposit"
	if e.IndexLeads() {
		name, figures[0] = "the index", strings.Join(figures, ", ")
	}
	name += of
	d := leading.Shown()
	switch {
	case e.Cleaned() && leading.Difference.Value < 0:
		return fmt.Sprintf("helped (%s likely): %s", grade.Percent(leading.Less()), figures[0])
	case e.Cleaned():
		return fmt.Sprintf("did not help: %s, %s", figures[0], leading.size())
	case leading.Difference.Value > 0:
		return fmt.Sprintf("%s grew by %s%s", name, grown(d.Value, d.Low, d.High), e.distance())
	}
	return fmt.Sprintf("%s fell by %s%s", name, grown(-d.Value, -d.High, -d.Low), e.distance())
}

func grown(value, low, high float64) string {
	return fmt.Sprintf("%s points (%s to %s)", number.Text(value, 0), number.Text(low, 0), number.Text(high, 0))
}

// distance is " over 42 000 mi", in the unit of the second inspection; "" where nothing was driven.
func (e *Engine) distance() string {
	if e.Driven() < inspection.SameReading {
		return ""
	}
	unit := e.After.Odometer.Unit
	driven := e.After.Odometer.Value - e.Before.Odometer.In(unit)
	return fmt.Sprintf(" over %s %s", number.Thousands(100*math.Round(driven/100)), unit)
}

// apart tells of cylinders that say otherwise than the mean of all valves, and why they do not speak for the engine.
func (e *Engine) apart() string {
	o := e.Otherwise()
	text := ""
	if len(o.Changed) > 0 {
		text += fmt.Sprintf("; %s changed, the mean of all valves did not", cylinders(o.Changed))
	}
	if len(o.ByChance) > 0 {
		text += fmt.Sprintf("; %s alone would read changed, but of %d cylinders one does by chance more often than the 5 %% that one may",
			cylinders(o.ByChance), o.Of)
	}
	return text
}

// Otherwise are the numbers of cylinders that say otherwise than the engine, whose mean shows no sure change.
type Otherwise struct {
	// Changed are those that changed by more than chance makes one of so many, ByChance the others that would read
	// changed if they stood alone.
	Changed, ByChance []int
	// Of is how many cylinders count.
	Of int
}

// Otherwise returns those cylinders, none where the mean of all valves has changed.
func (e *Engine) Otherwise() Otherwise {
	o := Otherwise{Of: len(e.counting())}
	if e.Changes.Verdict() != NotDistinguishable {
		return o
	}
	for _, c := range e.Standing() {
		o.Changed = append(o.Changed, c.Number)
	}
	for _, c := range e.counting() {
		if c.Verdict == Changed && !slices.Contains(o.Changed, c.Number) {
			o.ByChance = append(o.ByChance, c.Number)
		}
	}
	return o
}

func cylinders(numbers []int) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(n)
	}
	if len(words) == 1 {
		return "cylinder " + words[0]
	}
	return "cylinders " + strings.Join(words, ", ")
}
