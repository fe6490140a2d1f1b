package engine

import (
	"time"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Shot is what one photo says about its valve.
type Shot struct {
	inspection.Photo
	// Reading is not measured for a refused photo.
	measure.Reading
	// Grades are the probabilities of the grades, those of the interval where the result has none.
	Grades grade.Probabilities
	// Heavy says how thick the dark deposit is, Asked whether the photo was asked: earlier versions did not.
	Heavy deposit.MostlyHeavy
	Asked bool
	// Area is the readable valve area as share of the frame, 0 to 1: shares, so that a camera with more pixels has no
	// more say.
	Area float64
	// Confidence, 0 to 1, is that of the outlines.
	Confidence float64
	// SHA256 is the hash of the file's bytes, "" when they could not be read.
	SHA256 string
	// ValveInPhoto is the place of the valve among the ValvesInPhoto of its photo, 1 to ValvesInPhoto from left to
	// right.
	ValveInPhoto, ValvesInPhoto int
	// OutlinedByHand is true for outlines that somebody set, Painted where somebody painted classes, OutlinedBy and PaintedBy
	// who, where that is known. PaintBeside is true where paint lies beside the valve, and was ignored.
	OutlinedByHand, Painted, PaintBeside bool
	OutlinedBy, PaintedBy                string
	// Refusals say in a few words why a photo was refused, none of one that was not.
	Refusals []string
	// Taken is the camera's own time, nil when the photo does not say.
	Taken *time.Time
}

// ShotOf takes from the record of a photo's valve what combining needs. A refused photo gives an unmeasured shot.
func ShotOf(p inspection.Photo, r *score.Record) Shot {
	s := Shot{
		Photo:         p,
		Reading:       r.Reading(),
		Grades:        r.Odds(),
		Heavy:         r.Heavy(),
		Asked:         r.BuildUp != nil,
		Confidence:    r.RegionConfidence.Value(),
		ValveInPhoto:  r.ValveInPhoto,
		ValvesInPhoto: r.ValvesInPhoto,

		OutlinedByHand: r.ByHand(), OutlinedBy: r.OutlinedBy, Painted: r.Painted != nil, PaintedBy: r.PaintedBy,
	}
	for _, why := range r.Reasons {
		s.PaintBeside = s.PaintBeside || why.Code == reason.PaintBeside
		if entry, _ := reason.Find(why.Code); entry.Refuses {
			s.Refusals = append(s.Refusals, entry.Short)
		}
	}
	if r.SHA256 != nil {
		s.SHA256 = *r.SHA256
	}
	if r.Taken != nil {
		if taken, err := time.Parse(score.TakenLayout, *r.Taken); err == nil { // a later program may write it otherwise
			s.Taken = &taken
		}
	}
	if r.Pixels != nil && r.Width != nil && r.Height != nil {
		s.Area = float64(*r.Pixels) * (1 - r.Unreadable.Value()) / float64(*r.Width**r.Height)
	}
	return s
}
