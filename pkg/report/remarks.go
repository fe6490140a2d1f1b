package report

import (
	"fmt"
	"slices"
	"strings"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Remarks are sentences, without capital and full stop, on what speaks against a photo or for caution: to the workshop
// with what to do, to the customer what the photo shows.
func (m *Model) Remarks(r score.Record) []string {
	var remarks []string
	for _, found := range r.Reasons {
		said := m.against(found)
		if m.Workshop {
			said += ": " + m.Texts.Reason(found).Advice
		}
		remarks = append(remarks, said)
	}
	return remarks
}

// against is what speaks against a photo in a few words.
func (m *Model) against(r reason.Reason) string {
	if m.Workshop {
		return m.Texts.Reason(r).Label
	}
	return m.Texts.Reason(r).Told
}

// Advice says of each refused photo what the workshop can do about it; none where the report itself says so.
func (m *Model) Advice() []string {
	if m.Workshop {
		return nil
	}
	var lines []string
	for visit, v := range m.Visits {
		for n, r := range v.Photos {
			if r.Status != score.Refused || v.Engine.Inspection.Photos[n].FromLeft > 1 {
				continue
			}
			for _, found := range r.Reasons {
				said := m.Texts.Reason(found)
				lines = append(lines, m.of(visit, fmt.Sprintf("%s: %s: %s", r.Photo, said.Label, said.Advice)))
			}
		}
	}
	return lines
}

// notCompared says why a valve, in two states, was not compared: to the customer which photo is missing or was no good.
func (m *Model) notCompared(c *compare.Comparison, states []State) string {
	why := c.Reasons[slices.IndexFunc(c.Reasons, func(r reason.Reason) bool {
		return compare.Refuses([]reason.Reason{r})
	})]
	if m.Workshop {
		if why.Code == compare.NoPhoto {
			return m.Texts.Say(compare.WithoutRemedy(why))
		}
		return m.Texts.Reason(why).Advice
	}
	var missing []string
	for visit, form := range []string{m.Between.OfBefore, m.Between.OfAfter} {
		for _, said := range m.lacking(states[visit]) {
			missing = append(missing, fmt.Sprintf(form, said))
		}
	}
	if (why.Code == compare.PhotoRefused || why.Code == compare.NoPhoto) && missing != nil {
		return strings.Join(missing, ", ")
	}
	return m.Texts.Reason(why).Told
}

// lacking says, each once, what left a state without a grade.
func (m *Model) lacking(s State) []string {
	var why []string
	counts := 0
	for _, p := range s.Photos {
		if p.LeftOut != nil {
			continue
		}
		counts++
		for _, r := range p.Record.Reasons {
			if said := m.against(r); s.Grade == nil && !slices.Contains(why, said) {
				why = append(why, said)
			}
		}
	}
	switch {
	case len(s.Photos) == 0:
		return []string{m.Texts.NoPhoto}
	case counts == 0:
		return []string{m.Texts.AllLeftOut}
	}
	return why
}
