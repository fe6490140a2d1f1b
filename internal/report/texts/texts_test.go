package texts

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/reason"
)

// A language without one of the texts would leave a hole in every report.
func TestNoTextIsMissing(t *testing.T) {
	for _, group := range []any{English.Labels, English.Numbers, English.Sentences, English.Explanations, English.Grades} {
		everyString(t, reflect.TypeOf(group).Name(), reflect.ValueOf(group))
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
	for tag, known := range map[string]bool{"en": true, "en-GB": true, "EN-us": true, "de": false, "": false, "english": false} {
		_, ok := For(tag)
		assert.Equal(t, known, ok, tag)
	}
}

func TestReasonsOfEveryOrigin(t *testing.T) {
	found := reason.With(reason.ValveTooSmall, "the valve fills 2 % of the frame")
	assert.Equal(
		t,
		Reason{"valve too small", found.Advice},
		English.Reason(found),
		"English keeps the photo's own figures",
	)
	later := reason.Reason{Code: "of-a-later-version", Advice: "do something"}
	assert.Equal(t, Reason{"of-a-later-version", "do something"}, English.Reason(later))

	foreign := Texts{Reasons: map[reason.Code]Reason{reason.Blurred: {"unscharf", "Linse putzen"}}}
	assert.Equal(t, Reason{"unscharf", "Linse putzen"}, foreign.Reason(reason.Of(reason.Blurred)))
}

func TestGradesAreThoseOfTheScale(t *testing.T) {
	for value, name := range grade.Names() {
		assert.Equal(t, name, English.Grades[value].Name)
		assert.Equal(t, grade.PracticeForm(value), English.Grades[value].Practice)
	}
	assert.Equal(t, "grade 2 patchy (not certain)", English.GradeName(2, true))
}
