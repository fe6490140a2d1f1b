package photo

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
	"valvegrade/pkg/reason"
)

func TestReadKeepsTheNameAsGiven(t *testing.T) {
	path := filepath.Join(t.TempDir(), "-valve 3 🔧.jpg")
	require.NoError(t, os.WriteFile(path, asJPEG(t, quadrants()), 0o600))
	p, err := Read(path, Limits{})
	require.NoError(t, err)
	assert.Equal(t, path, p.Name)
	assert.Equal(t, []int{2 * fieldW, 2 * fieldH}, []int{p.Width, p.Height})
}

func TestReadRefusesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe.jpg")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for path, says := range map[string]string{
		filepath.Join(dir, "missing.jpg"): "no such file",
		dir:                               "a folder",
		pipe:                              "not a regular file",
	} {
		_, err := Read(path, Limits{})
		require.ErrorIs(t, err, ErrUnreachable)
		assert.Contains(t, err.Error(), path)
		why := ReasonFor(err)
		assert.Equal(t, reason.Unreachable, why.Code)
		assert.Contains(t, why.Advice, says)
	}
}

func TestUnreachableTellsWhy(t *testing.T) {
	// Tests may run as root, whom no permission stops: the error is made instead of provoked.
	why := ReasonFor(unreachable(&os.PathError{Op: "open", Path: "valve.jpg", Err: syscall.EACCES}))
	assert.Equal(t, reason.Unreachable, why.Code)
	assert.Contains(t, why.Advice, "permission")
}

func TestReadChecksTheFileSizeFirst(t *testing.T) {
	path := filepath.Join(t.TempDir(), "huge.jpg")
	file, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, file.Truncate(limit.PhotoBytes+1)) // sparse: takes no room on disk
	require.NoError(t, file.Close())
	_, err = Read(path, Limits{})
	assert.ErrorIs(t, err, ErrTooLarge)
}

func TestReadCappedStops(t *testing.T) {
	limits := Limits{MaxBytes: 10}.filled()
	endless := iotest.OneByteReader(zeros{})
	_, err := readCapped(endless, 0, limits)
	assert.ErrorIs(t, err, ErrTooLarge, "a reader that never ends")
	_, err = readCapped(iotest.ErrReader(io.ErrClosedPipe), 0, limits)
	assert.ErrorIs(t, err, ErrUnreachable)
	assert.ErrorIs(t, err, io.ErrClosedPipe, "the cause is kept")
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }
