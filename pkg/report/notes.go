package report

import (
	"slices"
)

// say returns sentences of the program in the language of the report, with days as its region writes them.
func (m *Model) say(sentences []string) []string {
	said := make([]string, len(sentences))
	for n, s := range sentences {
		said[n] = m.Texts.SayWith(m.Locale.Date, s)
	}
	return said
}

// of says of which of two visits a sentence speaks.
func (m *Model) of(visit int, sentence string) string {
	if len(m.Visits) == 1 {
		return sentence
	}
	return m.Visits[visit].Title + ": " + sentence
}

// note keeps each sentence on a visit once.
func (m *Model) note(visit int, sentences ...string) {
	for _, s := range sentences {
		if s = m.of(visit, s); !slices.Contains(m.Notes, s) {
			m.Notes = append(m.Notes, s)
		}
	}
}

// ShownNotes are the notes on page, paper and invoice: all for the workshop, else what was assumed of the photos and what
// people decided.
func (m *Model) ShownNotes() []string {
	if m.Workshop {
		return m.Notes
	}
	return m.shown
}

// NotesTitle is the heading of the shown notes.
func (m *Model) NotesTitle() string {
	if m.Workshop {
		return m.Texts.ForWorkshop
	}
	return m.Texts.Notes
}
