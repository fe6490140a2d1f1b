package limit

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadFileTakesRegularFilesOnly(t *testing.T) {
	dir := t.TempDir()
	pipe, file := filepath.Join(dir, "pipe"), filepath.Join(dir, "file")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	require.NoError(t, os.WriteFile(file, []byte("four"), 0o600))
	for _, path := range []string{pipe, dir, "/dev/zero"} {
		_, err := ReadFile(path, 10)
		assert.ErrorIs(t, err, ErrNoFile, path)
	}
	_, err := ReadFile(filepath.Join(dir, "none"), 10)
	assert.ErrorIs(t, err, fs.ErrNotExist)
	data, err := ReadFile(file, 4)
	require.NoError(t, err)
	assert.Equal(t, "four", string(data))
	_, err = ReadFile(file, 3)
	assert.Error(t, err)
}

func TestReadStopsOneBytePastTheLimit(t *testing.T) {
	endless := strings.NewReader(strings.Repeat(" ", 3<<20))
	_, err := Read(endless, 2<<20)
	assert.EqualError(t, err, "larger than 2 MiB")
	assert.Equal(t, 1<<20-1, endless.Len())
	_, err = Read(strings.NewReader("long"), 3)
	assert.ErrorAs(t, err, new(*TooLarge))
	_, err = Read(iotest.ErrReader(os.ErrClosed), 3)
	assert.ErrorIs(t, err, os.ErrClosed)
}
