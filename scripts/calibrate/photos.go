package main

import (
	"image"
	"path/filepath"

	"valvegrade/internal/truth"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// sample is a photo with its truth and the measurement of it.
type sample struct {
	truth.Entry
	refused bool
	index   float64
	overlap float64 // of the valve with the truth, 0 to 1
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
		result := score.Largest(scorer.Score(filepath.Join(dir, t.Photo)))
		s := sample{Entry: t, refused: result.Status == score.Refused}
		if result.Deposit != nil && t.Both != nil {
			s.index = result.Deposit.Both.Index.Value
			s.region, s.classes = result.Region, result.Deposit.Map
			mask, err := score.ReadMask(t.Path(dir, score.RegionSuffix))
			if err != nil {
				return nil, err
			}
			s.overlap = region.IoU(mask, result.Region.Mask, region.Head, region.Stem)
		}
		photos = append(photos, s)
	}
	return photos, nil
}

// judged returns the photos that can be judged and were.
func judged(photos []sample) []sample {
	var good []sample
	for _, s := range photos {
		if s.Demand == truth.Judge && s.region != nil && !s.refused {
			good = append(good, s)
		}
	}
	return good
}
