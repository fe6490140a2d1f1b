package photo

import (
	"image"
	"math"
)

// Assess measures how well the valve can be judged: exposure, noise, glare, blur and size, all on the pixels where mask is
// not 0. The mask must have the photo's size; nil stands for the whole frame inside the field stop.
//
// A photo of 1280 pixels or more is averaged down by a whole number first, which the blur figures take into account.
func Assess(p *Photo, mask *image.Gray) Quality {
	stop := findFieldStop(p.Pixels)
	f := crop(p.Pixels, mask, stop)
	q := Quality{ValveShare: math.NaN(), FrameLuminance: stop.luminance(p.Pixels)}
	if f.valvePixels == 0 {
		nan := math.NaN()
		q.ValveRadius, q.Luminance, q.Signal, q.Black, q.Glare, q.Sharpness, q.Motion = nan, nan, nan, nan, nan, nan, nan
		if mask != nil {
			q.ValveShare = 0
		}
		return q
	}
	if mask != nil {
		q.ValveShare = min(1, float64(f.valvePixels)/f.usablePixels)
	}
	q.ValveRadius = math.Sqrt(float64(f.valvePixels)/math.Pi) * f.unit
	q.Luminance, q.Black, q.Glare = exposure(f)
	grain := noise(f.plane)
	q.Signal = signal(f, grain)
	q.Sharpness, q.Motion = blur(f, grain)
	return q
}
