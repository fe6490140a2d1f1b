package deposit

import (
	"image"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
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

// Figures describe one region of the valve, or head and stem together.
type Figures struct {
	// Pixels counts all pixels of the region, readable or not.
	Pixels int
	// Unreadable is the share of Pixels that was set aside (glare, black shadow), 0 to 1.
	Unreadable float64
	Shares     measure.Shares
	measure.Reading
}

// Deposit is the measurement of one valve in one photo.
type Deposit struct {
	// Map has the size of the photo, origin (0,0) and stride = width; values are the classes above.
	Map *image.Gray
	// Both is head and stem together; Head and Stem are nil when not visible.
	Both       Figures
	Head, Stem *Figures
	// Grades are the probabilities of the grades of the whole valve.
	Grades grade.Probabilities
	// Heavy says how thick the dark deposit of the whole valve is, BuildUp the same in a word.
	Heavy   MostlyHeavy
	BuildUp BuildUp
	// Draws are the repetitions of the measurement from which its intervals follow.
	Draws Draws
	// Painted is the share of the valve's pixels whose class somebody painted, 0 to 1.
	Painted float64
	Colour  Colour
	Texture Texture
	// Reasons are the refusals and warnings found while measuring; empty when there are none.
	Reasons []reason.Reason
}
