package main

import (
	"fmt"
	"math"

	"valvegrade/internal/number"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

// worth is what intervals are worth on a set of photos.
type worth struct {
	holds, coverageHolds float64 // shares of photos whose interval holds the truth
	width, coverageWidth float64 // medians, points
	score                float64 // mean interval score of index and coverage, points; less is better
}

func (w worth) String() string {
	return fmt.Sprintf("index holds %.1f %%, median width %.1f; coverage %.1f %%, %.1f; score %.1f",
		100*w.holds, w.width, 100*w.coverageHolds, w.coverageWidth, w.score)
}

// gaps measures the intervals that a calibration gives.
func gaps(photos []sample, c deposit.Calibration) worth {
	var w worth
	var widths, coverageWidths []float64
	for _, s := range photos {
		both := deposit.Doubt(s.region, s.classes, c).Both
		if inside(both.Index, s.Both.Index) {
			w.holds += 1 / float64(len(photos))
		}
		if inside(both.Coverage, s.Both.Coverage) {
			w.coverageHolds += 1 / float64(len(photos))
		}
		widths = append(widths, both.Index.High-both.Index.Low)
		coverageWidths = append(coverageWidths, both.Coverage.High-both.Coverage.Low)
		w.score += (intervalScore(both.Index, s.Both.Index) + intervalScore(both.Coverage, s.Both.Coverage)) / 2 / float64(
			len(photos),
		)
	}
	w.width, w.coverageWidth = number.Median(widths), number.Median(coverageWidths)
	return w
}

func inside(i measure.Figure, truth float64) bool {
	return i.Low <= truth+0.05 && truth <= i.High+0.05
}

// intervalScore is the width plus 2/0.05 times what a miss is off by (Gneiting and Raftery, "Strictly proper scoring
// rules, prediction, and estimation", Journal of the American Statistical Association 102 (2007), 43).
func intervalScore(i measure.Figure, truth float64) float64 {
	return i.High - i.Low + 40*(max(0, i.Low-truth)+max(0, truth-i.High))
}

// enough is the share of photos an interval must hold on the photos it is chosen on: the middle of the goal of 90 to 97
// %.
const enough = 0.94

// search tries constants on every second photo and shows the best, and what they are worth on the others.
func search(photos []sample) {
	var even, odd []sample
	for i, s := range photos {
		if i%2 == 0 {
			even = append(even, s)
		} else {
			odd = append(odd, s)
		}
	}
	best, found := worth{score: math.Inf(1)}, deposit.Calibration{}
	for _, common := range []float64{0, 0.5, 1, 1.5} {
		for _, own := range []float64{0, 0.4, 0.8} {
			for _, outline := range []float64{0, 1} {
				for _, direct := range []float64{0, 0.4, 0.7, 1, 1.3, 1.6} {
					c := deposit.DefaultCalibration()
					c.Common, c.Own, c.Outline, c.Direct, c.DirectCoverage, c.Draws = common, own, outline, direct, 2*direct, 100
					w := gaps(even, c)
					if min(w.holds, w.coverageHolds) >= enough && w.score < best.score {
						best, found = w, c
						fmt.Printf("%+v\n  even photos: %v\n", c, w)
					}
				}
			}
		}
	}
	if math.IsInf(best.score, 1) {
		fmt.Printf("nothing tried holds %.0f %% of the photos\n", 100*enough)
		return
	}
	found.Draws = deposit.DefaultCalibration().Draws
	fmt.Printf("best: %+v\n  odd photos: %v\n", found, gaps(odd, found))
}
