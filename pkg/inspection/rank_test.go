package inspection_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

// Photos of which only the cylinder is known are its valves where the cylinder has one for each; else nothing tells which of
// them are of one valve. Each row: what names and photos tell, and where each photo belongs, "?" for nowhere yet.
func TestPhotosOfACylinderAreItsValves(t *testing.T) {
	one := func(string) int { return 1 }
	for name, c := range map[string]struct {
		files []string
		o     inspection.DraftOptions
		want  string
	}{
		"two of each":         {[]string{"cyl1/IMG_10.jpg", "cyl1/IMG_9.jpg", "cyl2/a.jpg", "cyl2/b.jpg"}, inspection.DraftOptions{}, "1.2 1.1 2.1 2.2"},
		"each seen to be one": {[]string{"cyl2/b.jpg", "cyl2/a.jpg"}, inspection.DraftOptions{Valves: one}, "2.2 2.1"},
		"names beside them":   {[]string{"cyl2a.jpg", "cyl2b.jpg", "c1v2.jpg"}, inspection.DraftOptions{}, "2.1 2.2 1.2"},
		"three of three":      {[]string{"cyl1/a.jpg", "cyl1/b.jpg", "cyl1/c.jpg"}, inspection.DraftOptions{Engine: inspection.Layout{Cylinders: 4, Valves: 3}}, "1.1 1.2 1.3"},
		"an engine of one":    {[]string{"cyl2/a.jpg", "cyl2/b.jpg"}, inspection.DraftOptions{Engine: inspection.Layout{Cylinders: 4, Valves: 1}}, "2.1 2.1"},
		"repeats of a valve":  {[]string{"c2v1/a.jpg", "c2v1/b.jpg"}, inspection.DraftOptions{}, "2.1 2.1"},

		"three of two":      {[]string{"cyl1/a.jpg", "cyl1/b.jpg", "cyl1/c.jpg"}, inspection.DraftOptions{Engine: inspection.Layout{Cylinders: 4, Valves: 2}}, "? ? ?"},
		"not as many":       {[]string{"cyl1/a.jpg", "cyl2/a.jpg", "cyl2/b.jpg"}, inspection.DraftOptions{}, "? ? ?"},
		"one may be of any": {[]string{"c3v1.jpg", "cyl1/a.jpg", "cyl1/b.jpg"}, inspection.DraftOptions{}, "3.1 ? ?"},
		"some are told":     {[]string{"cyl1/v2.jpg", "cyl1/b.jpg", "cyl1/c.jpg"}, inspection.DraftOptions{}, "1.2 ? ?"},
		"two formats":       {[]string{"cyl1/a.jpg", "cyl1/a.heic"}, inspection.DraftOptions{}, "? ?"},
		"two stages":        {[]string{"cyl1-before.jpg", "cyl1-after.jpg"}, inspection.DraftOptions{}, "? ?"},
		"none to judge":     {[]string{"cyl1/a.jpg", "cyl1/b.jpg"}, inspection.DraftOptions{Valves: func(string) int { return 0 }}, "? ?"},
		"one shows more": {[]string{"cyl1/a.jpg", "cyl1/b.jpg", "cyl1/c.jpg"}, inspection.DraftOptions{Valves: func(path string) int {
			return map[string]int{"a.jpg": 2, "b.jpg": 1, "c.jpg": 1}[filepath.Base(path)]
		}}, "1.1+1.2 ? ?"},
	} {
		p, err := inspection.Draft("van", c.files, c.o)
		require.NoError(t, err, name)
		at := map[string]string{}
		for _, placed := range p.Placed {
			if at[placed.File] != "" {
				at[placed.File] += "+"
			}
			at[placed.File] += inspection.ValveName(placed.Cylinder, placed.Valve)
		}
		got := ""
		for _, file := range c.files {
			if at[file] == "" {
				at[file] = "?"
			}
			got += " " + at[file]
		}
		assert.Equal(t, " "+c.want, got, name)
	}
}

func TestDraftSaysWhichValvesAreByTheOrderOfNames(t *testing.T) {
	i, text := drafted(t, []string{"cyl1/a.jpg", "cyl1/b.jpg"}, inspection.DraftOptions{})
	assert.Equal(t, inspection.Layout{Cylinders: 1, Valves: 2}, i.Engine)
	assert.Contains(t, text, "as many as each cylinder has photos")
	assert.Contains(t, text, fmt.Sprintf("file: %q\n    cylinder: 1\n    valve: 2  # by the order of names", "cyl1/b.jpg"))
	_, text = drafted(t, []string{"cyl2/a.jpg", "cyl2/b.jpg", "c1v2.jpg"}, inspection.DraftOptions{})
	assert.Contains(t, text, "the highest found in the file names", "which tell of a second valve")
	assert.NotContains(t, text, "valve: 2  # by the order of names\n  - file: \"c2")

	p, err := inspection.Draft("van", []string{"cyl1/a.jpg", "cyl2/a.jpg", "cyl2/b.jpg"}, inspection.DraftOptions{})
	require.NoError(t, err)
	assert.Equal(t, []int{0, 1, 1}, []int{p.Unplaced[0].Beside, p.Unplaced[1].Beside, p.Unplaced[2].Beside})
}
