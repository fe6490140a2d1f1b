package engine

import (
	"fmt"
	"slices"
)

// corrections are sentences on outlines that people set and on classes that they painted, each with the valves whose
// figures rest on it.
func (e *Engine) corrections() []string {
	var sentences []string
	valves := map[string][]string{}
	measured, all := 0, 0
	for _, c := range e.Cylinders {
		for _, v := range c.Valves {
			if e.Inspection.HeardOf(c.Number, v.Number) {
				all++
			}
			if v.Used > 0 {
				measured++
			}
			for _, s := range v.measured() {
				for _, said := range s.corrections() {
					if valves[said] == nil {
						sentences = append(sentences, said)
					}
					if !slices.Contains(valves[said], v.name()) {
						valves[said] = append(valves[said], v.name())
					}
				}
			}
		}
	}
	for n, said := range sentences {
		sentences[n] = said + ": " + Which(valves[said], measured, all, "all valves that were graded")
	}
	return sentences
}

// corrections are what somebody corrected in a photo.
func (s Shot) corrections() []string {
	var said []string
	switch {
	case s.OutlinedByHand && s.OutlinedBy != "":
		said = append(said, fmt.Sprintf("outline set by hand, by %s", s.OutlinedBy))
	case s.OutlinedByHand:
		said = append(said, "outline set by hand")
	}
	switch {
	case s.Painted && s.PaintedBy != "":
		said = append(said, fmt.Sprintf("deposit classes painted by hand, by %s", s.PaintedBy))
	case s.Painted:
		said = append(said, "deposit classes painted by hand")
	}
	if s.PaintBeside {
		said = append(said, "what was painted beside the valve was ignored")
	}
	return said
}
