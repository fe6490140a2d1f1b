package deposit

// Colour compares deposit with bare metal in CIELAB (D65, 2 degree observer) after illumination normalisation. A value that
// could not be measured (no deposit, or no bare metal in view) is NaN.
type Colour struct {
	DepositL, DepositA, DepositB float64 // mean L* (0..100), a*, b* of readable pixels classed film, medium or heavy
	BareL, BareA, BareB          float64 // the same of pixels classed bare
	DifferenceDE00               float64 // CIEDE2000 between the two means
	DarknessL                    float64 // BareL - DepositL, positive when the deposit is darker
}

// Texture describes the relief of the readable valve surface. NaN when not measured. Co-occurrence figures are means over
// the four angles 0, 45, 90 and 135 degrees at distance 1 on 32 grey levels (Haralick, Shanmugam & Dinstein 1973).
type Texture struct {
	ContrastGLCM    float64 // 0 .. 31^2
	EntropyBits     float64 // 0 .. 10
	CorrelationGLCM float64 // -1 .. 1
	HomogeneityGLCM float64 // 0 .. 1, mean of 1/(1+d^2)
	LBPEntropyBits  float64 // 0 .. log2(10), entropy of the riu2 histogram (Ojala, Pietikainen & Maenpaa 2002), P=8 R=1
	ReliefFine      float64 // standard deviation of the band 1-2 px of normalised luminance, share of its mean
	ReliefCoarse    float64 // the same for the band 4-8 px
}
