package photo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	// largestBlock is the side of the blocks that are searched for edges at full size.
	largestBlock = 16
	// levels is how often the picture is halved at most while looking for edges: wide edges are found where they are
	// two pixels wide, fine ones at full size.
	levels = 5
	// trusted is the largest edge variance, in pixels of the level squared, up to which the ratio of slopes is precise.
	trusted = 4.0
	// lens is the quantile of slope ratios that stands for the lens. Lower ones come from what is soft by itself (a
	// fillet, a shadow), higher ones from grains and lines narrower than the blur, which look sharper than edges do.
	lens = 0.4
	// fewest is how many edges a direction needs before its quantile means something.
	fewest = 8
	// directed is how many times the blur variance along the smear exceeds that across it before blur has a direction.
	directed = 2.5
)

// blur measures the width of the sharpest edges and the length of a smear, in pixels of the 640-pixel frame.
//
// The variance of an edge's blur depends on its direction n as nt B n, where B is the covariance of the blur: a round B
// is defocus, a long one a smear; a straight smear of length L adds the variance L2/12 along itself.
//
// grain is the frame's noise in codes.
func blur(f frame, grain float64) (sharpness, motion float64) {
	along, all := variances(f, grain)
	if math.IsNaN(all) {
		return math.NaN(), math.NaN()
	}
	sharpness, motion = math.Sqrt(all)*f.unit/float64(f.step), math.NaN()
	wide, narrow, ok := covariance(along)
	if !ok {
		return sharpness, motion
	}
	if wide <= directed*max(narrow, 0.25*float64(f.step*f.step)) {
		return sharpness, 0
	}
	toFrame := f.unit / float64(f.step)
	return math.Sqrt(narrow) * toFrame, math.Sqrt(12*(wide-narrow)) * toFrame
}

// variances returns the blur variance of the sharpest edges in photo pixels squared, for each direction and for all
// together, each from the finest level that can be trusted; NaN where there are too few edges.
func variances(f frame, grain float64) (along [bins]float64, all float64) {
	var estimates [bins + 1]estimate // the last is for all directions together
	for i := range estimates {
		estimates[i] = estimate{variance: math.NaN(), least: fewest}
	}
	estimates[bins].least = 3 * fewest
	p, block := f.plane, largestBlock
	for level := range levels {
		if level > 0 {
			p, block = p.half(), 8
			grain = noise(p)
		}
		var ratios [bins + 1][]float64
		for _, e := range p.edges(block, grain) {
			ratios[e.bin] = append(ratios[e.bin], e.ratio)
			ratios[bins] = append(ratios[bins], e.ratio)
		}
		open := false
		for i := range estimates {
			estimates[i].learn(ratios[i], float64(f.step<<level))
			open = open || !estimates[i].final
		}
		if !open {
			break
		}
	}
	for b := range along {
		along[b] = estimates[b].variance
	}
	return along, estimates[bins].variance
}

// estimate is a blur variance in photo pixels squared that becomes final at the first level whose pixels are coarse
// enough.
type estimate struct {
	variance float64
	least    int // edges needed
	final    bool
}

// learn takes in the slope ratios of a level whose pixels are that many photo pixels wide.
func (e *estimate) learn(ratios []float64, pixel float64) {
	if e.final || len(ratios) < e.least {
		return
	}
	slices.Sort(ratios)
	v := variance(quantile(ratios, lens))
	e.final = v <= trusted
	e.variance = max(0, pixel*pixel*v-(pixel*pixel-1)/12) // less what averaging photo pixels has added
}

// covariance fits nt B n to the variances by least squares and returns the eigenvalues of B; false when fewer than four
// directions were measured, which do not pin down its three numbers.
func covariance(along [bins]float64) (wide, narrow float64, ok bool) {
	// With n = (cos t, sin t): v = m + p cos 2t + q sin 2t, eigenvalues m +- hypot(p, q).
	var terms, seen []float64
	for b, v := range along {
		if math.IsNaN(v) {
			continue
		}
		sin, cos := math.Sincos(2 * math.Pi * float64(b) / bins)
		terms, seen = append(terms, 1, cos, sin), append(seen, v)
	}
	if len(seen) < 4 {
		return 0, 0, false
	}
	var fit mat.VecDense
	if fit.SolveVec(mat.NewDense(len(seen), 3, terms), mat.NewVecDense(len(seen), seen)) != nil {
		return 0, 0, false
	}
	m, p, q := fit.AtVec(0), fit.AtVec(1), fit.AtVec(2)
	amplitude := math.Hypot(p, q)
	return m + amplitude, max(0, m-amplitude), true
}
