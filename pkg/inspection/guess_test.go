package inspection

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNamesTellTheirPlace(t *testing.T) {
	for file, want := range map[string][2]int{
		"may/cyl3-valve2-after.jpg": {3, 2}, "c1v1.png": {1, 1}, "cylinder 4.jpg": {4, 0}, "IMG_0042.jpg": {0, 0}, "before.jpg": {0, 0},
		"Zylinder 2 Ventil 1 ä.jpg": {2, 1}, "zyl3_v2.jpg": {3, 2}, "Z1 Einlassventil 2.JPG": {1, 2},
		"1. Zylinder 2. Ventil.jpg": {1, 2}, "1. Zylinder, 2. Ventil.jpg": {1, 2}, "3.Zyl_2.Einlass.JPG": {3, 2}, "1. Ventil 4. Zylinder.jpg": {4, 1},
		"2nd cyl 1st valve.jpg": {2, 1}, "1st valve of the 3rd cylinder.jpg": {3, 1}, "2nd valve of cylinder 3.jpg": {3, 2},
		"Zyl 1, 2. Ventil.jpg": {1, 2}, "2. Zyl. Einlass 1.JPG": {2, 1}, "Ventil 1, 2. Zylinder.jpg": {2, 1}, "2. Zyl. Einlass rechts.JPG": {2, 0},
		"3. Zylinder.jpg": {3, 0}, "12. Zylinder.jpg": {12, 0}, "Zylinder 3. Ventil 1.jpg": {3, 1}, "Zyl. 4. Ventil 2.jpg": {4, 2}, "Zyl 12. Ventil 1.jpg": {12, 1},
		"3. Zylinder 1.jpg": {0, 0}, "07.12. Zylinder 3.jpg": {3, 0}, "2025-12-07 Zyl 3.jpg": {3, 0}, "99. Zylinder.jpg": {0, 0},
		"ventil2-zyl4.jpg": {4, 2}, "cylinder 2 intake valve 1.jpg": {2, 1}, "Zylinder 4 nachher.jpg": {4, 0}, "Skizze 2.jpg": {0, 0}, "Z6_12.jpg": {0, 0},
	} {
		cylinder, valve := Named(file)
		assert.Equal(t, want, [2]int{cylinder, valve}, file)
	}
}

// What follows the point in the name of a folder is no extension.
func TestFoldersTellTheirPlace(t *testing.T) {
	for name, want := range map[string][2]int{
		"Zyl. 2": {2, 0}, "cyl1": {1, 0}, "c2v1": {2, 1}, "2. Zylinder": {2, 0}, "Zyl. 3 Ventil 1": {3, 1}, "2-1": {2, 1}, "3.2": {0, 0}, "van 7": {0, 0},
	} {
		cylinder, valve := NamedFolder(name)
		assert.Equal(t, want, [2]int{cylinder, valve}, name)
	}
}

func TestPatternsInWords(t *testing.T) {
	for _, c := range []struct {
		pattern, file   string
		cylinder, valve int
	}{
		{"cyl{cylinder}_{valve}", "CYL12_2.jpg", 12, 2},
		{"cyl{cylinder}_{valve}", "cyl1_2b.jpg", 1, 2},
		{"cyl{cylinder}_{valve}", "cyl1_22.jpg", 0, 0}, // no number is cut out of a longer one
		{"{cylinder}.{valve}", "3.2.jpg", 3, 2},
		{"{cylinder}.{valve}", "3x2.jpg", 0, 0}, // a point is a point
		{"port{cylinder}{valve}", "port42.jpg", 4, 2},
		{"z{cylinder}*v{valve}", "z3 left v1.jpg", 3, 1},
		{"Zyl. {cylinder}", "zyl. 4 (2).jpg", 4, 0},
	} {
		p, err := NewPattern(c.pattern)
		require.NoError(t, err)
		found, _ := p.place(c.file)
		assert.Equal(t, [2]int{c.cylinder, c.valve}, [2]int{found.cylinder, found.valve}, c.pattern+" "+c.file)
	}
	_, err := NewPattern("port{valve}")
	assert.ErrorContains(t, err, "write {cylinder}")
}
