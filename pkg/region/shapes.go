package region

// Ellipse is the outline of a head in photo pixels (pixel-centre coordinates, y down).
type Ellipse struct {
	X, Y float64 // centre
	// A is the semi-major and B the semi-minor axis, in pixels, A >= B > 0.
	A, B float64
	// Angle of the major axis against the x axis, in degrees, clockwise as seen (y grows downwards), in [0, 180).
	Angle float64
}

// Line is the centre line of a stem from its visible far end (X1, Y1) to where it meets the head (X2, Y2), with its mean
// width, all in photo pixels.
type Line struct {
	X1, Y1, X2, Y2 float64
	Width          float64
}
