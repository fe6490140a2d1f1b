package texts

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
)

// A language without one of the texts would leave a hole in every report.
func TestNoTextIsMissing(t *testing.T) {
	for _, l := range all {
		for _, group := range []any{l.Labels, l.Numbers, l.Sentences, l.Cleaning, l.Mileage, l.Explanations, l.Grades} {
			everyString(t, l.Language+" "+reflect.TypeOf(group).Name(), reflect.ValueOf(group))
		}
	}
}

// verbs of package fmt, with the place of what fills them.
var verbs = regexp.MustCompile(`%(\[\d\])?[sdf%]`)

// Each text of a language takes what the English one takes.
func TestTextsTakeTheSame(t *testing.T) {
	for _, l := range all {
		for n, group := range []any{l.Numbers, l.Sentences, l.Explanations, l.Labels, l.Cleaning, l.Mileage} {
			own := reflect.ValueOf(group)
			english := reflect.ValueOf([]any{English.Numbers, English.Sentences, English.Explanations, English.Labels, English.Cleaning, English.Cleaning}[n])
			for field := range own.NumField() {
				if own.Field(field).Kind() != reflect.String || strings.HasPrefix(own.Type().Field(field).Name, "Date") {
					continue // dates take day, month and year in an order of their own
				}
				takes, should := verbs.FindAllString(own.Field(field).String(), -1), verbs.FindAllString(english.Field(field).String(), -1)
				assert.Equal(t, should, takes, l.Language+" "+own.Type().Field(field).Name)
			}
		}
		for value, g := range l.Grades {
			assert.Equal(t, strings.Count(English.Grades[value].Practice, "%s"), strings.Count(g.Practice, "%s"))
		}
	}
}

// A language has words of its own for every reason; English has those of package reason.
func TestEveryReasonHasWords(t *testing.T) {
	for _, l := range all[1:] {
		for _, entry := range slices.Concat(reason.Table(), compare.Table()) {
			assert.Contains(t, l.Reasons, entry.Code, l.Language)
			assert.Equal(t, entry.Told == "", l.Reasons[entry.Code].Told == "", "%s %s", l.Language, entry.Code)
		}
	}
}

func everyString(t *testing.T, path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		assert.NotEmpty(t, v.String(), path)
	case reflect.Struct:
		for i := range v.NumField() {
			everyString(t, path+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Array, reflect.Slice:
		assert.Positive(t, v.Len(), path)
		for i := range v.Len() {
			everyString(t, path, v.Index(i))
		}
	default:
		t.Errorf("%s is a %s", path, v.Kind())
	}
}

func TestLanguageOfATag(t *testing.T) {
	for tag, known := range map[string]bool{"en": true, "en-GB": true, "EN-us": true, "de": true, "de_AT": true, "fr": false, "": false, "english": false} {
		_, ok := For(tag)
		assert.Equal(t, known, ok, tag)
	}
}

func TestReasonsOfEveryOrigin(t *testing.T) {
	found := reason.With(reason.ValveTooSmall, "the valve fills 2 % of the frame")
	assert.Equal(
		t,
		Reason{"valve too small", "the valve is too small in the photo", found.Advice},
		English.Reason(found),
		"English keeps the photo's own figures",
	)
	later := reason.Reason{Code: "of-a-later-version", Advice: "do something"}
	assert.Equal(t, Reason{"of-a-later-version", "of-a-later-version", "do something"}, English.Reason(later))

	said := German.Reason(found)
	assert.Equal(t, "Ventil zu klein", said.Label)
	assert.Equal(t, "das Ventil füllt 2 % des Bildes: "+German.Reasons[reason.ValveTooSmall].Advice, said.Advice, "German as well")
	assert.Equal(t, German.Reasons[reason.ValveTooSmall].Advice, German.Reason(reason.Reason{Code: reason.ValveTooSmall, Advice: "in other words"}).Advice)
}

func TestGradesAreThoseOfTheScale(t *testing.T) {
	for value, name := range grade.Names() {
		assert.Equal(t, name, English.Grades[value].Name)
		assert.Equal(t, grade.PracticeForm(value), English.Grades[value].Practice)
	}
}

// A grade in doubt never says less than the bars beside it.
func TestDoubtNamesTheLikelierGrade(t *testing.T) {
	of := func(p grade.Probabilities) *grade.Grade {
		return grade.Of(measure.Figure{Value: 59, Low: 30, High: 86}, p)
	}
	assert.Equal(t, "grade 3 crusted", English.GradeName(of(grade.Probabilities{0, 0, 0, 0.9, 0.1})))
	assert.Equal(t, "grade 3 crusted (not certain)", English.GradeName(of(grade.Probabilities{0, 0, 0, 0.5, 0.5})))
	assert.Equal(t, "Grad 3 verkrustet (vielleicht 4)", German.GradeName(of(grade.Probabilities{0, 0, 0, 0.4, 0.6})))
}
