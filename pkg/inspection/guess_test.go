package inspection

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNamesTellTheirPlace(t *testing.T) {
	for file, want := range map[string][2]int{
		"may/cyl3-valve2-after.jpg": {3, 2}, "c1v1.png": {1, 1}, "cylinder 4.jpg": {4, 0}, "IMG_0042.jpg": {0, 0}, "before.jpg": {0, 0},
	} {
		cylinder, valve := Named(file)
		assert.Equal(t, want, [2]int{cylinder, valve}, file)
	}
}
