package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// An archive may be restored from a backup that somebody else wrote.
func TestPhotosOfAnArchiveAreLaidOutInTheFolderAlone(t *testing.T) {
	visit := func(file string) *engine.Graded {
		return &engine.Graded{
			Engine: &engine.Engine{Inspection: &inspection.Inspection{Photos: []inspection.Photo{{File: file}}}},
			Photos: []score.Record{{SHA256: new("hash")}},
		}
	}
	kept := func(string) ([]byte, error) { return []byte("photo"), nil }
	dir := t.TempDir()
	require.NoError(t, layOut(visit("cyl1/a.jpg"), filepath.Join(dir, "0"), kept))
	content, err := os.ReadFile(filepath.Join(dir, "0", "cyl1", "a.jpg"))
	require.NoError(t, err)
	assert.Equal(t, "photo", string(content))
	for n, file := range []string{"../out.jpg", "../out/a.jpg", filepath.Join(dir, "out.jpg")} {
		assert.Error(t, layOut(visit(file), filepath.Join(dir, string(rune('1'+n))), kept), file)
	}
	found, err := filepath.Glob(filepath.Join(dir, "out*"))
	require.NoError(t, err)
	assert.Empty(t, found)
}
