package engine_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/score"
)

// The invented history stands for saved results, so it must be what the program would write today.
func TestInventedHistoryIsAsWritten(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/history/*.json")
	require.NoError(t, err)
	require.Len(t, paths, 7)
	for _, path := range paths {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		d, err := engine.Read(bytes.NewReader(text))
		require.NoError(t, err, path)
		assert.Equal(t, string(text), written(t, d), path)
		assert.NoError(t, schema.CheckToday(score.Schema, text), path)
	}
}
