package region

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// FitEllipse returns the ellipse through five or more points by direct least squares: Fitzgibbon, Pilu & Fisher 1999
// ("Direct least square fitting of ellipses"), in the stable form of Halir & Flusser 1998. The fit never turns into a
// hyperbola; on short noisy arcs it leans to smaller ellipses. Points on a line, or fewer than five, give ErrNoFit.
func FitEllipse(points []Point) (Ellipse, error) {
	if len(points) < 5 {
		return Ellipse{}, ErrNoFit
	}
	// Centred and scaled points keep the sums of fourth powers well conditioned.
	centre, spread := mean(points), 0.0
	for _, p := range points {
		spread += p.minus(centre).length()
	}
	scale := float64(len(points)) / spread
	if math.IsInf(scale, 0) || math.IsNaN(scale) {
		return Ellipse{}, ErrNoFit
	}
	unit := make([]Point, len(points))
	for i, p := range points {
		unit[i] = p.minus(centre).times(scale)
	}
	conic, ok := fitConic(unit)
	if !ok {
		return Ellipse{}, ErrNoFit
	}
	e, ok := conic.ellipse()
	if !ok {
		return Ellipse{}, ErrNoFit
	}
	e.X, e.Y, e.A, e.B = e.X/scale+centre.X, e.Y/scale+centre.Y, e.A/scale, e.B/scale
	return e, nil
}

// conic is the curve a x^2 + b xy + c y^2 + d x + e y + f = 0.
type conic struct{ a, b, c, d, e, f float64 }

// fitConic solves the reduced eigenproblem of Halir & Flusser: S1, S2, S3 are their blocks of the scatter matrix.
func fitConic(points []Point) (conic, bool) {
	s1, s2, s3 := mat.NewDense(3, 3, nil), mat.NewDense(3, 3, nil), mat.NewDense(3, 3, nil)
	for _, p := range points {
		quadratic := [3]float64{p.X * p.X, p.X * p.Y, p.Y * p.Y}
		linear := [3]float64{p.X, p.Y, 1}
		for i := range 3 {
			for j := range 3 {
				s1.Set(i, j, s1.At(i, j)+quadratic[i]*quadratic[j])
				s2.Set(i, j, s2.At(i, j)+quadratic[i]*linear[j])
				s3.Set(i, j, s3.At(i, j)+linear[i]*linear[j])
			}
		}
	}
	var t, m, reduced mat.Dense
	if t.Solve(s3, s2.T()) != nil { // singular, or so close to it that the points are on a line
		return conic{}, false
	}
	t.Scale(-1, &t)
	m.Mul(s2, &t)
	m.Add(s1, &m)
	constraint := mat.NewDense(3, 3, []float64{0, 0, 0.5, 0, -1, 0, 0.5, 0, 0}) // inverse of 4ac - b^2
	reduced.Mul(constraint, &m)
	return ellipticSolution(&reduced, &t)
}

// ellipticSolution picks the eigenvector that is an ellipse, 4ac - b^2 > 0, and adds the linear part t*quadratic.
func ellipticSolution(reduced, t *mat.Dense) (conic, bool) {
	var eigen mat.Eigen
	if !eigen.Factorize(reduced, mat.EigenRight) {
		return conic{}, false
	}
	var vectors mat.CDense
	eigen.VectorsTo(&vectors)
	best, found := conic{}, 0.0
	for k := range 3 {
		a, b, c := real(vectors.At(0, k)), real(vectors.At(1, k)), real(vectors.At(2, k))
		if elliptic := 4*a*c - b*b; elliptic > found {
			found = elliptic
			linear := func(i int) float64 { return t.At(i, 0)*a + t.At(i, 1)*b + t.At(i, 2)*c }
			best = conic{a, b, c, linear(0), linear(1), linear(2)}
		}
	}
	return best, found > 0
}

// ellipse returns centre, semi-axes and angle, false when the curve is empty or a single point.
func (q conic) ellipse() (Ellipse, bool) {
	elliptic := 4*q.a*q.c - q.b*q.b
	x := (q.b*q.e - 2*q.c*q.d) / elliptic
	y := (q.b*q.d - 2*q.a*q.e) / elliptic
	atCentre := q.f + (q.d*x+q.e*y)/2
	spread := math.Hypot(q.a-q.c, q.b)
	first := math.Sqrt(-2 * atCentre / (q.a + q.c + spread)) // along the angle below
	second := math.Sqrt(-2 * atCentre / (q.a + q.c - spread))
	angle := 0.5 * math.Atan2(q.b, q.a-q.c) * 180 / math.Pi
	e := Ellipse{x, y, first, second, angle}.ordered()
	return e, e.B > 0 && !math.IsInf(e.A, 0) && !math.IsNaN(e.A+e.B+x+y)
}
