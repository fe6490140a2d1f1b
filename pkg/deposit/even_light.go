package deposit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"valvegrade/pkg/colour"
)

// The light sits at the lens and falls off with distance and angle, so brightness as such means nothing. What bare metal would
// show is modelled as a smooth upper envelope: log luminance as a quadratic in x and y, fitted so that most of the
// valve lies below it (asymmetric least squares, Newey & Powell, Econometrica 55 (1987)). Crust, which is darker, then
// hardly pulls it down; a glint pulls no harder than a plain bright pixel (Huber).
//
// A quadratic has no place for patches: what is uniformly dark comes out bright, as it must, because a nitrided valve under
// a weak light and a plain one under a strong light look alike.
const (
	above        = 0.85 // weight of residuals above the envelope, below it 1 - above
	plainStep    = 0.5  // residual, in units of ln, from which on its pull no longer grows
	fitRounds    = 10
	fitPixels    = 3000
	ridge        = 1e-3 // per pixel of the fit
	darkestLight = 1e-4 // a third of the first 8-bit step: keeps the logarithm finite
)

// envelope are the terms of the quadratic, and last how far deposit lies below it, all in units of ln.
type envelope [7]float64

// evenOut divides the light by the envelope and takes out the cast of the light. Classes play no part in it.
func (v *view) evenOut() {
	v.envelope = v.fitEnvelope(func(int) bool { return false })
	for i, in := range v.inside {
		if !in {
			continue
		}
		gain := float32(math.Exp(-v.level(v.envelope, i)))
		v.luminance[i] *= gain
		for channel := range v.light {
			v.light[channel][i] *= gain
		}
	}
	v.takeOutCast()
}

// level returns the height of the envelope at a pixel.
func (v *view) level(e envelope, i int) float64 {
	level := 0.0
	for k, factor := range v.quadratic(i) {
		level += e[k] * factor
	}
	return level
}

// quadratic returns 1, x, y, x^2, xy, y^2 with x and y scaled to about -1..1.
func (v *view) quadratic(i int) [6]float64 {
	half := float64(max(v.width, v.height)) / 2
	x, y := (float64(i%v.width)-float64(v.width)/2)/half, (float64(i/v.width)-float64(v.height)/2)/half
	return [6]float64{1, x, y, x * x, x * y, y * y}
}

// observation is a pixel of the fit: the factors of the envelope's terms there, and its log luminance.
type observation struct {
	factors [7]float64
	log     float64
}

// fitEnvelope fits the envelope to the light as the camera saw it. Pixels for which lower holds may lie lower all together.
func (v *view) fitEnvelope(lower func(i int) bool) envelope {
	var seen []observation
	step, next := max(1, v.pixels()/fitPixels), 0
	for i, in := range v.inside {
		if !in {
			continue
		}
		if next++; next%step != 0 {
			continue
		}
		o := observation{log: math.Log(max(float64(v.seen[i]), darkestLight))}
		q := v.quadratic(i)
		copy(o.factors[:], q[:])
		if lower(i) {
			o.factors[6] = 1
		}
		seen = append(seen, o)
	}
	var e envelope
	e[0] = math.Inf(-1)
	for _, o := range seen {
		e[0] = max(e[0], o.log)
	}
	for range fitRounds {
		e = fitOnce(seen, e)
	}
	return e
}

// fitOnce solves the least squares with weights from the residuals against the envelope so far. A light ridge holds terms that
// the valve's shape leaves open, such as the bend across a narrow stem.
func fitOnce(seen []observation, e envelope) envelope {
	const n = len(envelope{})
	var sums [n][n]float64
	var target [n]float64
	for _, o := range seen {
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
			target[j] += weight * factor * o.log
			for k := j; k < n; k++ {
				sums[j][k] += weight * factor * o.factors[k]
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

// The brightest twentieth of the evened valve is taken for its cleanest metal, and metal for grey; but a camera's own white
// balance is rarely further off than a third, so no channel is moved by more: a valve brown all over stays brown.
const (
	brightest = 0.05
	widest    = 1.33
)

func (v *view) takeOutCast() {
	var levels []float32
	for i, in := range v.inside {
		if in && i%5 == 0 {
			levels = append(levels, v.luminance[i])
		}
	}
	if len(levels) == 0 {
		return
	}
	slices.Sort(levels)
	least := levels[int(float64(len(levels)-1)*(1-brightest))]
	var sums [3]float64
	for i, in := range v.inside {
		if in && v.luminance[i] >= least {
			for channel := range sums {
				sums[channel] += float64(v.light[channel][i])
			}
		}
	}
	grey := colour.Luminance(sums[0], sums[1], sums[2])
	for channel := range sums {
		gain := float32(max(1/widest, min(widest, grey/max(sums[channel], 1e-12))))
		for i := range v.light[channel] {
			v.light[channel][i] *= gain
		}
	}
}
