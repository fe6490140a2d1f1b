package colour

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// known is sRGB with its XYZ and CIELAB (D65, 2 degrees) as scikit-image 0.19.3 gives them.
var known = []struct {
	name string
	srgb [3]uint8
	xyz  XYZ
	lab  Lab
}{
	{"white", [3]uint8{255, 255, 255}, XYZ{.9505, 1, 1.0888}, Lab{100, -0.0025, 0.0047}},
	{"red", [3]uint8{255, 0, 0}, XYZ{.4125, .2127, .0193}, Lab{53.2406, 80.0923, 67.2028}},
	{"green", [3]uint8{0, 255, 0}, XYZ{.3576, .7152, .1192}, Lab{87.7351, -86.1830, 83.1797}},
	{"blue", [3]uint8{0, 0, 255}, XYZ{.1804, .0722, .9502}, Lab{32.2957, 79.1856, -107.8573}},
	{"cyan", [3]uint8{0, 255, 255}, XYZ{.5380, .7873, 1.0694}, Lab{91.1133, -48.0906, -14.1263}},
	{"magenta", [3]uint8{255, 0, 255}, XYZ{.5929, .2848, .9696}, Lab{60.3235, 98.2331, -60.8210}},
	{"yellow", [3]uint8{255, 255, 0}, XYZ{.7700, .9278, .1385}, Lab{97.1395, -21.5547, 94.4781}},
	{"grey 128", [3]uint8{128, 128, 128}, XYZ{.2052, .2159, .2350}, Lab{53.5850, -0.0015, 0.0028}},
	{"grey 119", [3]uint8{119, 119, 119}, XYZ{.1753, .1845, .2008}, Lab{50.0344, -0.0014, 0.0026}},
	{"grey 64", [3]uint8{64, 64, 64}, XYZ{.0487, .0513, .0558}, Lab{27.0934, -0.0009, 0.0017}},
	{"grey 32", [3]uint8{32, 32, 32}, XYZ{.0137, .0144, .0157}, Lab{12.2500, -0.0006, 0.0011}},
	{"soot", [3]uint8{30, 26, 22}, XYZ{.0105, .0107, .0091}, Lab{9.5834, 1.0708, 3.4983}},
	{"umber", [3]uint8{96, 72, 48}, XYZ{.0767, .0734, .0381}, Lab{32.5586, 6.8099, 18.3220}},
	{"sand", [3]uint8{194, 178, 128}, XYZ{.4207, .4487, .2686}, Lab{72.8062, -1.7507, 27.6793}},
	{"steel", [3]uint8{168, 170, 173}, XYZ{.3806, .4009, .4526}, Lab{69.5345, -0.1339, -1.7850}},
}

// assertLab allows what the digits of the two libraries' matrices and whites make: 0.01.
func assertLab(t *testing.T, want, got Lab, name string) {
	t.Helper()
	assert.InDelta(t, want.L, got.L, 0.01, "L of %s", name)
	assert.InDelta(t, want.A, got.A, 0.01, "a of %s", name)
	assert.InDelta(t, want.B, got.B, 0.01, "b of %s", name)
}

func TestLabOfKnownColours(t *testing.T) {
	for _, k := range known {
		xyz := XYZOf(Linear(k.srgb[0]), Linear(k.srgb[1]), Linear(k.srgb[2]))
		assert.InDelta(t, k.xyz.X, xyz.X, 2e-4, "X of %s: four printed decimals, two matrices", k.name)
		assert.InDelta(t, k.xyz.Y, xyz.Y, 2e-4, "Y of %s", k.name)
		assert.InDelta(t, k.xyz.Z, xyz.Z, 2e-4, "Z of %s", k.name)
		assertLab(t, k.lab, LabOf(k.srgb[0], k.srgb[1], k.srgb[2]), k.name)
	}
}

func TestGreysHaveNoChroma(t *testing.T) {
	for code := 0; code < 256; code++ {
		// The white is rounded to seven digits.
		assert.InDelta(t, 0, LabOf(uint8(code), uint8(code), uint8(code)).Chroma(), 1e-4)
	}
}

// CIE 15:2004: L* of 18 % grey, and of the knee of the curve.
func TestLightnessOfKnownLuminances(t *testing.T) {
	assert.InDelta(t, 49.4961, Lightness(0.18), 1e-3, "the table's own limit")
	assert.InDelta(t, 8.000, Lightness(0.008856), 1e-3)
	assert.InDelta(t, 100, Lightness(1), 1e-9)
	assert.Greater(t, Lightness(1.5), 100.0)
	assert.True(t, math.IsNaN(Lightness(math.NaN())))
}

func TestTheTableIsAsGoodAsItSays(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		// Squares put half of the samples below a quarter of the light, where the curve bends most.
		r, g, b := square(random.Float64()), square(random.Float64()), square(random.Float64())
		exact, quick := XYZOf(r, g, b).Lab(D65), LabOfLight(r, g, b)
		assert.InDelta(t, exact.L, quick.L, 0.001)
		assert.InDelta(t, exact.A, quick.A, 0.005)
		assert.InDelta(t, exact.B, quick.B, 0.005)
	}
}

func square(x float64) float64 { return x * x }

func TestChartInSRGBMatchesItsSheets(t *testing.T) {
	for _, p := range chart {
		want := bradfordToD65(p.d50).Lab(D65)
		// A step of one code in a dark patch is 0.7 units; 1 is just visible side by side.
		assert.Less(t, CIEDE2000(want, LabOf(p.srgb[0], p.srgb[1], p.srgb[2])), 1.0, p.name)
	}
}

// bradfordToD65 returns the tristimulus values under D65 of a colour given as CIELAB under D50. The combined matrix is
// the Bradford adaptation of ICC.1 from D50 (0.96422, 1, 0.82521) to D65.
func bradfordToD65(c Lab) XYZ {
	y := (c.L + 16) / 116
	x, z := y+c.A/500, y-c.B/200
	d50 := XYZ{0.96422 * uncurve(x), uncurve(y), 0.82521 * uncurve(z)}
	return XYZ{
		0.9555766*d50.X - 0.0230393*d50.Y + 0.0631636*d50.Z,
		-0.0282895*d50.X + 1.0099416*d50.Y + 0.0210077*d50.Z,
		0.0122982*d50.X - 0.0204830*d50.Y + 1.3299098*d50.Z,
	}
}

func uncurve(f float64) float64 {
	if f > 6.0/29 {
		return f * f * f
	}
	return (f - 16.0/116) / kneeSlope
}

func BenchmarkLabOfLight(b *testing.B) {
	for i := range b.N {
		light := float64(i%1000) / 1000
		LabOfLight(light, light/2, light/3)
	}
}
