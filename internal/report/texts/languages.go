package texts

import (
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"
)

// all are the languages that there are.
var all = []*Texts{&English, &German}

func init() {
	English.phrases = phrasesOf(englishSaid)
	German.phrases = phrasesOf(withTables(germanSaid, &German))
}

// For returns the texts for a BCP 47 language tag, or one with underscores as systems write it, with numbers as its
// region writes them, and false with English when there are none.
func For(tag string) (*Texts, bool) {
	spoken, _, _ := strings.Cut(strings.ReplaceAll(strings.ToLower(tag), "_", "-"), "-")
	if parsed, err := language.Parse(tag); err == nil { // deu is de, too
		base, _, _ := parsed.Raw()
		spoken = base.String()
	}
	for _, t := range all {
		if spoken == t.Language {
			return t.in(tag), true
		}
	}
	return &English, false
}

// in are the texts with the separators of the tag's region by Unicode's CLDR, which every other number of a report
// follows, too: German has a comma, and a point in Switzerland.
func (t *Texts) in(tag string) *Texts {
	parsed, err := language.Parse(tag)
	if err != nil {
		return t
	}
	regional := *t
	printer := message.NewPrinter(parsed)
	regional.Decimal = strings.Trim(printer.Sprint(number.Decimal(0.5, number.Scale(1))), "05")
	regional.Thousands = strings.Trim(printer.Sprint(number.Decimal(55555)), "5")
	fraction := regexp.MustCompile(`(\d)` + regexp.QuoteMeta(t.Decimal) + `(\d)`)
	written := func(sentence string) string {
		return fraction.ReplaceAllString(sentence, "${1}"+regional.Decimal+"${2}")
	}
	regional.Measured = slices.Clone(t.Measured)
	for n, sentence := range t.Measured {
		regional.Measured[n] = written(sentence)
	}
	regional.Verify = written(t.Verify)
	return &regional
}
