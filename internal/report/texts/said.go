package texts

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/reason"
)

// Phrase is a sentence of the program, or a part of one, in two languages. Form is a regular expression for the English
// one, which Go and JavaScript read alike; in Own {1} stands for what its first group holds, {number 1} for that as a
// number of the own language, {day 1} as a day, and {say 1} for that in its words.
type Phrase struct {
	Form string `json:"form"`
	Own  string `json:"own"`

	form *regexp.Regexp
}

// Phrases are those of a language, the more particular ones first.
func (t *Texts) Phrases() []Phrase { return t.phrases }

// Say returns a sentence of the program in this language, and one that the language does not have as it is. A day in it
// is written with the day of the month first, a distance with the thousands of the region.
func (t *Texts) Say(sentence string) string { return t.SayWith(t.dayFirst, sentence) }

// SayWith is Say with days written by day.
func (t *Texts) SayWith(day func(time.Time) string, sentence string) string {
	return distances.ReplaceAllStringFunc(t.phrase(day, sentence), func(far string) string {
		at := strings.LastIndexAny(far, " \u00a0") // before the unit
		return strings.ReplaceAll(far[:at], " ", t.Thousands) + far[at:]
	})
}

// distances are those of an odometer as the program writes them, with blanks between thousands.
var distances = regexp.MustCompile(`\b\d{1,3}(?: \d{3})+[ \x{a0}](?:mi|km)\b`)

// phrase is the sentence by the first phrase that it is one of.
func (t *Texts) phrase(day func(time.Time) string, sentence string) string {
	for _, p := range t.phrases {
		if parts := p.form.FindStringSubmatch(sentence); parts != nil {
			return holes.ReplaceAllStringFunc(p.Own, func(hole string) string {
				found := holes.FindStringSubmatch(hole)
				n, _ := strconv.Atoi(found[2])
				switch {
				case found[1] == "say ":
					return t.phrase(day, parts[n])
				case found[1] == "number " && decimals.MatchString(parts[n]):
					return strings.Replace(parts[n], ".", t.Decimal, 1)
				case found[1] == "day ":
					return written(day, parts[n])
				}
				return parts[n]
			})
		}
	}
	return sentence
}

// written writes a day YYYY-MM-DD by day, and what is none as it is.
func written(day func(time.Time) string, text string) string {
	at, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return text
	}
	return day(at)
}

func (t *Texts) dayFirst(day time.Time) string {
	return fmt.Sprintf(t.DateDayFirst, day.Day(), t.Months[day.Month()-1], day.Year())
}

// SayAll returns each of the sentences in this language.
func (t *Texts) SayAll(sentences []string) []string {
	said := make([]string, len(sentences))
	for n, s := range sentences {
		said[n] = t.Say(s)
	}
	return said
}

var (
	holes    = regexp.MustCompile(`\{(say |number |day )?(\d)\}`)
	decimals = regexp.MustCompile(`^-?\d+\.\d+$`)
)

// verb is one of package fmt in a sentence.
var verb = regexp.MustCompile(`%(?:\.?\d*[dfsqvw]|%)`)

// phrasesOf makes them of a language's own sentences.
func phrasesOf(own map[string]string) []Phrase {
	forms := make([]string, 0, len(own))
	for form := range own {
		forms = append(forms, form)
	}
	fixed := func(form string) int { return len(verb.ReplaceAllString(form, "")) }
	slices.SortFunc(forms, func(a, b string) int { return cmp.Or(fixed(b)-fixed(a), cmp.Compare(a, b)) })
	phrases := make([]Phrase, len(forms))
	for n, form := range forms {
		pattern := patternOf(form)
		phrases[n] = Phrase{pattern, numbered(form, own[form]), regexp.MustCompile(pattern)}
	}
	return phrases
}

// withTables adds reasons and names of grades, which are those of the language's tables.
func withTables(own map[string]string, t *Texts) map[string]string {
	all := map[string]string{}
	for value, name := range grade.Names() {
		all[name] = t.Grades[value].Name
	}
	for _, table := range []reason.Entries{reason.Table(), compare.Table()} {
		for _, entry := range table {
			words, known := t.Reasons[entry.Code]
			if !known {
				continue
			}
			all[entry.Short] = words.Label
			for _, advice := range []string{entry.Advice, table.Of(entry.Code).Advice} { // the latter with what can be typed
				advice = strings.ReplaceAll(advice, "%", "%%")
				all[advice] = words.Advice
				all["%s: "+advice] = "{say 1}: " + words.Advice // as reason.With says it
			}
		}
	}
	for form, words := range own {
		all[form] = words
	}
	return all
}

// numbered has what a format writes as a number stand as one in the own words.
func numbered(form, own string) string {
	n := 0
	for _, found := range verb.FindAllString(form, -1) {
		if found == "%%" {
			continue
		}
		n++
		if strings.HasSuffix(found, "d") || strings.HasSuffix(found, "f") {
			own = strings.ReplaceAll(own, fmt.Sprintf("{%d}", n), fmt.Sprintf("{number %d}", n))
		}
	}
	return own
}

// patternOf is the regular expression for what a format of package fmt writes.
func patternOf(form string) string {
	var pattern strings.Builder
	rest := form
	for {
		at := verb.FindStringIndex(rest)
		if at == nil {
			return `^` + pattern.String() + regexp.QuoteMeta(rest) + `$`
		}
		pattern.WriteString(regexp.QuoteMeta(rest[:at[0]]))
		switch found := rest[at[0]:at[1]]; found[len(found)-1] {
		case '%':
			pattern.WriteString(`%`)
		case 'd', 'f':
			pattern.WriteString(`(-?[\d.]+)`)
		case 'q':
			pattern.WriteString(`"((?:[^"\\]|\\.)*)"`)
		default:
			pattern.WriteString(`([^\n]*?)`)
		}
		rest = rest[at[1]:]
	}
}
