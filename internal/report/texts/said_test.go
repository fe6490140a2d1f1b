package texts

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rooms are those whose sentences reach the page or a report: files, without those that only commands or other programs
// read.
var rooms = map[string][]string{
	"pkg/bay":           nil,
	"internal/serve":    {"certificate.go"},
	"pkg/engine":        {"facts.go", "graded.go"},
	"pkg/trend":         {"chart.go"},
	"pkg/compare":       {"headline.go", "table.go"},
	"pkg/inspection":    {"edit.go", "form_text.go", "open_form.go", "written.go"},
	"internal/yamlform": nil,
	"internal/limit":    nil,
	"pkg/region":        {"marks_write.go", "marks_flags.go"},
	"pkg/photo":         {"errors.go", "source.go"},
	"pkg/report":        {"csv_columns.go", "csv_comparison.go", "locale.go", "logo.go"},
	"pkg/archive":       {"backup.go", "check.go", "check_cleanings.go", "check_inspection.go", "check_photos.go", "check_words.go", "location.go", "restore.go"},
}

// apart are what looks like a sentence there and is none that anybody reads in another language: verdicts, names in the
// database, and what a library says before it is put into plain words.
var apart = []string{
	"not distinguishable", "no claim", "other results", "valvegrade archive", "no such table", "inspection i", "cylinder c", "cleaning c",
	"^mapping key (\".*\") already defined at line (\\d+)$", "^field (.*) not found in type ",
	"^cannot construct .* into \\*?(\\[\\]|string$|bool$|u?int\\d*$|float\\d+$)?",
	"while scanning a simple key", "while parsing a flow", "mapping values are not allowed in this context", "did not find expected key",
	// Programming mistakes.
	"%d results for %d photos", "pictures of %d photos for %d",
	"decoder panic: %v",
	// Outcome of a cylinder, which the terminal shows, and the list of hours of a clock.
	"cylinder %d", " and %d", "valve %s alone", "mean of its valves", "valve %d %s", "valve %d: %s", "left alone", ", left alone",
}

var (
	sentence = regexp.MustCompile(`[a-z]{2,}[,:;]? [a-z%]`)
	// machine is SQL and lists of its columns, headers of HTTP, and mistakes of programmers, which begin with the name of their package.
	machine = regexp.MustCompile(`\b(SELECT|INSERT|UPDATE|DELETE|JOIN|EXISTS|CONFLICT|ORDER BY|GROUP BY)\b|charset=|max-age=|-src '|^event: |^\w+(, \w+)+$|^(archive|bay|compare|engine|region|report|trend): `)
	// joint is what holds the parts of a sentence together.
	joint = regexp.MustCompile(`^[;,:] | [;:]$|: ?$`)
)

// sentencesOf are the literals of a room that read like sentences; what is joined to one is %s.
func sentencesOf(t *testing.T, room string, without []string) map[string]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("../../..", room, "*.go"))
	require.NoError(t, err)
	require.NotEmpty(t, files, room)
	found := map[string]string{}
	for _, path := range files {
		if name := filepath.Base(path); strings.HasSuffix(name, "_test.go") || slices.Contains(without, name) {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			if field, ok := n.(*ast.Field); ok && field.Tag != nil {
				return false
			}
			e, ok := n.(ast.Expr)
			if !ok {
				return true
			}
			text, literal := joined(e)
			text = joint.ReplaceAllString(joint.ReplaceAllString(text, ""), "")
			if literal && sentence.MatchString(text) && !machine.MatchString(text) {
				found[text] = set.Position(n.Pos()).String()
			}
			return !literal
		})
	}
	return found
}

// joined is the text of a literal, or of several with + between them.
func joined(e ast.Expr) (text string, literal bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, e.Kind == token.STRING && err == nil
	case *ast.BinaryExpr:
		left, a := joined(e.X)
		right, b := joined(e.Y)
		if e.Op != token.ADD || (!a && !b) {
			return "", false
		}
		if !a {
			left = "%s"
		}
		if !b {
			right = "%s"
		}
		return left + right, true
	}
	return "", false
}

// A sentence that the page or a report may show has a German form.
func TestEverySentenceOfTheProgramIsSaid(t *testing.T) {
	alike := func(form string) string { return strings.ReplaceAll(verb.ReplaceAllString(form, "%"), "%%", "%") }
	known, all := map[string]bool{}, 0
	for form := range germanSaid {
		known[alike(form)] = true
	}
	for room, without := range rooms {
		for text, where := range sentencesOf(t, room, without) {
			if slices.Contains(apart, text) {
				continue
			}
			all++
			if !known[alike(text)] {
				t.Errorf("%s: %q has no German form in german_said.go", where, text)
			}
		}
	}
	assert.Greater(t, all, 200, "the rooms were read")
}

