package region

import (
	"math"
	"math/rand/v2"
	"slices"
)

const (
	// rimPoints is the least number of outline points for an ellipse, rimSectors the least number of the 36 sectors of
	// 10 degrees that they must be spread over: a shorter arc says little about the rest.
	rimPoints, rimSectors = 20, 14
	// rimDepth is how far, in cells, an outline point may lie inside the convex hull and still be rim.
	rimDepth = 1.0
	// straightShare of the hull's length is the longest side that can still be rim. Whatever hides a part of the head,
	// a tool or the lip of the guide, cuts it off along a longer one.
	straightShare = 0.15
	// rimMisfit is the largest root mean square of Level - 1 of the points used.
	rimMisfit = 0.06
	refits    = 5
	// draws of drawSize points each: with a third of the points off the rim, one draw in 17 is clean.
	draws, drawSize = 40, 7
)

// fitHead fits an ellipse to the visible rim of the head; nil when too little of a rim is seen. Where the guide, a tool
// or the edge of the photo hides the rim, the outline runs inside the convex hull or straight, and is not used.
func (p *proposal) fitHead() *Ellipse {
	cell := math.Max(p.CellWidth, p.CellHeight)
	candidates := nearHull(p.headOutline(), rimDepth*cell)
	e, err := steadyEllipse(candidates)
	rim := candidates
	for range refits {
		if err != nil || len(rim) < rimPoints {
			return nil
		}
		// Points off the curve by more than twice the typical misfit are not on the rim; half a cell is noise.
		off := e.distances(candidates)
		most := math.Max(2*median(off), 0.5*cell)
		rim = nil
		for i, q := range candidates {
			if off[i] <= most {
				rim = append(rim, q)
			}
		}
		e, err = FitEllipse(rim)
	}
	if err != nil || len(rim) < rimPoints || sectors(e, rim) < rimSectors || misfit(e, rim) > rimMisfit {
		return nil
	}
	return &e
}

// steadyEllipse returns the ellipse from which the median point is least off, of many fitted to a few points drawn at
// random (least median of squares, Rousseeuw 1984): up to half of the points may be off the rim without turning it. The
// draws are the same every time.
func steadyEllipse(points []Point) (best Ellipse, err error) {
	if len(points) < drawSize {
		return Ellipse{}, ErrNoFit
	}
	random := rand.New(rand.NewPCG(1984, drawSize))
	least := math.Inf(1)
	drawn := make([]Point, drawSize)
	judges := points
	if step := len(points) / rimPoints / 5; step > 1 { // a hundred points judge as well as all
		judges = every(points, step)
	}
	for range draws {
		for i := range drawn {
			drawn[i] = points[random.IntN(len(points))]
		}
		e, err := FitEllipse(drawn)
		if err != nil {
			continue
		}
		if off := median(e.distances(judges)); off < least {
			best, least = e, off
		}
	}
	if math.IsInf(least, 1) {
		return Ellipse{}, ErrNoFit
	}
	return best, nil
}

// every returns the first of each run of step points.
func every(points []Point, step int) []Point {
	var chosen []Point
	for i := 0; i < len(points); i += step {
		chosen = append(chosen, points[i])
	}
	return chosen
}

// headOutline returns the points where the head's logit falls below the background's between two neighbouring cells.
func (p *proposal) headOutline() []Point {
	var outline []Point
	var near neighbourhood
	for i, label := range p.label {
		if label != Head {
			continue
		}
		for _, j := range near.of(i, p.Cols, p.Rows, false) {
			if p.label[j] == Background {
				outline = append(outline, p.crossing(i, j))
			}
		}
	}
	return outline
}

// crossing returns where between the centres of a head cell and a background cell the two logits are equal.
func (p *proposal) crossing(head, background int) Point {
	inside := float64(p.logit[Head][head] - p.logit[Background][head])
	outside := float64(p.logit[Background][background] - p.logit[Head][background])
	share := 0.5
	if inside+outside > 0 {
		share = inside / (inside + outside)
	}
	from := p.centre(head)
	return from.plus(p.centre(background).minus(from).times(share))
}

// nearHull returns the points that lie within depth of the convex hull of all, other than on its long straight sides.
func nearHull(points []Point, depth float64) []Point {
	corners := hull(points)
	sides, around := make([]float64, len(corners)), 0.0
	for k, corner := range corners {
		sides[k] = corners[(k+1)%len(corners)].minus(corner).length()
		around += sides[k]
	}
	return slices.DeleteFunc(points, func(q Point) bool {
		for k, corner := range corners {
			if sides[k] <= straightShare*around && toSegment(q, corner, corners[(k+1)%len(corners)]) <= depth {
				return false
			}
		}
		return true
	})
}

// median returns the middle value, of an even number the upper of the two.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	return sorted[len(sorted)/2]
}

// misfit returns the root mean square of Level - 1.
func misfit(e Ellipse, points []Point) float64 {
	sum, circle := 0.0, e.circle()
	for _, q := range points {
		sum += math.Pow(circle.of(q).length()-1, 2)
	}
	return math.Sqrt(sum / float64(len(points)))
}

// sectors counts the 36 sectors of 10 degrees that hold points.
func sectors(e Ellipse, points []Point) int {
	var seen [36]bool
	count, circle := 0, e.circle()
	for _, q := range points {
		c := circle.of(q)
		k := int((math.Atan2(c.Y, c.X)/(2*math.Pi)+1)*36) % 36
		if !seen[k] {
			seen[k], count = true, count+1
		}
	}
	return count
}
