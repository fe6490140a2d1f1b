package inspection_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

const whole = `vehicle: fleet-17
engine:
  cylinders: 4
  valves: 2
date: 2026-03-14
odometer: 45210 mi
stage: after
methods:
  1: walnut shell
  3: solvent and brush
notes: |
  Cold start misfire.
photos:
  - file: c1v1.jpg
    cylinder: 1
    valve: 1
  - file: more/c1v1.jpg
    cylinder: 1
    valve: 1
  - {file: c3v2.jpg, cylinder: 3, valve: 2}
`

// folder makes an inspection folder with the given text and empty photos.
func folder(t *testing.T, text string, photos ...string) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), []byte(text), 0o600))
	for _, photo := range photos {
		path := filepath.Join(dir, photo)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, nil, 0o600))
	}
	return dir
}
