package agree

import "slices"

// Grades is the number of grades, 0 to 4.
const Grades = 5

// Rating is one look at one photo.
type Rating struct {
	Photo, Rater string
	// Valve names the thing in the photo, equal for every photo of it; it is the photo's name when the list has no such
	// column.
	Valve string
	// Grade is 0 to 4.
	Grade int
	// Index is the deposit index on a scale of 0 to 100, NaN when not given.
	Index float64
}

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
