package deposit

// Calibration says how far the evidence may be wrong: the constants from which the 95 % intervals and the probabilities
// of the grades follow. They are to be set so that the intervals hold the truth for 90 to 97 % of photos they were not
// set on, and the probabilities come true as often as they say.
//
// All spreads are standard deviations, 0 and up; 0 takes a source of doubt out.
type Calibration struct {
	// Common moves all three steps of a photo together, in units of their logits: a photo whose every crust looks
	// thinner or thicker to the net than it is.
	Common float64
	// Own moves each step by itself, in the same units.
	Own float64
	// Outline moves the border of the valve, in units of the region logits: cells that the net is this unsure about
	// come or go, all in one direction.
	Outline float64
	// Direct weighs the error that the net expects of its own index (Frame.IndexError): the spread added to the index
	// is Direct times that error, and to the coverage DirectCoverage times it. DirectDark does the same with the error
	// expected of the dark deposit (Frame.DarkError).
	Direct, DirectDark, DirectCoverage float64
	// Trust is the power to which the net's own opinion of the grade (Frame.Grades) weighs the draws: 0 leaves it out,
	// at 1 it counts as a witness that knows nothing of the maps.
	Trust float64
	// Temper divides the logarithms of the grades' probabilities: 1 leaves them, above 1 they are less sure than the
	// draws, which share what the nets have never seen (temperature scaling: Guo, Pleiss, Sun & Weinberger, "On
	// calibration of modern neural networks", International Conference on Machine Learning 2017).
	Temper float64
	// Apart is the part of the moved steps, outline and error, as variance, that is new in each photo; the rest is the
	// same in every photo, draw by draw (see Draws). It changes no interval of one photo, only those of differences.
	Apart float64
	// Block is the side, in cells of the evidence, of the blocks that are drawn anew: neighbouring cells err together.
	Block int
	// Draws is the number of repetitions, Seed the start of their random numbers.
	Draws int
	Seed  uint64
}

// DefaultCalibration returns the constants that Measure uses unless told otherwise.
func DefaultCalibration() Calibration {
	return Calibration{
		Common: 0.9, Own: 0.45, Outline: 0.7,
		Direct: 1.2, DirectDark: 1.2, DirectCoverage: 2,
		Trust: 0.4, Temper: 1.2,
		Apart: 0.05,
		Block: 8, Draws: 240, Seed: 1,
	}
}
