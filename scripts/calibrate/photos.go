package main

import (
	"image"
	"path/filepath"

	"valvegrade/internal/truth"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
	"valvegrade/scripts/outline"
)

// sample is a valve that a set knows, with its truth and the measurement of it.
type sample struct {
	truth.Entry
	refused bool // the whole photo
	index   float64
	overlap float64 // of the valve with the truth, 0 to 1
	// region and classes are those of the result whose outline fits the valve best, nil where none touches it.
	region  *region.Region
	classes *image.Gray
}

// readAll measures the photos of a set, with other nets than the embedded ones where some are given.
func readAll(dir string, nets [][]byte) ([]sample, error) {
	known, err := truth.Read(dir)
	if err != nil {
		return nil, err
	}
	scorer, err := score.New(score.Options{Nets: nets})
	if err != nil {
		return nil, err
	}
	defer scorer.Close()
	var photos []sample
	for _, t := range known {
		results := scorer.Score(filepath.Join(dir, t.Photo))
		s := sample{Entry: t, refused: results[0].Status == score.Refused} // of several none is
		if t.Both != nil {
			mask, err := score.ReadMask(t.Path(dir, score.RegionSuffix))
			if err != nil {
				return nil, err
			}
			s.match(results, mask)
		}
		photos = append(photos, s)
	}
	return photos, nil
}

// match takes the measurement of the valve from the result whose outline overlaps it most; want is the mask of the truth.
func (s *sample) match(results []*score.Result, want *image.Gray) {
	var measured []*score.Result
	var outlines []*image.Gray
	for _, r := range results {
		if r.Deposit != nil {
			measured, outlines = append(measured, r), append(outlines, r.Region.Mask)
		}
	}
	place, overlap := outline.Closest(outline.Valve(want, s.Valve), outlines)
	if place < 0 {
		return
	}
	found := measured[place]
	s.index, s.overlap, s.region, s.classes = found.Deposit.Both.Index.Value, overlap, found.Region, found.Deposit.Map
}

// judged returns the valves of photos that can be judged and were.
func judged(photos []sample) []sample {
	var good []sample
	for _, s := range photos {
		if s.Demand == truth.Judge && s.region != nil && !s.refused {
			good = append(good, s)
		}
	}
	return good
}
