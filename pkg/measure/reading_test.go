package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestReadingOfShares(t *testing.T) {
	r := Shares{Bare: 0.5, Medium: 0.5}.Reading()
	assert.Equal(t, Reading{Index: Exactly(25), Coverage: Exactly(50)}, r)
	assert.Equal(t, r, r.Write().Reading(), "written to hundredths")
	assert.Equal(t, WrittenReading{}, NoReading().Write())
}
