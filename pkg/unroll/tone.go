package unroll

import (
	"image"
	"math"

	"valvegrade/internal/cv"
	"valvegrade/pkg/colour"
	"valvegrade/pkg/region"
)

const (
	// fineCells and broadCells bound the band of the pattern, as standard deviations in cells: finer is noise and what
	// a slight misfit of the maps tears apart, broader is the light.
	fineCells  = 1.5
	broadCells = 8
	// probes is the number of places per side at which a cell's luminance is read.
	probes = 2
	// darkestLight keeps the logarithm finite: about four 8-bit steps near black, where cameras show noise.
	darkestLight = 0.001
)

// pattern returns the pattern of the head: the band of log luminance between two Gaussians, normalised for cells that
// cannot be read (Knutsson & Westin, "Normalized and differential convolution", CVPR 1993). It does not depend on
// exposure.
func (m *Map) pattern(photo *image.NRGBA, u region.Unwrap) ([]float32, error) {
	tone := make([]float32, HeadRows*Columns)
	light, known := make([]float32, len(tone)), make([]float32, len(tone))
	for cell := range tone {
		if m.Readable(cell) {
			light[cell], known[cell] = logLuminance(photo, u, cell), 1
		}
	}
	fine, err := smooth(light, known, fineCells)
	if err != nil {
		return nil, err
	}
	broad, err := smooth(light, known, broadCells)
	if err != nil {
		return nil, err
	}
	for cell := range tone {
		if known[cell] > 0 {
			tone[cell] = fine[cell] - broad[cell]
		}
	}
	return tone, nil
}

// logLuminance averages the photo over a cell of the head.
func logLuminance(photo *image.NRGBA, u region.Unwrap, cell int) float32 {
	sum := 0.0
	for i := range probes {
		radius := (float64(cell/Columns) + (float64(i)+0.5)/probes) / HeadRows
		for j := range probes {
			p := u.Photo(float64(cell%Columns)+(float64(j)+0.5)/probes, radius)
			x, y := int(math.Round(p.X)), int(math.Round(p.Y))
			c := photo.NRGBAAt(max(0, min(photo.Rect.Max.X-1, x)), max(0, min(photo.Rect.Max.Y-1, y)))
			sum += colour.Luminance(colour.Linear(c.R), colour.Linear(c.G), colour.Linear(c.B))
		}
	}
	return float32(math.Log(sum/(probes*probes) + darkestLight))
}

// smooth averages the known values around each cell of the head; round the clock there is no border.
func smooth(values, known []float32, sigma float64) ([]float32, error) {
	weighted := make([]float32, len(values))
	for i := range values {
		weighted[i] = values[i] * known[i]
	}
	sums, err := blurRound(weighted, sigma)
	if err != nil {
		return nil, err
	}
	counts, err := blurRound(known, sigma)
	if err != nil {
		return nil, err
	}
	for i := range sums {
		sums[i] /= max(counts[i], 1e-6)
	}
	return sums, nil
}

// blurRound blurs a map of the head whose last column is beside the first.
func blurRound(values []float32, sigma float64) ([]float32, error) {
	margin := int(math.Ceil(4 * sigma))
	wide := cv.Plane{Width: Columns + 2*margin, Height: HeadRows}
	for row := range HeadRows {
		line := values[row*Columns : (row+1)*Columns]
		wide.Pix = append(append(append(wide.Pix, line[Columns-margin:]...), line...), line[:margin]...)
	}
	blurred, err := cv.GaussianBlur(wide, sigma)
	if err != nil {
		return nil, err
	}
	out := make([]float32, 0, len(values))
	for row := range HeadRows {
		out = append(out, blurred.Pix[row*wide.Width+margin:][:Columns]...)
	}
	return out, nil
}
