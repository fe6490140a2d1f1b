package engine

import (
	"fmt"
	"slices"
	"strings"
)

// corrections are sentences on outlines that people set and on classes that they painted, each with the valves whose
// figures rest on it.
func (e *Engine) corrections() []string {
	var sentences []string
	valves := map[string][]string{}
	measured := 0
	for _, c := range e.Cylinders {
		for _, v := range c.Valves {
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
		names := strings.Join(valves[said], ", ")
		if len(valves[said]) == measured && measured > 1 {
			names = "all valves"
		}
		sentences[n] = said + ": " + names
	}
	return sentences
}

// corrections are what somebody corrected in a photo.
func (s Shot) corrections() []string {
	var said []string
	if s.OutlinedByHand {
		said = append(said, "outline set by hand")
	}
	switch {
	case s.Painted && s.PaintedBy != "":
		said = append(said, fmt.Sprintf("deposit classes painted by hand, by %s", s.PaintedBy))
	case s.Painted:
		said = append(said, "deposit classes painted by hand")
	}
	return said
}