// A form takes up all that changes in it and nothing else, and every piece of it can be told again.
func TestPhrasesAreWhole(t *testing.T) {
	for form := range englishSaid {
		assert.Contains(t, germanSaid, form, "the sentence stands in the code, which the other test reads")
	}
	for form, own := range germanSaid {
		pattern := regexp.MustCompile(patternOf(form))
		for _, hole := range holes.FindAllStringSubmatch(own, -1) {
			n, _ := strconv.Atoi(hole[2])
			assert.LessOrEqual(t, n, pattern.NumSubexp(), form)
		}
		assert.NotRegexp(t, `%[dsqvw]`, own, form)
		assert.NotContains(t, strings.ToLower(own), " the ", form)
	}
}

// Sentences write decimals as the tables beside them, by region: CLDR has a point for German in Switzerland and Liechtenstein.
func TestSentencesWriteDecimalsAsTheRegionDoes(t *testing.T) {
	for tag, decimal := range map[string]string{
		"de": "4,7", "de-DE": "4,7", "de-AT": "4,7", "de-CH": "4.7", "de_LI": "4.7", "no tag at all": "4.7",
	} {
		words, _ := For(tag)
		assert.Contains(t, words.Say("the head is 4.7 and 3.0 stems wide"), decimal, tag)
	}
	swiss, _ := For("de-CH")
	assert.Contains(t, swiss.Measured[2], "100 × (1.00 dick + 0.50 mittel + 0.25 Film)")
	assert.Contains(t, swiss.Verify, "0.05 Punkte")
	assert.Contains(t, German.Measured[2], "1,00 dick", "the language itself is as it was")
}

func TestSaid(t *testing.T) {
	for english, german := range map[string]string{
		"dark deposit from 91 % to 0 %: 100 % removed (68 to 100); index from 50 to 0, bare":                                                                                            "dunkle Ablagerung von 91 % auf 0 %: 100 % entfernt (68 bis 100); Index von 50 auf 0, blank",
		"dark deposit from 91 % to 60 %: 9 points less (2 to 16); index from 50 to 40, left on the rim (index 20), on the stem (index 9), thickest on the head at 11, 1 and 10 o'clock": "dunkle Ablagerung von 91 % auf 60 %: 9 Punkte weniger (2 bis 16); Index von 50 auf 40, übrig auf dem Rand (Index 20), auf dem Schaft (Index 9), am dicksten auf dem Teller bei 11, 1 und 10 Uhr",
		"dark deposit from 10 % to 12 %, index from 8 to 9: no sure change (only one of more than 12 points of dark deposit or 5 points of the index would be sure)":                    "dunkle Ablagerung von 10 % auf 12 %, Index von 8 auf 9: keine sichere Änderung (sicher wäre erst eine von mehr als 12 Punkten dunkler Ablagerung oder 5 Punkten des Index)",
		"cylinder 2 valve 1: grade 3 crusted by the eye of Ann, measured grade 2 patchy: bare: all of it":                                                                               "Zylinder 2 Ventil 1: nach dem Auge von Ann Grad 3 verkrustet, gemessen Grad 2 fleckig: bare: all of it",
		`cylinder 1 valve 2, cylinder 3 valve 1: by their names these are photos of two valves: check that both show the same one`:                                                      "Zylinder 1 Ventil 2, Zylinder 3 Ventil 1: ihren Namen nach zeigen diese Fotos zwei Ventile: prüfen, ob beide dasselbe zeigen",
		`inspection.yaml: odometer "x" is not a number with mi or km, such as 45210 mi`:                                                                                                 "inspection.yaml: der Kilometerstand „x“ ist keine Zahl mit km oder mi, wie 45210 km",
		"readings were converted to km (1 mi = 1.609344 km): 20 000 mi":                                                                                                                 "Kilometerstände wurden in km umgerechnet (1 mi = 1,609344 km): 20.000 mi",
		"results.json cannot be written: permission denied":                                                                                                                             "results.json lässt sich nicht schreiben: keine Berechtigung",
		"odometer runs backwards: 90000 mi on 2026-01-02, then 80000 mi on 2026-03-04: correct the day or the reading in inspection.yaml":                                               "der Kilometerstand läuft rückwärts: 90000 mi am 2. Januar 2026, dann 80000 mi am 4. März 2026: Tag oder Kilometerstand in inspection.yaml berichtigen",
		"the two inspections are in the wrong order: the second inspection is the earlier one by its date or odometer: correct these, or give the earlier one first":                    "die beiden Prüfungen stehen in falscher Reihenfolge: die zweite Prüfung ist nach Datum oder Kilometerstand die frühere: berichtigen oder die frühere zuerst nennen",
		"the image has 12000 x 9000 pixels, the limit is 64 million: export the photo smaller":                                                                                          "das Bild hat 12000 x 9000 Bildpunkte, die Grenze sind 64 Millionen: das Foto kleiner exportieren",
		"the image has 12000 x 9000 pixels, the limit is 64 million: export the photo smaller, or raise the limit with --max-megapixels":                                                "das Bild hat 12000 x 9000 Bildpunkte, die Grenze sind 64 Millionen: das Foto kleiner exportieren",
		"cylinder 1 valve 1, cylinder 2 valve 2: before: the outline was set by hand, and is taken at its word":                                                                         "Zylinder 1 Ventil 1, Zylinder 2 Ventil 2: vorher: der Umriss wurde von Hand gesetzt und gilt, wie er ist",
		"cylinder 1 valve 1: before, by Ann: the outline was set by hand, and is taken at its word":                                                                                     "Zylinder 1 Ventil 1: vorher, von Ann: der Umriss wurde von Hand gesetzt und gilt, wie er ist",
		"after: what was painted beside the valve was ignored":                                                                                                                          "nachher: was neben das Ventil gemalt wurde, zählt nicht",
		"2 photos to cylinder 1 valve 2":               "2 Fotos zu Zylinder 1 Ventil 2",
		"a.marks.yaml: line 2: head needs an angle":    "a.marks.yaml: Zeile 2: bei head fehlt angle",
		"head: does not fit a photo of 640x480 pixels": "der Teller passt nicht zu einem Foto von 640x480 Bildpunkten",
		"not compared: no photo":                       "nicht verglichen: kein Foto",
		"what nobody translated":                       "what nobody translated",
		"the archive is of format 9, this program knows up to 7: valvegrade 1.2.3 or newer is needed": "das Archiv hat Format 9, dieses Programm kennt bis 7: valvegrade 1.2.3 oder neuer ist nötig",
	} {
		assert.Equal(t, german, German.Say(english))
		if !strings.Contains(english, "2026-") && !strings.Contains(english, "20 000") { // written as the region does
			assert.Equal(t, english, English.Say(english))
		}
	}
}

