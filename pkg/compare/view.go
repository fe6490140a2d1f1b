package compare

import (
	"fmt"
	"math"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
)

// View is what comparing needs to know of one photo. It holds no pictures, so many can be kept, and may be shared by
// goroutines.
type View struct {
	// Photo is the file name as given, SHA256 the hash of its bytes ("" when it could not be read).
	Photo, SHA256 string
	// Taken is the camera's time, YYYY-MM-DDThh:mm:ss, "" when the file does not say.
	Taken string
	// Valve is the place of the valve among the Valves of the photo, from left to right.
	Valve, Valves int
	// Version is that of the program and net that scored the photo.
	Version string
	// Reading is that of the whole valve in this photo, not measured when it was refused.
	measure.Reading
	// Grade is nil for a refused photo.
	Grade *grade.Grade
	// Reasons are those of the photo's own result.
	Reasons []reason.Reason
	// OutlinedByHand is true for outlines that somebody set, Painted where somebody painted classes, OutlinedBy and PaintedBy
	// who, where that is known.
	OutlinedByHand, Painted bool
	OutlinedBy, PaintedBy   string
	// Map is nil where the result has none: an earlier version made it, or the map was not asked for.
	Map *unroll.Map
}

// NewView takes from a result what comparing needs.
func NewView(r *score.Record) *View {
	v := &View{
		Photo: r.Photo, Valve: r.ValveInPhoto, Valves: r.ValvesInPhoto, Version: r.Version, Reasons: r.Reasons,
		Reading: measure.NoReading(),
	}
	if r.SHA256 != nil {
		v.SHA256 = *r.SHA256
	}
	if r.Taken != nil {
		v.Taken = *r.Taken
	}
	if r.Status != score.Scored {
		return v
	}
	v.Reading, v.OutlinedByHand, v.Painted = r.Reading(), r.ByHand(), r.Painted != nil
	v.OutlinedBy, v.PaintedBy = r.OutlinedBy, r.PaintedBy
	v.Grade = grade.Of(v.Index, r.Odds())
	if r.Map != nil {
		if m, err := r.Map.Map(); err == nil && len(m.Draws.Weight) > 0 { // one that was spoilt since is none
			v.Map = m
		}
	}
	return v
}

// name is that of the photo, with the place of the valve where it shows several.
func (v *View) name() string {
	if v.Valves > 1 {
		return fmt.Sprintf("%s, valve %d of %d", v.Photo, v.Valve, v.Valves)
	}
	return v.Photo
}

func (v *View) scored() bool { return v.Grade != nil }

// mapped reports whether the valve was rolled out; without an outline it could not be.
func (v *View) mapped() bool { return v.Map != nil && v.Map.Class != nil }

// proportion is the diameter of the head in those of the stem; NaN also where too little of the stem is in view to
// measure its width.
func (v *View) proportion() float64 {
	if v.Map.Proportion > mostStems {
		return math.NaN()
	}
	return v.Map.Proportion
}
