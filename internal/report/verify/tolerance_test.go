package verify

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTolerance(t *testing.T) {
	for path, c := range map[string]struct {
		a, b any
		near bool
	}{
		"index":                  {34.57, 34.62, true},
		"head.index_high":        {34.57, 34.63, false},
		"coverage_low":           {10.0, 10.05, true},
		"shares.heavy":           {0.2, 0.2005, true},
		"head.shares.film":       {0.2, 0.201, false},
		"probabilities[2]":       {0.5, 0.501, false},
		"unreadable":             {0.06, 0.0604, true},
		"colour.deposit_l_star":  {28.92, 29.32, true},
		"colour.darkness_l_star": {34.1, 40.1, false},
		"stem_line.width_px":     {110.0, 121.5, true},
		"pixels":                 {144851.0, 144850.0, true},
		"grade":                  {3.0, 4.0, false},
		"status":                 {"scored", "refused", false},
		"stem":                   {nil, 3.0, false},
		"reasons[0].code":        {"glare", "dim", false},
		"reasons[0].advice":      {"index 31", "index 32", true},
		"reasons[1].advice":      {"clean", "index 32", false},
	} {
		assert.Equal(t, c.near, nearFigures(path, c.a, c.b), path)
	}
	assert.True(t, nearComparison("index.difference", -40.0, -40.2))
	assert.False(t, nearComparison("index.difference", -40.0, -40.3))
	assert.True(t, nearComparison("index.removed_share", 0.9, 0.902))
	assert.False(t, nearComparison("index.removed_share", 0.9, 0.91))
	assert.False(t, nearComparison("verdict", "changed", "not distinguishable"))
	assert.False(t, nearComparison("outcome", "from 55 % to 12 %", "from 55 % to 13 %"))
}

// Sentences on figures that another processor moved round otherwise, and say the same.
func TestNearWords(t *testing.T) {
	for other, near := range map[string]bool{
		"helped (99 % likely): from 56 % to 12 %":     true,
		"helped (98 % likely): from 55 % to 13 %":     true,
		"helped (99 % likely): from 55 % to 10 %":     false,
		"helped (99 % likely): from 55 % to 12.9 %":   true,
		"helped (99 % likely): from 55 % to 13.1 %":   false,
		"helped (100 % likely): from 55 % to nothing": false,
		"did not help: from 55 % to 12 %":             false,
	} {
		assert.Equal(t, near, nearWords("outcome", "helped (99 % likely): from 55 % to 12 %", other), other)
	}
	assert.True(t, nearWords("lines[0]", "Ablagerungsindex 14,9 von 100", "Ablagerungsindex 15 von 100"), "German decimals")
	assert.True(t, nearWords("lines[0]", "von 14,9 auf 3", "von 15,1 auf 3"))
	assert.False(t, nearWords("lines[0]", "von 14,9 auf 3", "von 16 auf 3"))
	assert.False(t, nearWords("summary", "at 84,200 mi", "at 84,900 mi"), "thousands")
	assert.False(t, nearWords("summary", "bei 84.200 mi", "bei 84.900 mi"), "thousands")
	assert.False(t, nearWords("outcome", "12", nil))
	assert.False(t, nearWords("outcome", 12.0, "12"))
}
