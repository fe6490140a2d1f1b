package deposit

import (
	"math"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/pkg/texture"
)

// traits are what the formula sees of a valve, in tiles of 16 x 16 working pixels.
type traits struct {
	// relief is how much the luminance changes over 4 working pixels in the direction in which it changes least, as a
	// share, in octaves: the mean over the tiles. -10 and up; of the photos named in formula.go, bare valves have -5.7,
	// crusted ones -4.9 in the middle.
	relief float64
	// sheen is how far the brightest tiles lie above the middle one, in stops, the light's fall-off taken out: 0 and
	// up, 1.1 and 0.7.
	sheen float64
	// size is the side of a square as large as the readable valve, in octaves above 256 working pixels: the closer the
	// camera, the larger the grains and the gentler their slopes.
	size float64
	// tint is how far the tiles' colours lie from grey towards brown and yellow, in units of CIELAB: the mean over the
	// tiles.
	tint float64
}

const (
	// tileSide is that of a tile in pixels of the coarse plane.
	tileSide = 4
	// fewestSlopes is the least number of slopes from which a direction is taken.
	fewestSlopes = 4
	// leastRelief keeps logarithms finite: cameras show no such small share.
	leastRelief = 1e-3
	// brightTiles is the share of tiles that are not among the brightest: the last few may be edges.
	brightTiles = 0.97
)

// traits measures the readable valve; ok is false when it is too small for that.
func (v *view) traits(r relief) (t traits, ok bool) {
	tiles := r.coarsePlane.Reduce(tileSide)
	var stops []float64
	rough := 0
	for i, in := range tiles.Inside {
		if !in {
			continue
		}
		left, top := i%tiles.Width*tileSide, i/tiles.Width*tileSide
		stops = append(stops, math.Log2(max(float64(tiles.Value[i]), darkestLight)))
		t.tint += v.tint(left*coarser, top*coarser)
		if s := slopesOf(r, left, top); s.count >= fewestSlopes {
			t.relief += math.Log2(math.Hypot(s.weakest(), leastRelief))
			rough++
		}
	}
	if rough == 0 {
		return traits{}, false
	}
	slices.Sort(stops)
	t.relief /= float64(rough)
	t.sheen = number.Quantile(stops, brightTiles) - number.Quantile(stops, 0.5)
	t.size = math.Log2(math.Sqrt(float64(len(v.pixels))) / 256)
	t.tint /= float64(len(stops))
	return t, true
}

// slopes sums the products of the slopes to the right and down: the structure tensor (Bigun & Granlund, "Optimal
// orientation detection of linear symmetry", ICCV 1987).
type slopes struct {
	right, down, both float64
	count             int
}

// slopesOf takes the slopes of a tile, as shares of the luminance per coarse pixel, where all four neighbours are
// inside.
func slopesOf(r relief, left, top int) (s slopes) {
	plane, detail := r.coarsePlane, r.coarse
	for y := max(1, top); y < min(plane.Height-1, top+tileSide); y++ {
		for x := max(1, left); x < min(plane.Width-1, left+tileSide); x++ {
			i := y*plane.Width + x
			before, after, above, below := i-1, i+1, i-plane.Width, i+plane.Width
			if !(plane.Inside[i] && plane.Inside[before] && plane.Inside[after] && plane.Inside[above] && plane.Inside[below]) {
				continue
			}
			twice := 2 * max(float64(detail.Base[i]), darkestLight)
			right := (blurred(detail, after) - blurred(detail, before)) / twice
			down := (blurred(detail, below) - blurred(detail, above)) / twice
			s.right, s.down, s.both = s.right+right*right, s.down+down*down, s.both+right*down
			s.count++
		}
	}
	return s
}

// blurred is the luminance without the detail finer than the band, most of it noise.
func blurred(d texture.Detail, i int) float64 { return float64(d.Band[i]) + float64(d.Base[i]) }

// weakest is the root mean square of the slopes in the direction in which they are least: the root of the tensor's
// smaller eigenvalue.
func (s slopes) weakest() float64 {
	least := (s.right + s.down - math.Hypot(s.right-s.down, 2*s.both)) / 2
	return math.Sqrt(max(0, least) / float64(s.count))
}

// tint is the distance from grey of a tile's mean colour as far as it leans to red and yellow.
func (v *view) tint(left, top int) float64 {
	const side = tileSide * coarser
	var sum light
	var evened, count float32
	for y := top; y < top+side; y++ {
		at := y*v.Width + left
		inside, seen, luminance := (*[side]bool)(
			v.Inside[at:],
		), (*[side]light)(
			v.light[at:],
		), (*[side]float32)(
			v.Value[at:],
		)
		for x, in := range inside {
			if in {
				sum.r, sum.g, sum.b = sum.r+seen[x].r, sum.g+seen[x].g, sum.b+seen[x].b
				evened += luminance[x]
				count++
			}
		}
	}
	lab := v.lab(sum, float64(evened)/max(sum.luminance(), 1e-12)/float64(count))
	return math.Hypot(max(0, lab.A), max(0, lab.B))
}
