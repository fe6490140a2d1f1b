package bay

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Photos whose names differ only in their endings or folders are kept side by side.
func TestEachCorrectedPhotoHasFilesOfItsOwn(t *testing.T) {
	seen := map[string]string{}
	for _, file := range []string{"a.jpg", "a.heic", "a.JPG", "b/a.jpg", "b_a.jpg", "b%2Fa.jpg"} {
		name := asOneName.Replace(file)
		assert.Empty(t, seen[name], "%s and %s", file, seen[name])
		assert.Equal(t, filepath.Base(name), name)
		seen[name] = file
	}
}
