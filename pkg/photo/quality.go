package photo

import (
	"image"
	"math"
)

// Quality says how well a valve can be judged in a photo. NaN marks what could not be measured.
//
// Lengths are in pixels of a frame whose long side has 640 pixels, so that photos of any size compare.
type Quality struct {
	// ValveShare is the share of the usable frame (inside the field stop) that the valve fills, 0 to 1. NaN without a
	// mask.
	ValveShare float64
	// ValvePixels is how many pixels of the file show the valve, 0 without one; NaN without a mask.
	ValvePixels float64
	// ValveRadius is the radius of a disc with the area of the valve (without a mask: of the usable frame): what blur
	// and smear are compared with.
	ValveRadius float64
	// Luminance is the mean linear luminance of the valve, FrameLuminance that of the usable frame, 0 to 1.
	Luminance, FrameLuminance float64
	// Signal is the tonal range of the valve (5th to 95th percentile of 4x4 blocks) over the noise of one pixel, 0 to
	// 255.
	Signal float64
	// Black and Glare are the shares of valve pixels with no detail left at the dark and the bright end, 0 to 1.
	Black, Glare float64
	// Sharpness is the width of the sharpest edges on and around the valve, as the sigma of a Gaussian blur. NaN when
	// no edge stands out from the noise.
	Sharpness float64
	// Motion is the estimated length of a directional smear; 0 when blur has no direction, NaN when edges of too few
	// directions are in view. Sharp edges that all run one way over a soft surface look like a smear too.
	Motion float64
}

// Assess measures how well the valve can be judged: exposure, noise, glare, blur and size, all on the pixels where mask
// is not 0. The mask must have the photo's size; nil stands for the whole frame inside the field stop.
//
// A photo of 1280 pixels or more is averaged down by a whole number first, which the blur figures take into account.
func Assess(p *Photo, mask *image.Gray) Quality {
	stop := findFieldStop(p.Pixels)
	f := crop(p.Pixels, mask, stop)
	q := Quality{ValveShare: math.NaN(), ValvePixels: math.NaN(), FrameLuminance: stop.luminance(p.Pixels)}
	if f.valvePixels == 0 {
		nan := math.NaN()
		q.ValveRadius, q.Luminance, q.Signal, q.Black, q.Glare, q.Sharpness, q.Motion = nan, nan, nan, nan, nan, nan, nan
		if mask != nil {
			q.ValveShare, q.ValvePixels = 0, 0
		}
		return q
	}
	if mask != nil {
		q.ValveShare = min(1, float64(f.valvePixels)/f.usablePixels)
	}
	q.ValveRadius = math.Sqrt(float64(f.valvePixels)/math.Pi) * f.unit
	if mask != nil {
		size := p.Pixels.Rect.Size().Mul(max(1, p.Shrunk))
		scale := float64(max(size.X, size.Y)) / frameSide
		q.ValvePixels = math.Pi * q.ValveRadius * q.ValveRadius * scale * scale
	}
	q.Luminance, q.Black, q.Glare = exposure(f)
	grain := noise(f.plane)
	q.Signal = signal(f, grain)
	q.Sharpness, q.Motion = blur(f, grain)
	return q
}
