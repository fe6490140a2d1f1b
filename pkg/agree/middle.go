package agree

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// middleRatings maps rater and item to the rating that stands for them. Of several ratings it is the middle one by
// grade, then by index, and of two middle ones the higher, as a cylinder is graded by its worse valve: whatever the
// order of the list. One rating is taken and no mean, whose smaller scatter would flatter the agreement. The sentences
// say which ones were repeated.
func middleRatings(ratings []Rating) (own map[string]map[string]Rating, repeated []string) {
	own = map[string]map[string]Rating{}
	for _, rater := range Raters(ratings) {
		own[rater] = map[string]Rating{}
		all := map[string][]Rating{}
		for _, r := range ratings {
			if r.Rater == rater {
				all[r.Item()] = append(all[r.Item()], r)
			}
		}
		for _, photo := range Items(ratings) {
			n := len(all[photo])
			if n == 0 {
				continue
			}
			slices.SortFunc(
				all[photo],
				func(a, b Rating) int { return cmp.Or(cmp.Compare(a.Grade, b.Grade), cmp.Compare(a.Index, b.Index)) },
			)
			own[rater][photo] = all[photo][n/2]
			if n > 1 {
				repeated = append(repeated, fmt.Sprintf(
					"%s rated %s %d times, grades %s: the agreement counts the middle rating, of two the higher; all count in the repeatability",
					rater,
					photo,
					n,
					gradesOf(all[photo]),
				))
			}
		}
	}
	return own, repeated
}

// gradesOf writes the grades of ratings: "0, 3".
func gradesOf(ratings []Rating) string {
	grades := make([]string, len(ratings))
	for i, r := range ratings {
		grades[i] = strconv.Itoa(r.Grade)
	}
	return strings.Join(grades, ", ")
}
