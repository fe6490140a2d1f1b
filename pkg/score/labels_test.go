package score

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestLabels(t *testing.T) {
	for _, c := range []struct{ paths, want []string }{
		{[]string{"a.jpg"}, []string{"a"}},
		{[]string{"x/a.jpg", "y/a.png", "a.jpg"}, []string{"a", "a-2", "a-3"}},
		{[]string{"x/a.jpg", "y/a.jpg", "a-2.jpg"}, []string{"a", "a-3", "a-2"}}, // a name of one's own is kept
		{[]string{"two.dots.jpg", "no extension", ".jpg"}, []string{"two.dots", "no extension", ".jpg"}},
		{[]string{"-dash \U0001F527.jpg"}, []string{"-dash \U0001F527"}},
	} {
		assert.Equal(t, c.want, Labels(c.paths))
	}
}

func TestLabelsAreUnique(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		paths := rapid.SliceOf(rapid.SampledFrom([]string{"a.jpg", "a-2.jpg", "b/a.jpg", "a-2-2.png", "a-3.jpg", "b.jpg"})).
			Draw(t, "paths")
		seen := map[string]bool{}
		for _, label := range Labels(paths) {
			if seen[label] {
				t.Fatalf("%q stands twice", label)
			}
			seen[label] = true
		}
	})
}
