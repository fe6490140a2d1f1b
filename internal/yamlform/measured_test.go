package yamlform

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
)

// Texts of a few hundred KB that cost seconds or gigabytes when they are read on.
func TestLargeFormsAreRefusedBeforeTheyAreMade(t *testing.T) {
	var keys strings.Builder
	for n := range 40_000 {
		fmt.Fprintf(&keys, "%x:\n", n)
	}
	for text, says := range map[string]string{
		keys.String():                    "more than 200 entries stand here",
		strings.Repeat("- ", 1000) + "a": "more than 16 levels deep",
		strings.Repeat("[", 60<<10):      "",
		"photos: [" + strings.Repeat("{},", limit.FormParts) + "]": "more than thousands of photos",
		"name: |\n" + strings.Repeat("\n", limit.FormBytes):        "larger than 256 KiB",
	} {
		var form struct {
			Name   string                  `yaml:"name"`
			Photos []struct{ File string } `yaml:"photos"`
		}
		_, err := Decode([]byte(text), &form)
		var fault *Fault
		require.ErrorAs(t, err, &fault, "%.20q", text)
		assert.Contains(t, fault.Words, says)
	}
	var form struct{ Name string }
	_, err := Decode([]byte("name: |\n"+strings.Repeat("\n", 130<<10)), &form)
	assert.NoError(t, err, "blank lines cost nothing")
}
