package serve

import (
	"net/http"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/grade"
)

// catalogue is what the page says in the words of the reports; its own words are in page/words. %s in a sentence takes
// what the comments of package texts say.
type catalogue struct {
	Language string `json:"language"`
	Decimal  string `json:"decimal"`
	// Thousands parts them.
	Thousands string       `json:"thousands"`
	Grades    []gradeWords `json:"grades"`
	// Soonest and Latest are the miles in the practice of watching.
	Soonest int `json:"soonest"`
	Latest  int `json:"latest"`

	Classes    map[string]string         `json:"classes"`
	Dark       string                    `json:"dark"`
	Index      string                    `json:"index"`
	Decisions  map[grade.Decision]string `json:"decisions"`
	Borderline string                    `json:"borderline"`
	Perhaps    string                    `json:"perhaps"`
	PerhapsRun string                    `json:"perhaps_run"`
	Cautions   []string                  `json:"cautions"`
	// Phrases are what the program says in sentences of its own.
	Phrases []texts.Phrase `json:"phrases"`
}

type gradeWords struct {
	Name     string `json:"name"`
	ReadsAs  string `json:"reads_as"`
	Practice string `json:"practice"`
}

// spoken is the language that a request asks for, that of the locale where it asks for none that there is. Numbers are
// written as in the locale where it is of that language, else as in the region that the request names.
func (s *Server) spoken(r *http.Request) *texts.Texts {
	own, _ := texts.For(s.options.Locale)
	if t, known := texts.For(r.URL.Query().Get("language")); known && t.Language != own.Language {
		return t
	}
	return own
}

func catalogueOf(t *texts.Texts) catalogue {
	c := catalogue{
		Language: t.Language, Decimal: t.Decimal, Thousands: t.Thousands, Soonest: grade.Soonest, Latest: grade.Latest,
		Dark: t.Dark, Index: t.Index, Borderline: t.Borderline, Perhaps: t.Perhaps, PerhapsRun: t.PerhapsRun,
		Cautions: t.CautionList, Phrases: t.Phrases(),
		Classes: map[string]string{"bare": t.Bare, "film": t.Film, "medium": t.Medium, "heavy": t.Heavy},
		Decisions: map[grade.Decision]string{
			grade.CleaningDue: t.CleaningDue, grade.NothingToDo: t.NothingToDo, grade.NotYetDue: t.NotYetDue,
			grade.CannotSay: t.CannotSay,
		},
	}
	for _, g := range t.Grades {
		c.Grades = append(c.Grades, gradeWords{g.Name, g.ReadsAs, g.Practice})
	}
	return c
}
