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

// The two outcomes of a photo.
const (
	Scored  Status = "scored"
	Refused Status = "refused"
)

// Result is what is known about one photo: everything when it was scored, and why not when it was refused.
type Result struct {
	// Name is the file name as given.
	Name string
	// Label is the file name without folder and extension, made unique within a batch: masks and overlay are named by
	// it.
	Label string
	// Version is that of the program and net that made the result.
	Version string
	// SHA256, Width, Height and Taken are empty when the file could not be read. Width and Height are those of the
	// upright picture in the file; Photo, Region and Deposit may be smaller by the whole number Photo.Shrunk.
	SHA256        string
	Width, Height int
	Taken         *time.Time
	Status        Status
	// Reasons say why the photo was refused, or warn of what a scored one leaves in doubt; each code once, empty when
	// there is nothing to say.
	Reasons []reason.Reason
	// Grade is nil for a refused photo.
	Grade *grade.Grade
	// Quality, Region and Deposit are kept for drawing, comparing and reporting; nil when the photo did not get that
	// far.
	Quality *photo.Quality
	Region  *region.Region
	Deposit *deposit.Deposit
	// Map is the valve rolled out flat; nil unless the options ask for it.
	Map *unroll.Map
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
