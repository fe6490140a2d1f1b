package region

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestShrunkAndEnlarged(t *testing.T) {
	m := &Marks{Head: Ellipse{320, 250.5, 180, 120, 12}, Stem: &Line{300, 20, 318, 190, 44}}
	assert.Same(t, m, m.Shrunk(1))
	small := m.Shrunk(4)
	assert.Equal(
		t,
		Ellipse{(320 - 1.5) / 4, (250.5 - 1.5) / 4, 45, 30, 12},
		small.Head,
		"the first four pixels' middle, 1.5, is the first one's, 0",
	)
	assert.Equal(t, m.Head, small.Head.Enlarged(4))
	assert.Equal(t, *m.Stem, small.Stem.Enlarged(4))
}
