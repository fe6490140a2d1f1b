package compare

import (
	"image"
	"image/color"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
)

// A drawn valve in a frame of 480 x 480, from a view that any test may change. Figures have intervals of ±4 points, all
// of which two photos share.
type drawn struct {
	rim  region.Ellipse
	stem *region.Line
	// class is what lies on the valve at a clock angle in degrees and a radius of the head.
	class func(angle, radius float64) uint8
}

const side = 480

// plainView shows the whole head tilted by 40 degrees, with the stem up.
func plainView(class func(angle, radius float64) uint8) drawn {
	return drawn{
		rim:  region.Ellipse{X: 240, Y: 270, A: 160, B: 160 * math.Cos(40*math.Pi/180)},
		stem: &region.Line{X1: 240, Y1: 20, X2: 240, Y2: 230, Width: 56}, class: class,
	}
}

// patches are islands of heavy crust on bare metal with a film at the rim: a pattern that fits itself at one turn only.
func patches(angle, radius float64) uint8 {
	for _, p := range [][3]float64{{35, 0.7, 0.12}, {80, 0.85, 0.08}, {120, 0.5, 0.14}, {190, 0.75, 0.16}, {215, 0.45, 0.07}, {300, 0.8, 0.1}} {
		sin, cos := math.Sincos(p[0] * math.Pi / 180)
		s, c := math.Sincos(angle * math.Pi / 180)
		if math.Hypot(radius*s-p[1]*sin, radius*c-p[1]*cos) < p[2] {
			return deposit.Heavy
		}
	}
	if radius > 0.92 {
		return deposit.Film
	}
	return deposit.Bare
}

// all is the same class everywhere.
func all(class uint8) func(float64, float64) uint8 {
	return func(float64, float64) uint8 { return class }
}

// turned shows the valve turned clockwise.
func turned(class func(angle, radius float64) uint8, degrees float64) func(float64, float64) uint8 {
	return func(angle, radius float64) uint8 { return class(math.Mod(angle-degrees+720, 360), radius) }
}

// brightness of the classes in drawn photos, 8-bit.
var brightness = map[uint8]uint8{deposit.Bare: 190, deposit.Film: 140, deposit.Medium: 80, deposit.Heavy: 40}

// result is what scoring a perfectly read photo of the valve gives.
func (d drawn) result(name string) *score.Result {
	frame := image.Rect(0, 0, side, side)
	pixels, mask, classes := image.NewNRGBA(frame), image.NewGray(frame), image.NewGray(frame)
	u := region.NewUnwrap(d.rim, d.stem)
	for y := range side {
		for x := range side {
			p := region.Point{X: float64(x), Y: float64(y)}
			shade, class, label := uint8(100), deposit.NotValve, region.Background
			angle, radius := u.Head(p)
			switch {
			case d.onStem(p):
				label, class = region.Stem, d.class(180, 0)
			case radius <= 1:
				label, class = region.Head, d.class(angle, radius)
			}
			if label != region.Background {
				shade = brightness[class]
			}
			pixels.SetNRGBA(x, y, color.NRGBA{shade, shade, shade, 0xff})
			mask.SetGray(x, y, color.Gray{Y: label})
			classes.SetGray(x, y, color.Gray{Y: class})
		}
	}
	return resultOf(name, pixels, mask, classes, &d.rim, d.stem)
}

// onStem reports whether a pixel lies on the stem.
func (d drawn) onStem(p region.Point) bool {
	if d.stem == nil {
		return false
	}
	dx, dy := d.stem.X1-d.stem.X2, d.stem.Y1-d.stem.Y2
	length := math.Hypot(dx, dy)
	along := ((p.X-d.stem.X2)*dx + (p.Y-d.stem.Y2)*dy) / length
	across := ((p.X-d.stem.X2)*dy - (p.Y-d.stem.Y2)*dx) / length
	return along >= 0 && math.Abs(across) <= d.stem.Width/2
}

