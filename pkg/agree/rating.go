package agree

import (
	"fmt"
	"slices"
)

// Grades is the number of grades, 0 to 4.
const Grades = 5

// Rating is one look at one valve of a photo.
type Rating struct {
	Photo, Rater string
	// ValveInPhoto is the place of the valve in the photo, from left to right and counted from 1; 0 for the only one,
	// or the largest.
	ValveInPhoto int
	// Valve names the thing in the photo, equal for every photo of it; it is Item when the list has no such column.
	Valve string
	// Grade is 0 to 4.
	Grade int
	// Index is the deposit index on a scale of 0 to 100, NaN when not given.
	Index float64
}

// Item names what was rated: the photo, with the place of the valve where that was told.
func (r Rating) Item() string {
	if r.ValveInPhoto == 0 {
		return r.Photo
	}
	return fmt.Sprintf("%s valve %d", r.Photo, r.ValveInPhoto)
}

// Items returns everything that was rated in the order of its first rating, see Rating.Item.
func Items(ratings []Rating) []string { return distinct(ratings, Rating.Item) }

// Photos returns the names of all rated photos in the order of their first rating.
func Photos(ratings []Rating) []string {
	return distinct(ratings, func(r Rating) string { return r.Photo })
}

// Raters returns the names of all raters in the order of their first rating.
func Raters(ratings []Rating) []string {
	return distinct(ratings, func(r Rating) string { return r.Rater })
}

func distinct(ratings []Rating, key func(Rating) string) []string {
	var names []string
	seen := map[string]bool{}
	for _, r := range ratings {
		if name := key(r); !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	return slices.Clip(names)
}
