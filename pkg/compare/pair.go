package compare

import (
	"encoding/json"
	"fmt"
	"slices"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/score"
)

// Pair is what two photos say together, the earlier one first: one comparison, or one for each valve that both show.
type Pair struct {
	// Valves are from left to right; never empty.
	Valves []*Comparison
}

// Pictures compares all valves of two photos; before and after are the results of each, from left to right. Photos that
// show as many valves are taken to show the same ones in the same order. Else the largest of either photo are compared,
// with a caution.
func Pictures(before, after []score.Record, o Options) *Pair {
	p := &Pair{}
	if len(before) != len(after) {
		c := Photos(&engine.Listed(1, before)[0], &engine.Listed(1, after)[0], o)
		c.Reasons = append(
			c.Reasons,
			table.With(LargestOnly, fmt.Sprintf("%d and %d valves are in view", len(before), len(after))),
		)
		p.Valves = append(p.Valves, c)
		return p
	}
	for n := range before {
		p.Valves = append(p.Valves, Photos(&before[n], &after[n], o))
	}
	if len(p.Valves) > 1 {
		for _, c := range p.Valves {
			c.Reasons = append(c.Reasons, table.Of(SameOrder))
		}
	}
	return p
}

// Compared reports whether every valve was compared.
func (p *Pair) Compared() bool {
	return !slices.ContainsFunc(p.Valves, func(c *Comparison) bool { return !c.Compared })
}

// MarshalJSON writes the document that Schema describes: that of the comparison where there is one.
func (p *Pair) MarshalJSON() ([]byte, error) {
	if len(p.Valves) == 1 {
		return p.Valves[0].MarshalJSON()
	}
	type placed struct {
		Valve int `json:"valve_in_photo"`
		result
	}
	valves := make([]placed, len(p.Valves))
	for n, c := range p.Valves {
		valves[n] = placed{n + 1, c.record()}
	}
	return json.Marshal(struct {
		Schema int      `json:"schema"`
		Scale  int      `json:"scale"`
		Valves []placed `json:"valves"`
	}{SchemaVersion, grade.Scale, valves})
}
