package main

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/grade"
)

// Lists of the archive write a grade as the tables of score and compare do.
func TestGradesInListsOfTheArchive(t *testing.T) {
	worst := archive.OfWorst{CylindersGraded: 3, Grade: new(3), Worst: new(66.0), Odds: &grade.Probabilities{0, 0, 0.1, 0.4, 0.5}}
	assert.Equal(t, "3, perhaps 4 [3 of 4]", worstGrade(worst, 4))
	assert.Equal(t, "3, perhaps 4", worstGrade(worst, 3))
	worst.Odds = nil
	assert.Equal(t, "3 crusted", worstGrade(worst, 3))
	assert.Equal(t, "-", worstGrade(archive.OfWorst{}, 4))
}
