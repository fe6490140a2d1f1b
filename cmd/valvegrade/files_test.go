package main

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func hello(w io.Writer) error {
	_, err := io.WriteString(w, "hello")
	return err
}

func TestAPipeIsWrittenIntoAndStaysAPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	read := make(chan string)
	go func() {
		content, _ := os.ReadFile(pipe)
		read <- string(content)
	}()
	require.NoError(t, writeFile(pipe, io.Discard, hello))
	assert.Equal(t, "hello", <-read)
	info, err := os.Stat(pipe)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeNamedPipe)
}

func TestALinkedFileIsReplacedAndTheLinkStays(t *testing.T) {
	dir := t.TempDir()
	file, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o600))
	require.NoError(t, os.Symlink(file, link))
	require.NoError(t, writeFile(link, io.Discard, hello))
	content, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "hello", string(content))
	target, err := os.Readlink(link)
	require.NoError(t, err)
	assert.Equal(t, file, target)
}

func TestWhatKilledRunsLeftIsSwept(t *testing.T) {
	dir := t.TempDir()
	for name, age := range map[string]time.Duration{
		".valvegrade-123": time.Hour, ".r.json4567": time.Hour, ".valvegrade-new": 0, ".r.json1": 0, ".other": time.Hour, ".r.json": time.Hour, ".valvegrade-1.txt": time.Hour, "r.json": time.Hour,
	} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, nil, 0o600))
		require.NoError(t, os.Chtimes(path, time.Time{}, time.Now().Add(-age)))
	}
	require.NoError(t, tryFile("--json", filepath.Join(dir, "r.json")))
	var names []string
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	assert.Equal(t, []string{".other", ".r.json", ".r.json1", ".valvegrade-1.txt", ".valvegrade-new", "r.json"}, names)
}
