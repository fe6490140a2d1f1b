package deposit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"valvegrade/pkg/colour"
)

// This is illumination normalisation. The light sits at the lens and falls off with distance and angle, so brightness
// as such means nothing. What bare metal would show is modelled as a smooth upper envelope: log luminance as a
// quadratic in x and y, fitted so that most of the valve lies below it (asymmetric least squares, Newey & Powell,
// Econometrica 55 (1987)). Crust, which is darker, then hardly pulls it down; a glint pulls no harder than a plain
// bright pixel (Huber).
//
// A quadratic has no place for patches: what is uniformly dark comes out bright, as it must, because a nitrided valve
// under a weak light and a plain one under a strong light look alike.
const (
	above        = 0.85 // weight of residuals above the envelope, below it 1 - above
	plainStep    = 0.5  // residual, in units of ln, from which on its pull no longer grows
	fitRounds    = 8
	fitPixels    = 1500
	ridge        = 1e-3 // per pixel of the fit
	darkestLight = 1e-4 // a third of the first 8-bit step: keeps the logarithm finite
)

// envelope are the terms of the quadratic, and last how far deposit lies below it, all in units of ln.
type envelope [7]float64

// evenOut divides the luminance by the envelope and finds the cast of the light. Classes play no part in it.
func (v *view) evenOut() {
	v.envelope = v.fitEnvelope(v.flat(), fitRounds, func(int) bool { return false })
	for y := range v.Height {
		v.evenRow(y)
	}
	v.balance = v.cast()
}

// evenRow divides a row by the envelope. Along a row that is the exponential of a quadratic, so each pixel's is the one
// before times a ratio, and each ratio the one before times a constant.
func (v *view) evenRow(y int) {
	first, second, third := -v.level(v.envelope, 0, y), -v.level(v.envelope, 1, y), -v.level(v.envelope, 2, y)
	gain, ratio, bend := math.Exp(first), math.Exp(second-first), math.Exp(third-2*second+first)
	row := v.Value[y*v.Width : (y+1)*v.Width]
	for x := range row {
		row[x] *= float32(gain)
		gain *= ratio
		ratio *= bend
	}
}

// flat returns the envelope of the brightest pixel, without fall-off; it holds for light not yet evened.
func (v *view) flat() envelope {
	top := float32(darkestLight)
	for _, i := range v.pixels {
		top = max(top, v.Value[i])
	}
	return envelope{math.Log(float64(top))}
}

// level returns the height of the envelope at a pixel.
func (v *view) level(e envelope, x, y int) float64 {
	a, b := v.centred(x, y)
	return e[0] + e[1]*a + e[2]*b + (e[3]*a+e[4]*b)*a + e[5]*b*b
}

// centred scales a pixel's place to about -1..1.
func (v *view) centred(x, y int) (a, b float64) {
	half := float64(max(v.Width, v.Height)) / 2
	return (float64(x) - float64(v.Width)/2) / half, (float64(y) - float64(v.Height)/2) / half
}

// observation is a pixel of the fit: the factors of the envelope's terms there, and its log luminance.
type observation struct {
	factors [7]float64
	log     float64
}

// fitEnvelope fits the envelope to the light as the camera saw it, from a first guess. Pixels for which lower holds may
// lie lower all together.
func (v *view) fitEnvelope(guess envelope, rounds int, lower func(i int) bool) envelope {
	sampled := v.sample(fitPixels)
	seen := make([]observation, 0, len(sampled))
	for _, i := range sampled {
		a, b := v.centred(i%v.Width, i/v.Width)
		o := observation{
			[7]float64{1, a, b, a * a, a * b, b * b, 0},
			math.Log(max(v.light[i].luminance(), darkestLight)),
		}
		if lower(i) {
			o.factors[6] = 1
		}
		seen = append(seen, o)
	}
	for range rounds {
		guess = fitOnce(seen, guess)
	}
	return guess
}

// fitOnce solves the least squares with weights from the residuals against the envelope so far. A light ridge holds
// terms that the valve's shape leaves open, such as the bend across a narrow stem.
func fitOnce(seen []observation, e envelope) envelope {
	const n = len(envelope{})
	var sums [n][n]float64
	var target [n]float64
	for i := range seen {
		o := &seen[i]
		residual := o.log
		for k, factor := range o.factors {
			residual -= e[k] * factor
		}
		weight := 1 - above
		if residual > 0 {
			weight = above
		}
		weight /= max(1, math.Abs(residual)/plainStep)
		for j, factor := range o.factors {
			if factor == 0 { // most often that of deposit
				continue
			}
			factor *= weight
			target[j] += factor * o.log
			row := &sums[j]
			for k := j; k < n; k++ {
				row[k] += factor * o.factors[k]
			}
		}
	}
	normal := mat.NewSymDense(n, nil)
	for j := range n {
		for k := j; k < n; k++ {
			normal.SetSym(j, k, sums[j][k])
		}
		if j > 0 {
			normal.SetSym(j, j, sums[j][j]+ridge*float64(len(seen)))
		}
	}
	var cholesky mat.Cholesky
	var solved mat.VecDense
	if !cholesky.Factorize(normal) || cholesky.SolveVecTo(&solved, mat.NewVecDense(n, target[:])) != nil {
		return e
	}
	return envelope(solved.RawVector().Data)
}

// The brightest twentieth of the evened valve is taken for its cleanest metal, and metal for grey; but a camera's own
// white balance is rarely further off than a third, so no channel is moved by more: a valve brown all over stays brown.
const (
	brightest = 0.05
	widest    = 1.33
)

// cast returns the gains by channel that make the cleanest metal grey.
func (v *view) cast() [3]float64 {
	const samples = 3000
	sampled := v.sample(samples)
	if len(sampled) == 0 {
		return [3]float64{1, 1, 1}
	}
	// Luminance is not negative, so its bits sort as it does; below them the place decides between equals.
	keys := make([]uint64, len(sampled))
	for k, i := range sampled {
		keys[k] = uint64(^math.Float32bits(v.Value[i]))<<32 | uint64(i)
	}
	slices.Sort(keys)
	var sums [3]float64
	for _, key := range keys[:1+int(brightest*float64(len(sampled)-1))] {
		i := uint32(key)
		l := v.light[i]
		sums[0], sums[1], sums[2] = sums[0]+float64(l.r), sums[1]+float64(l.g), sums[2]+float64(l.b)
	}
	grey := colour.Luminance(sums[0], sums[1], sums[2])
	var gains [3]float64
	for channel := range gains {
		gains[channel] = max(1/widest, min(widest, grey/max(sums[channel], 1e-12)))
	}
	return gains
}
