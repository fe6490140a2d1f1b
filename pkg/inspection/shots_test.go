package inspection

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestSortShots(t *testing.T) {
	at := func(minute int) *time.Time {
		moment := time.Date(2026, 3, 14, 9, minute, 0, 0, time.UTC)
		return &moment
	}
	for _, c := range []struct {
		what   string
		shots  []Shot
		sorted []string
	}{
		{"the camera's clock, not the copy's", []Shot{
			{"b.jpg", at(1), *at(9)}, {"a.jpg", at(2), *at(3)}, {"c.jpg", at(0), *at(5)},
		}, []string{"c.jpg", "b.jpg", "a.jpg"}},
		{"no clock: when they were written", []Shot{
			{"b.jpg", nil, *at(9)}, {"a.jpg", nil, *at(3)}, {"c.jpg", nil, *at(5)},
		}, []string{"a.jpg", "c.jpg", "b.jpg"}},
		{"of one time by their names, numbers as numbers", []Shot{
			{"10.jpg", at(1), *at(1)}, {"9.jpg", at(1), *at(1)}, {"1.jpg", at(1), *at(1)},
		}, []string{"1.jpg", "9.jpg", "10.jpg"}},
		{"those without a clock behind the name before theirs", []Shot{
			{"0.jpg", nil, *at(59)}, {"1.jpg", at(5), *at(5)}, {"2.jpg", nil, *at(0)}, {"3.jpg", nil, *at(0)}, {"4.jpg", at(1), *at(1)},
		}, []string{"0.jpg", "4.jpg", "1.jpg", "2.jpg", "3.jpg"}},
		{"none", nil, nil},
	} {
		SortShots(c.shots)
		var files []string
		for _, s := range c.shots {
			files = append(files, s.File)
		}
		assert.Equal(t, c.sorted, files, c.what)
	}
}