// A distance is written in sentences as it is everywhere else on the page.
func TestDistancesInSentencesAreWrittenAsTheRegionDoes(t *testing.T) {
	const said = "worst cylinder at 84 200 km on 2026-02-19 was left out: none of its valves was measured"
	for tag, want := range map[string]string{
		"en-US": "worst cylinder at 84,200 km on", "de-DE": "schlechtester Zylinder bei 84.200 km am", "de-CH": "bei 84’200 km am",
	} {
		words, _ := For(tag)
		assert.Contains(t, words.Say(said), want, tag)
	}
	words, _ := For("de")
	assert.Equal(t, "c1 100 300.jpg 1.234.000 mi, 900 km", words.Say("c1 100 300.jpg 1 234 000 mi, 900 km"))
}

// Days within sentences are written in words wherever days beside them are, in English, too.
func TestDaysInEnglishSentences(t *testing.T) {
	american := func(day time.Time) string {
		return fmt.Sprintf(English.DateMonthFirst, day.Day(), English.Months[day.Month()-1], day.Year())
	}
	for said, want := range map[string][2]string{
		`the inspection is of 2026-03-16, but by the camera's clock "2026-03-20 a.jpg" was taken on 2026-03-20 (2 of 4 photos lie more than a day apart): check both dates`: {
			`the inspection is of 16 March 2026, but by the camera's clock "2026-03-20 a.jpg" was taken on 20 March 2026 (2 of 4 photos lie more than a day apart): check both dates`,
			`the inspection is of March 16, 2026, but by the camera's clock "2026-03-20 a.jpg" was taken on March 20, 2026 (2 of 4 photos lie more than a day apart): check both dates`,
		},
		"odometer runs backwards: 90000 mi on 2026-01-02, then 80000 mi on 2026-03-04: correct the day or the reading in inspection.yaml": {
			"odometer runs backwards: 90000 mi on 2 January 2026, then 80000 mi on 4 March 2026: correct the day or the reading in inspection.yaml",
			"odometer runs backwards: 90000 mi on January 2, 2026, then 80000 mi on March 4, 2026: correct the day or the reading in inspection.yaml",
		},
		`photo "2026-03-20.jpg" was left out`: {`photo "2026-03-20.jpg" was left out`, `photo "2026-03-20.jpg" was left out`},
	} {
		assert.Equal(t, want[0], English.Say(said))
		assert.Equal(t, want[1], English.SayWith(american, said))
	}
}
