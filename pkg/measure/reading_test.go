package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestReadingOfShares(t *testing.T) {
	r := Shares{Bare: 0.25, Film: 0.25, Medium: 0.25, Heavy: 0.25}.Reading()
	assert.Equal(t, Reading{Index: Exactly(43.75), Dark: Exactly(50), Coverage: Exactly(75)}, r)
	assert.Equal(t, r, r.Write().Reading(), "written to hundredths")
	assert.Equal(t, 50.0, Shares{Medium: 0.25, Heavy: 0.25}.Thick())
	assert.Equal(t, WrittenReading{}, NoReading().Write())
}

func TestIntervalsThatCannotAllBeTrueAreRaised(t *testing.T) {
	dark := Figure{84, 36, 90}
	told := Reading{Index: Figure{44, 5, 44}, Dark: dark, Coverage: Figure{93, 22, 89}}
	assert.Equal(t, Reading{Index: Figure{44, 18, 45}, Dark: dark, Coverage: Figure{93, 36, 90}}, told.Consistent())
	assert.Equal(t, told.Consistent(), told.Consistent().Consistent())

	heavy := Reading{Index: Figure{80, 60, 99}, Dark: Figure{82, 40, 90}, Coverage: Figure{85, 50, 95}}.Consistent()
	assert.Equal(t, Figure{85, 60, 99}, heavy.Coverage, "no index is above the coverage")
	assert.Equal(t, Figure{80, 60, 0.75*90 + 0.25*99}, heavy.Index, "that much crust, all of it heavy, and film elsewhere")
	assert.Equal(t, heavy, heavy.Consistent())
	film := Reading{Index: Figure{25, 23, 35}, Dark: Figure{0, 0, 4}, Coverage: Figure{100, 96, 100}}.Consistent()
	assert.Equal(t, Figure{25, 23, 28}, film.Index, "film all over, with next to no crust")

	can := Reading{Index: Figure{50, 30, 60}, Dark: Figure{60, 40, 70}, Coverage: Figure{90, 50, 100}}
	assert.Equal(t, can, can.Consistent(), "what can be true stays")
	rounded := Reading{Index: Exactly(0.33), Dark: Exactly(0.67), Coverage: Exactly(0.67)}.Consistent()
	assert.Equal(t, Figure{0.33, 0.33, 0.335}, rounded.Index, "an interval holds its value")

	old := Reading{Index: Figure{50, 0, 60}, Dark: Unmeasured(), Coverage: Figure{90, 50, 100}}
	assert.Equal(t, old.Index, old.Consistent().Index, "of a version that knew no dark deposit")
	assert.False(t, old.Consistent().Dark.Known())
}
