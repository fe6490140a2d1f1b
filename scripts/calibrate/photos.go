package main

import (
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"strings"

	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// truth is what truth.json says of a photo; Judgeable is nil where that is arguable, Both where no valve is in sight.
type truth struct {
	Photo     string
	Judgeable *bool
	Both      *struct{ Index, Coverage float64 }
}

// sample is a photo with its truth and the measurement of it.
type sample struct {
	truth
	refused bool
	index   float64
	overlap float64 // of the valve with the truth, 0 to 1
	region  *region.Region
	classes *image.Gray
}

func readAll(dir string) ([]sample, error) {
	text, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		return nil, err
	}
	var truths []truth
	if err := json.Unmarshal(text, &truths); err != nil {
		return nil, err
	}
	scorer, err := score.New(score.Options{})
	if err != nil {
		return nil, err
	}
	defer scorer.Close()
	var photos []sample
	for _, t := range truths {
		result := score.Largest(scorer.Score(filepath.Join(dir, t.Photo)))
		s := sample{truth: t, refused: result.Status == score.Refused}
		if result.Deposit != nil && t.Both != nil {
			s.index = result.Deposit.Both.Index.Value
			s.region, s.classes = result.Region, result.Deposit.Map
			mask, err := score.ReadMask(filepath.Join(dir, strings.TrimSuffix(t.Photo, ".jpg")+".region.png"))
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
		if s.Judgeable != nil && *s.Judgeable && s.Both != nil && s.region != nil && !s.refused {
			good = append(good, s)
		}
	}
	return good
}
