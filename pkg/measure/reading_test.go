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
