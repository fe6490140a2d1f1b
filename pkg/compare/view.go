package compare

import (
	"fmt"
	"math"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// View is what comparing needs to know of one photo. It holds no pictures, so many can be kept; it is never changed and may be
// shared by goroutines.
type View struct {
	// Photo is the file name as given, SHA256 the hash of its bytes ("" when it could not be read).
	Photo, SHA256 string
	// Version is that of the program and net that scored the photo.
	Version string
	// Index and Coverage are those of the whole valve in this photo, 0 to 100; NaN when it was refused.
	Index, Coverage deposit.Interval
	// Grade is nil for a refused photo.
	Grade *grade.Grade
	// Reasons are those of the photo's own result.
	Reasons []reason.Reason

	surface *surface
	pose    pose
	// rough is true when too little of the rim is in view for a sure outline.
	rough bool
	// saved is true when the view comes from a saved result, which has no pictures to make a map of.
	saved bool
}

// pose is the geometry that one photo shows.
type pose struct {
	// proportion is the diameter of the head in diameters of the stem, foot how far the stem's foot is from the middle of the head, in
	// radii. NaN without a stem, and the proportion also where too little of the stem is in view to measure its width.
	proportion, foot float64
}

var unmeasured = deposit.Interval{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}

// NewView takes from a result what comparing needs. A photo that was refused, or whose head has no outline, gives a view without a
// map. The error is a failure of the program.
func NewView(r *score.Result) (*View, error) {
	v := &View{Photo: r.Name, SHA256: r.SHA256, Version: r.Version, Grade: r.Grade, Reasons: r.Reasons, Index: unmeasured, Coverage: unmeasured}
	if r.Status != score.Scored {
		return v, nil
	}
	v.Index, v.Coverage = r.Deposit.Both.Index, r.Deposit.Both.Coverage
	rim := r.Region.Outline()
	if rim == nil {
		return v, nil
	}
	v.pose, v.rough = poseOf(*rim, r.Region.Axis), r.Region.Ellipse == nil
	var err error
	if v.surface, err = roll(r.Photo.Pixels, *rim, r.Region, r.Deposit.Map); err != nil {
		return nil, fmt.Errorf("compare: %s: %w", r.Name, err)
	}
	return v, nil
}

func poseOf(rim region.Ellipse, stem *region.Line) pose {
	if stem == nil {
		return pose{math.NaN(), math.NaN()}
	}
	proportion := 2 * rim.A / stem.Width
	if proportion > mostStems {
		proportion = math.NaN()
	}
	return pose{proportion, rim.Level(region.Point{X: stem.X2, Y: stem.Y2})}
}

// SavedView takes from a saved result what it still knows: the figures, but no map.
func SavedView(r *score.Record) *View {
	v := &View{Photo: r.Photo, Version: r.Version, Reasons: r.Reasons, Index: unmeasured, Coverage: unmeasured, saved: true}
	if r.SHA256 != nil {
		v.SHA256 = *r.SHA256
	}
	if r.Status == score.Scored {
		v.Index = deposit.Interval{Value: r.Index.Value(), Low: r.IndexLow.Value(), High: r.IndexHigh.Value()}
		v.Coverage = deposit.Interval{Value: r.Coverage.Value(), Low: r.CoverageLow.Value(), High: r.CoverageHigh.Value()}
		v.Grade = gradeOf(v.Index)
	}
	return v
}

func gradeOf(index deposit.Interval) *grade.Grade {
	g := grade.Of(index.Value, index.Low, index.High)
	return &g
}

func (v *View) scored() bool { return v.Grade != nil }
