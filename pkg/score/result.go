package score

import (
	"time"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
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
	// Name is the file name as given; SHA256, Width, Height and Taken are empty when the file could not be read.
	Name          string
	SHA256        string
	Width, Height int
	Taken         *time.Time
	Status        Status
	Reasons       []reason.Reason
	// Grade is nil for a refused photo.
	Grade *grade.Grade
	// Quality, Region and Deposit are kept for drawing, comparing and reporting; nil when the photo did not get that far.
	Quality *photo.Quality
	Region  *region.Region
	Deposit *deposit.Deposit
	// Photo is the picture itself while it is needed; batches drop it after the result was handed on.
	Photo *photo.Photo
}
