package photo

// Quality says how well a valve can be judged in a photo. NaN marks what could not be measured.
type Quality struct {
	// ValveShare is the share of the usable frame (inside the field stop) that the valve fills, 0 to 1.
	ValveShare float64
	// Luminance is the mean linear luminance of the valve, 0 to 1.
	Luminance float64
	// Black and Glare are the shares of valve pixels with no detail left at the dark and the bright end, 0 to 1.
	Black, Glare float64
	// Sharpness is the width of the sharpest edges on and around the valve, as a blur sigma in pixels of a 640-pixel frame.
	Sharpness float64
	// Motion is the estimated length of a directional smear, in pixels of a 640-pixel frame; 0 when blur has no direction.
	Motion float64
}