// resultOf puts a scored result together from a photo and the maps of what is on it.
func resultOf(
	name string,
	pixels *image.NRGBA,
	mask, classes *image.Gray,
	rim *region.Ellipse,
	stem *region.Line,
) *score.Result {
	shares := countClasses(classes)
	around := func(v float64) measure.Figure {
		return measure.Figure{Value: v, Low: max(0, v-4), High: min(100, v+4)}
	}
	reading := measure.Reading{
		Index: around(shares.Index()), Dark: around(shares.Dark()), Coverage: around(shares.Coverage()),
	}
	size := pixels.Rect.Size()
	return &score.Result{
		Name: name, Label: name, SHA256: name, Version: "1+net.test", Valve: 1, Valves: 1, Width: size.X, Height: size.Y, Status: score.Scored, Grade: grade.Of(reading.Index, grade.Probabilities{}),
		Photo:  &photo.Photo{Name: name, Pixels: pixels, Width: size.X, Height: size.Y},
		Region: &region.Region{Mask: mask, Ellipse: rim, Axis: stem, Confidence: 1, Source: region.Auto},
		Deposit: &deposit.Deposit{
			Map: classes, Both: deposit.Figures{Shares: shares, Reading: reading}, Draws: drawsAround(reading, 1),
		},
	}
}

// drawsAround are two draws to each side, 2 points off, which intervals of ±4 points stand for; places 1 and 2 share
// nothing with each other, and all with themselves.
func drawsAround(r measure.Reading, place int) deposit.Draws {
	d := deposit.Draws{Weight: []float64{1, 1, 1, 1}}
	for i := range 4 {
		sign := []float64{1, -1}[i/place%2]
		off := 2 * sign
		d.Index = append(d.Index, r.Index.Value+off)
		d.Dark = append(d.Dark, r.Dark.Value+off)
		d.Coverage = append(d.Coverage, r.Coverage.Value+off)
	}
	return d
}

// drawnMap is the map of a valve that could not be rolled out: the draws alone.
func drawnMap(t testing.TB, d deposit.Draws) *unroll.Map {
	t.Helper()
	m, err := (&unroll.Map{Draws: d}).Pack().Map()
	require.NoError(t, err)
	return m
}

func countClasses(classes *image.Gray) measure.Shares {
	var weights [4]float64
	for _, class := range classes.Pix {
		if class <= deposit.Heavy {
			weights[class]++
		}
	}
	return measure.SharesOf(weights)
}

// refusedResult is that of a photo that could not be judged.
func refusedResult(name string) *score.Result {
	return &score.Result{
		Name:    name,
		Valve:   1,
		Valves:  1,
		Status:  score.Refused,
		Version: "1+net.test",
		Reasons: []reason.Reason{reason.Of(reason.Blurred)},
	}
}

// exact takes all doubt but that of the draws out of a comparison, so that tests do not hang on what was measured
// last.
var exact = Options{Repeatability: &Repeatability{}}

func compareResults(t *testing.T, before, after *score.Result, o Options) *Comparison {
	t.Helper()
	return Views(viewOf(t, before), viewOf(t, after), o)
}

// viewOf is the view of a result that was scored for comparing.
func viewOf(t testing.TB, r *score.Result) *View {
	t.Helper()
	record := recordOf(t, r)
	return NewView(&record)
}

// recordOf maps the valve as scoring does.
func recordOf(t testing.TB, r *score.Result) score.Record {
	t.Helper()
	if r.Status == score.Scored {
		flat, err := unroll.Of(r.Photo, r.Region, r.Deposit)
		require.NoError(t, err)
		r.Map = flat.Pack()
	}
	return r.Record()
}

// readGray reads a mask of the demo photos.
func readGray(t *testing.T, path string) *image.Gray {
	t.Helper()
	mask, err := score.ReadMask(path)
	require.NoError(t, err)
	return mask
}

// demo returns the result that a perfect reader would give of a demo photo: photo and true masks from testdata, with
// the geometry given.
func demo(t *testing.T, name string, rim region.Ellipse, stem region.Line) *score.Result {
	t.Helper()
	base := filepath.Join("..", "..", "testdata", name)
	p, err := photo.Read(base+".jpg", photo.Limits{})
	require.NoError(t, err)
	return resultOf(name, p.Pixels, readGray(t, base+".region.png"), readGray(t, base+".deposit.png"), &rim, &stem)
}
