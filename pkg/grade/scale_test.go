package grade

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/measure"
)

func TestLimitsBelongUpward(t *testing.T) {
	for _, c := range []struct {
		index float64
		value int
		name  string
	}{
		{0, 0, "bare"}, {1.994, 0, "bare"},
		{2, 1, "film"}, {14.994, 1, "film"},
		{15, 2, "patchy"}, {39.994, 2, "patchy"},
		{40, 3, "crusted"}, {69.994, 3, "crusted"},
		{70, 4, "caked"}, {100, 4, "caked"},
	} {
		got := Of(measure.Exactly(c.index), Probabilities{})
		want := &Grade{Value: c.value, Name: c.name, Borderline: false, Scale: 1, Probabilities: got.Probabilities}
		assert.Equal(t, want, got, "index %v", c.index)
		assert.Equal(t, c.value, Place(c.index))
	}
}

func TestBorderlineWhenTheGradeIsNotClear(t *testing.T) {
	index := measure.Figure{Value: 30, Low: 10, High: 60}
	for _, c := range []struct {
		p          Probabilities
		borderline bool
	}{
		{Probabilities{0, 0, 0.8, 0.2, 0}, false},
		{Probabilities{0, 0.1, 0.79, 0.11, 0}, true},
		{Probabilities{0, 0.9, 0.1, 0, 0}, true}, // another grade is likelier
	} {
		assert.Equal(t, c.borderline, Of(index, c.p).Borderline, "%v", c.p)
	}
	assert.True(
		t,
		Of(measure.Figure{Value: 8, Low: math.NaN(), High: 9}, Probabilities{}).Borderline,
		"nothing is known",
	)
}

func TestGradeNeverFallsAsTheIndexGrows(t *testing.T) {
	last := 0
	for tenth := 0; tenth <= 1000; tenth++ {
		index := float64(tenth) / 10
		value := Of(measure.Exactly(index), Probabilities{}).Value
		assert.GreaterOrEqual(t, value, last, "index %v", index)
		last = value
	}
	assert.Equal(t, len(Limits()), last)
	assert.Len(t, Names(), last+1)
}

func TestNoGradeWithoutAnIndex(t *testing.T) {
	assert.Nil(t, Of(measure.Figure{Value: math.NaN(), Low: 0, High: 100}, Probabilities{}))
}

func TestCallersCannotChangeTheScale(t *testing.T) {
	Limits()[0], Names()[0] = 99, "?"
	assert.Equal(t, "film", Of(measure.Exactly(5), Probabilities{}).Name)
	assert.Equal(t, "bare", Names()[0])
}

// The index of a lopsided measurement may lie in another grade than the likeliest.
func TestALikelierGradeIsNamed(t *testing.T) {
	index := measure.Figure{Value: 59, Low: 30, High: 86}
	for _, c := range []struct {
		p       Probabilities
		words   string
		another bool
	}{
		{Probabilities{0, 0, 0.1, 0.35, 0.55}, "crusted, perhaps 4", true},
		{Probabilities{0, 0, 0.1, 0.45, 0.45}, "crusted", false}, // as likely is not likelier
		{Probabilities{0, 0, 0, 1, 0}, "crusted", false},
	} {
		g := Of(index, c.p)
		assert.Equal(t, 3, g.Value, "the grade follows the index")
		assert.Equal(t, c.words, g.Words())
		_, another := g.Perhaps()
		assert.Equal(t, c.another, another)
	}
}

// Two grades that hold less than half between them would hide all others.
func TestARunOfGradesIsNamedWhereTwoTellTooLittle(t *testing.T) {
	for _, c := range []struct {
		index float64
		p     Probabilities
		words string
	}{
		{13.69, Probabilities{0.3536, 0.1019, 0.2998, 0.2114, 0.0334}, "film, perhaps 0 to 3"},
		{13, Probabilities{0.4, 0.1, 0.25, 0.25, 0}, "film, perhaps 0"}, // half is enough
		{13, Probabilities{0.33, 0.15, 0.32, 0.1, 0.1}, "film, perhaps 0 to 2"},
		{13, Probabilities{0.3, 0.1, 0.1, 0.2, 0.3}, "film, perhaps 0 to 4"},
		{30, Probabilities{0.1, 0.2, 0.14, 0.3, 0.26}, "patchy, perhaps 1 to 4"},
		{30, Probabilities{0.05, 0.28, 0.2, 0.27, 0.2}, "patchy, perhaps 1 to 4"}, // 0 to 3 has 80 % as well, 1 to 4 has more
		{50, Probabilities{0, 0.3, 0.27, 0.18, 0.25}, "crusted, perhaps 1 to 4"},
		{50, Probabilities{0.1, 0.1, 0.2, 0.4, 0.2}, "crusted"}, // which no other is likelier than
	} {
		assert.Equal(t, c.words, Of(measure.Exactly(c.index), c.p).Words(), "%v", c.p)
	}
}

func TestAnIndexIsWrittenSoThatItKeepsItsGrade(t *testing.T) {
	for index, want := range map[float64]int{39.4: 0, 39.5: 1, 39.94: 1, 39.96: 2, 40: 0, 1.5: 1, 99.7: 0, 0: 0, 14.996: 0} {
		assert.Equal(t, want, Decimals(index), "%v", index)
	}
	for hundredths := range 10_001 {
		index := float64(hundredths) / 100
		read, err := strconv.ParseFloat(IndexText(index), 64)
		require.NoError(t, err)
		assert.Equal(t, Place(index), Place(read), "%v", index)
	}
	for index, want := range map[float64]string{14.4: "14", 14.6: "14.6", 14.96: "14.96", 15: "15", 53.3: "53", 99.7: "100"} {
		assert.Equal(t, want, IndexText(index))
	}
}
