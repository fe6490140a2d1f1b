package grade

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEveryGradeHasItsOwnPractice(t *testing.T) {
	seen := map[string]bool{}
	for value := range Names() {
		practice := Practice(value)
		assert.NotEmpty(t, practice)
		assert.False(t, seen[practice], "%q stands twice", practice)
		seen[practice] = true
	}
	assert.Panics(t, func() { Practice(len(Names())) })
}
