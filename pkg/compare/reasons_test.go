package compare

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/reason"
)

func TestEveryReasonIsTold(t *testing.T) {
	seen, refuses := map[reason.Code]bool{}, true
	for _, e := range Reasons() {
		assert.False(t, seen[e.Code], "%s stands twice", e.Code)
		seen[e.Code] = true
		assert.LessOrEqual(t, len(strings.Fields(e.Short)), 4, "%s: a label, no sentence", e.Code)
		assert.NotEmpty(t, e.Short)
		assert.NotEmpty(t, e.Advice)
		assert.True(t, refuses || !e.Refuses, "%s: refusing reasons stand first", e.Code)
		refuses = e.Refuses
		_, ofPhoto := reason.Find(e.Code)
		assert.False(t, ofPhoto, "%s means something else of a photo", e.Code)
	}
	assert.Panics(t, func() { Reasons().Of("no-such-reason") })
	assert.False(t, Refuses([]reason.Reason{{Code: "no-such-reason"}}), "what a later program wrote stops nothing")
}
