package gather

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
	"valvegrade/internal/report/texts"
	"valvegrade/pkg/score"
)

// A saved result comes from anybody: nothing outside its folder and the one in which the program runs is opened for it.
func TestSavedResultLeadsNowhereElse(t *testing.T) {
	outside, dir := t.TempDir(), t.TempDir()
	secret := filepath.Join(outside, "secret.jpg")
	require.NoError(t, os.WriteFile(secret, []byte("four"), 0o600))
	require.NoError(t, os.Symlink(secret, filepath.Join(dir, "link.jpg")))
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "pipe.jpg"), 0o600))
	huge, err := os.Create(filepath.Join(dir, "huge.jpg"))
	require.NoError(t, err)
	require.NoError(t, huge.Truncate(200<<30)) // sparse: hashing it would take minutes
	require.NoError(t, huge.Close())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "c1v1.jpg"), []byte("four"), 0o600))

	const four = "04efaf080f5a3e74e1c29d1ca6a48569382cbbcd324e8d59d2b83ef21c039f00"
	up, err := filepath.Rel(dir, secret)
	require.NoError(t, err)
	o := Options{Texts: &texts.English}
	for _, name := range []string{secret, up, "/proc/self/environ", "link.jpg", "pipe.jpg", "huge.jpg", "."} {
		path, absent := o.find(dir, name, score.Record{Photo: name, SHA256: new(four)})
		assert.Empty(t, path, name)
		assert.Contains(t, absent, "was not found", "%s: as if there were none", name)
	}
	path, _ := o.find(dir, "july/c1v1.jpg", score.Record{Photo: "/elsewhere/july/c1v1.jpg", SHA256: new(four)})
	assert.Equal(t, filepath.Join(dir, "c1v1.jpg"), path, "beside the saved result")
	path, _ = o.find(dir, "c1v1.jpg", score.Record{Photo: filepath.Join(dir, "c1v1.jpg"), SHA256: new(four)})
	assert.Equal(t, filepath.Join(dir, "c1v1.jpg"), path, "an absolute path inside")

	_, err = place{dir, "c1v1.jpg"}.hash(3)
	assert.ErrorAs(t, err, new(*limit.TooLarge))
}
