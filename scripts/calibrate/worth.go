package main

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"valvegrade/internal/number"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// worth is what a calibration is worth on a set of photos.
type worth struct {
	index, dark, coverage bounds
	// brier is the mean score of the probabilities of the grades (grade.Probabilities.Brier); less is better.
	brier float64
	// clear is the share of photos whose likeliest grade is clear, right how many of them have that grade.
	clear, right float64
}

// bounds is what intervals of one figure are worth.
type bounds struct {
	holds float64 // share of photos whose interval holds the truth
	width float64 // median, points
	// score is the mean interval score: the width plus 2/0.05 times what a miss is off by, less is better (Gneiting and
	// Raftery, "Strictly proper scoring rules, prediction, and estimation", Journal of the American Statistical
	// Association 102 (2007), 43).
	score float64
}

func (w worth) String() string {
	return fmt.Sprintf("index %v; dark deposit %v; coverage %v; Brier %.3f; clear %.0f %%, of these right %.0f %%",
		w.index, w.dark, w.coverage, w.brier, 100*w.clear, 100*w.right)
}

func (b bounds) String() string {
	return fmt.Sprintf("holds %.1f %%, median width %.1f", 100*b.holds, b.width)
}

// cost is what a calibration is chosen by: a point of the Brier score counts as much as one of the mean interval score
// over a hundred.
func (w worth) cost() float64 { return (w.index.score+w.dark.score+w.coverage.score)/300 + w.brier }

// enough is the share of photos an interval must hold on the photos it is chosen on: the goal is 90 to 97 % on others.
const enough = 0.915

// farthest is how far a miss counts, in points: the few photos that are grossly misread would else double the width of
// all intervals.
const farthest = 10

// worthOf measures what a calibration gives.
func worthOf(photos []sample, c deposit.Calibration) worth {
	found := certainties(photos, c)
	w := worth{
		index:    boundsOf(photos, found, func(r measure.Reading) measure.Figure { return r.Index }),
		dark:     boundsOf(photos, found, func(r measure.Reading) measure.Figure { return r.Dark }),
		coverage: boundsOf(photos, found, func(r measure.Reading) measure.Figure { return r.Coverage }),
	}
	clear, right := 0, 0
	for i, s := range photos {
		p, truth := found[i].Grades, grade.Place(s.Both.Index)
		w.brier += p.Brier(truth) / float64(len(photos))
		if likeliest := p.Likeliest(); p[likeliest] >= grade.Clear {
			clear++
			if likeliest == truth {
				right++
			}
		}
	}
	w.clear, w.right = float64(clear)/float64(len(photos)), float64(right)/float64(clear)
	return w
}

// certainties are those of all photos, computed beside each other.
func certainties(photos []sample, c deposit.Calibration) []deposit.Certainty {
	found := make([]deposit.Certainty, len(photos))
	var group sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		group.Go(func() {
			for i := worker; i < len(photos); i += workers {
				found[i] = deposit.Doubt(photos[i].region, photos[i].classes, c)
			}
		})
	}
	group.Wait()
	return found
}

func boundsOf(photos []sample, found []deposit.Certainty, of func(measure.Reading) measure.Figure) bounds {
	var b bounds
	var widths []float64
	for i, s := range photos {
		interval, truth := of(found[i].Both), of(s.Both.Reading()).Value
		if inside(interval, truth) {
			b.holds += 1 / float64(len(photos))
		}
		widths = append(widths, interval.High-interval.Low)
		missed := min(farthest, max(0, interval.Low-truth)+max(0, truth-interval.High))
		b.score += (interval.High - interval.Low + 40*missed) / float64(len(photos))
	}
	b.width = number.Median(widths)
	if math.IsNaN(b.score) {
		panic("calibrate: a photo without figures among those that were judged")
	}
	return b
}

func inside(i measure.Figure, truth float64) bool {
	return i.Low <= truth+0.05 && truth <= i.High+0.05
}
