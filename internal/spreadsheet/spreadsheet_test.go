package spreadsheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTextsAreNoFormulas(t *testing.T) {
	for text, want := range map[string]string{
		"walnut shells": "walnut shells", "a=b": "a=b", "-5 °C": "'-5 °C", "brush, -5": "brush, -5", "＝1+1": "'＝1+1", "\u00a0=1": "'\u00a0=1",
		"a;=1+1": "a; '=1+1", "a\n+1": "a\n '+1", "a; \"@x": "a; \" '@x", "": "",
	} {
		assert.Equal(t, want, Text(text), "%q", text)
	}
}
