package deposit

import (
	"image"

	"valvegrade/pkg/reason"
)

// Classes of Deposit.Map, the values of the file NAME.deposit.png.
const (
	Bare       uint8 = 0
	Film       uint8 = 1
	Medium     uint8 = 2
	Heavy      uint8 = 3
	Unreadable uint8 = 254
	NotValve   uint8 = 255
)

// Interval is a value with its 95 % interval. Low <= Value <= High. All three are NaN when not measured.
type Interval struct {
	Value, Low, High float64
}

// Shares are shares of readable valve pixels; they sum to 1, or are all NaN when no pixel is readable.
type Shares struct {
	Bare, Film, Medium, Heavy float64
}

// Figures describe one region of the valve, or head and stem together.
type Figures struct {
	// Pixels counts all pixels of the region, readable or not.
	Pixels int
	// Unreadable is the share of Pixels that was set aside (glare, black shadow), 0 to 1.
	Unreadable float64
	Shares     Shares
	// Coverage is the percentage of readable pixels with any deposit, 0 to 100.
	Coverage Interval
	// Index is the deposit index, 0 to 100: 100 * (1.00 heavy + 0.50 medium + 0.25 film).
	Index Interval
}

// Reading is the formula's own opinion, made without the net's evidence.
type Reading struct {
	Coverage, Index Interval
}

// Deposit is the measurement of one valve in one photo.
type Deposit struct {
	// Map has the size of the photo, origin (0,0) and stride = width; values are the classes above.
	Map *image.Gray
	// Both is head and stem together; Head and Stem are nil when not visible.
	Both       Figures
	Head, Stem *Figures
	// Formula is the second, independent reading.
	Formula Reading
	Colour  Colour
	Texture Texture
	// Reasons are the refusals and warnings found while measuring; empty when there are none.
	Reasons []reason.Reason
}

// Index returns the deposit index of the shares, 0 to 100.
//
// Area times a factor per level is the practice of engine-test deposit rating; the factors 1.00 and 0.50 are from memory
// of that practice, and letting a film stand for the light level with 0.25 is this project's own choice.
func (s Shares) Index() float64 { return 100 * (s.Heavy + 0.5*s.Medium + 0.25*s.Film) }

// Coverage returns the percentage of readable pixels that carry any deposit, 0 to 100.
func (s Shares) Coverage() float64 { return 100 * (s.Heavy + s.Medium + s.Film) }
