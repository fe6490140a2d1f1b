package main

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"

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
