package score

import (
	"time"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/unroll"
)

// Status says whether a photo was measured.
type Status string

// The two outcomes.
const (
	Scored  Status = "scored"
	Refused Status = "refused"
)

// Result is what is known about one valve of a photo: everything when it was scored, and why not when it was refused. A
// photo in which no valve could be judged has one Result.
type Result struct {
	// Name is the file name as given.
	Name string
	// Label is the file name without folder and extension, made unique within a batch: masks and overlay are named by
	// it.
	Label string
	// Valve is the place of the valve among the Valves of its photo, 1 to Valves from left to right; both are 1 for a
	// refused photo.
	Valve, Valves int
	// Version is that of the program and nets that made the result.
	Version string
	// SHA256, Width, Height and Taken are empty when the file could not be read. Width and Height are those of the
	// upright picture in the file; Photo, Region and Deposit may be smaller by the whole number Photo.Shrunk.
	SHA256        string
	Width, Height int
	Taken         *time.Time
	Status        Status
	// Reasons say why the valve was refused, or warn of what a scored one leaves in doubt; each code once, empty when
	// there is nothing to say.
	Reasons []reason.Reason
	// Grade is nil when refused.
	Grade *grade.Grade
	// Quality, Region and Deposit are kept for drawing, comparing and reporting; nil when the photo did not get that
	// far.
	Quality *photo.Quality
	Region  *region.Region
	Deposit *deposit.Deposit
	// Map is the valve rolled out flat; nil unless the options ask for it.
	Map *unroll.Packed
	// Photo is the picture itself; nil when the file could not be read, and in a batch after the result was handed on.
	Photo *photo.Photo
}

// release drops everything as large as the picture, so that a long batch needs no more memory than a short one.
func (r *Result) release() { r.Photo, r.Region, r.Deposit = nil, nil, nil }

// shrunk is how many pixels of the file a pixel of Photo, Region and Deposit stands for, along either side.
func (r *Result) shrunk() int {
	if r.Photo == nil {
		return 1
	}
	return max(1, r.Photo.Shrunk)
}
