package compare

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/reason"
)

// The two tables, of photos and of comparisons, are told beside each other.
func TestEveryReasonIsTold(t *testing.T) {
	seen := map[reason.Code]bool{}
	for _, entries := range []reason.Entries{reason.Table(), table} {
		refuses := true
		for _, e := range entries {
			assert.False(t, seen[e.Code], "%s stands twice", e.Code)
			seen[e.Code] = true
			assert.NotEmpty(t, e.Short, e.Code)
			assert.LessOrEqual(t, len(strings.Fields(e.Short)), 5, "%s: a label, no sentence", e.Code)
			assert.NotEmpty(t, e.Advice, e.Code)
			assert.True(t, refuses || !e.Refuses, "%s: refusing reasons stand first", e.Code)
			refuses = e.Refuses
		}
	}
	assert.Panics(t, func() { table.Of("no-such-reason") })
	assert.False(t, Refuses([]reason.Reason{{Code: "no-such-reason"}}), "what a later program wrote stops nothing")
}
