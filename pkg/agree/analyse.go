package agree

import (
	"fmt"
	"math"
)

// Agreement is everything that a list of ratings says about its raters.
type Agreement struct {
	// Photos counts the photos rated by anybody, one of several valves once for each that was rated by itself. Raters
	// are in the order of the list.
	Photos int
	Raters []string
	// Pairs compare two raters each.
	Pairs []Pair
	// Fleiss and ICC describe all raters together on the photos that all of them rated; nil for fewer than three raters
	// or no such photo. ICC needs an index from everyone and two photos.
	Fleiss *Fleiss
	ICC    *ICC
	// Repeats has an entry for each rater who rated one valve more than once, of the index when given, else of the
	// grade.
	Repeats []RaterRepeat
	// Precision separates scatter within from scatter between raters, of the index; nil when no valve was rated by two.
	Precision *Precision
	// Notes are sentences on what could not be computed and why.
	Notes []string
}

// Pair is the agreement of two raters on the photos that both rated.
type Pair struct {
	// First gives the rows of Table and is the minuend of Limits.
	First, Second string
	Photos        int
	Table         Table
	// Same and WithinOne are shares of photos with equal grades, and with grades at most one apart.
	Same, WithinOne Proportion
	// Quadratic is the figure to quote; Unweighted and Linear are there for comparison with other tables.
	Unweighted, Linear, Quadratic Kappa
	// Index compares the deposit indices; nil when fewer than two photos have one from both.
	Index *IndexPair
}

// IndexPair compares two raters' deposit indices, in index points.
type IndexPair struct {
	// First and Second are the indices photo by photo.
	First, Second []float64
	Limits        Limits
	Concordance   Concordance
}

// RaterRepeat is the repeatability of one rater.
type RaterRepeat struct {
	Rater string
	// Of is "index" or "grade".
	Of string
	Repeatability
}

// Analyse compares every rater with the one named by reference, or each rater with each other when reference is "".
// When a rater rated a photo more than once the middle rating counts in the comparison (see middleRatings) and all
// count in the repeatability.
func Analyse(ratings []Rating, reference string) (*Agreement, error) {
	if len(ratings) == 0 {
		return nil, fmt.Errorf("agree: no ratings")
	}
	for _, r := range ratings {
		if r.Grade < 0 || r.Grade >= Grades {
			return nil, fmt.Errorf(
				"agree: %s gave %s the grade %d, grades are 0 to %d",
				r.Rater,
				r.Photo,
				r.Grade,
				Grades-1,
			)
		}
	}
	a := &Agreement{Photos: len(Items(ratings)), Raters: Raters(ratings)}
	own, repeated := middleRatings(ratings)
	a.Notes = append(a.Notes, repeated...)
	if reference != "" && own[reference] == nil {
		return nil, fmt.Errorf("agree: nobody named %q in the list, raters are %q", reference, a.Raters)
	}
	photos := Items(ratings)
	for i, one := range a.Raters {
		for _, other := range a.Raters[i+1:] {
			switch reference {
			case "", other:
				a.addPair(one, other, photos, own)
			case one:
				a.addPair(other, one, photos, own)
			}
		}
	}
	if len(a.Raters) < 2 {
		a.Notes = append(a.Notes, "one rater: agreement needs a second")
	}
	a.addTogether(photos, own)
	a.addRepeats(ratings)
	return a, nil
}

// fewPhotos is our own choice: the standard errors of kappa and of the limits hold for many photos, and understate what
// fewer leave open.
const fewPhotos = 10

func (a *Agreement) addPair(one, other string, photos []string, own map[string]map[string]Rating) {
	p := Pair{First: one, Second: other}
	var grades, otherGrades []int
	var x, y []float64
	for _, photo := range photos {
		r, both := own[one][photo]
		s, too := own[other][photo]
		if !both || !too {
			continue
		}
		grades, otherGrades = append(grades, r.Grade), append(otherGrades, s.Grade)
		if !math.IsNaN(r.Index + s.Index) {
			x, y = append(x, r.Index), append(y, s.Index)
		}
	}
	p.Photos = len(grades)
	if p.Photos == 0 {
		a.Notes = append(a.Notes, fmt.Sprintf("%s and %s have no photo in common", one, other))
		return
	}
	if p.Photos < fewPhotos {
		a.Notes = append(
			a.Notes,
			fmt.Sprintf(
				"%s and %s have so few photos in common (%d) that kappa and the limits of agreement mean little",
				one,
				other,
				p.Photos,
			),
		)
	}
	p.Table = must(Tabulate(Grades, grades, otherGrades)) // Analyse checked the grades
	p.Same, p.WithinOne = p.Table.Within(0), p.Table.Within(1)
	p.Unweighted = must(WeightedKappa(p.Table, Exact(Grades)))
	p.Linear = must(WeightedKappa(p.Table, Linear(Grades)))
	p.Quadratic = must(WeightedKappa(p.Table, Quadratic(Grades)))
	if math.IsNaN(p.Quadratic.Value) {
		a.Notes = append(
			a.Notes,
			fmt.Sprintf("%s and %s used one and the same grade throughout: kappa is not defined", one, other),
		)
	}
	if len(x) > 1 {
		p.Index = &IndexPair{
			First:       x,
			Second:      y,
			Limits:      must(BlandAltman(x, y, UsualFactor)),
			Concordance: must(Lin(x, y)),
		}
	}
	a.Pairs = append(a.Pairs, p)
}

// must unwraps a result whose error would be a mistake of this package: shapes that it made itself.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
