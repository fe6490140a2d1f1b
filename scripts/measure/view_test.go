package main

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// plain is a view that changes nothing but its frame.
func plain(crop image.Rectangle, degrees float64) view {
	return view{crop: crop, turn: degrees * math.Pi / 180, gamma: 1, gains: [3]float64{1, 1, 1}, quality: 90}
}

// angular is a mask of two parts, no side of which is like another, and the photo of it: part 1 red, part 2 blue.
func angular() (*image.Gray, *image.NRGBA) {
	mask, photo := image.NewGray(image.Rect(0, 0, 1500, 1200)), image.NewNRGBA(image.Rect(0, 0, 1500, 1200))
	for y := range 1200 {
		for x := range 1500 {
			colour, at := color.NRGBA{90, 90, 90, 255}, image.Pt(x, y)
			switch {
			case at.In(image.Rect(0, 700, 310, 810)), at.In(image.Rect(200, 300, 310, 810)):
				mask.Pix[y*mask.Stride+x], colour = 1, color.NRGBA{255, 0, 0, 255}
			case at.In(image.Rect(310, 300, 600, 420)):
				mask.Pix[y*mask.Stride+x], colour = 2, color.NRGBA{0, 0, 255, 255}
			}
			photo.SetNRGBA(x, y, colour)
		}
	}
	return mask, photo
}

func TestAMaskIsCarriedToWhereThePixelsWent(t *testing.T) {
	mask, photo := angular()
	margined := mirrored(photo)
	for _, v := range []view{
		plain(image.Rect(0, 0, 1500, 1200), 0), plain(image.Rect(100, 200, 800, 760), 0), plain(image.Rect(100, 200, 800, 760), 12),
		plain(image.Rect(130, 120, 1400, 1136), -9), plain(image.Rect(0, 0, 1500, 1200), -12),
	} {
		drawn, carried := v.of(margined), v.carried(mask)
		require.Equal(t, drawn.Rect, carried.Rect)
		assert.LessOrEqual(t, max(drawn.Rect.Dx(), drawn.Rect.Dy()), 900)
		back := v.fromPhoto()
		det := back[0]*back[4] - back[1]*back[3]
		pure := 0
		for y := range drawn.Rect.Dy() {
			for x := range drawn.Rect.Dx() {
				dx, dy := float64(x)+0.5-back[2], float64(y)+0.5-back[5]
				px, py := (back[4]*dx-back[1]*dy)/det, (back[0]*dy-back[3]*dx)/det
				want := uint8(0)
				switch drawn.NRGBAAt(x, y) {
				case color.NRGBA{255, 0, 0, 255}:
					want = 1
				case color.NRGBA{0, 0, 255, 255}:
					want = 2
				case color.NRGBA{90, 90, 90, 255}:
				default: // the edge of a part
					continue
				}
				if px < 0 || py < 0 || px >= 1500 || py >= 1200 { // mirrored pixels are no valve
					want = 0
				}
				if want > 0 {
					pure++
				}
				if got := carried.GrayAt(x, y).Y; got != want {
					t.Fatalf("%v turned by %.2f: %d at %d, %d, and the photo shows %d", v.crop, v.turn, got, x, y, want)
				}
			}
		}
		assert.Greater(t, pure, 10000)
	}
}

func TestAViewThatChangesNothingShowsItsCrop(t *testing.T) {
	mask, photo := angular()
	v := plain(image.Rect(100, 200, 800, 760), 0)
	assert.Equal(t, part(mask, v.crop).Pix, v.carried(mask).Pix)
	assert.Equal(t, photo.NRGBAAt(300, 500), v.of(mirrored(photo)).NRGBAAt(200, 300))
}

func TestExposureOfAView(t *testing.T) {
	photo := image.NewNRGBA(image.Rect(0, 0, 200, 160))
	for i := 0; i < len(photo.Pix); i += 4 {
		copy(photo.Pix[i:], []uint8{51, 102, 204, 255})
	}
	v := plain(photo.Rect, 0)
	v.gamma, v.gains = 2, [3]float64{1, 0.5, 2}
	// (51/255)^2 = 0.04, 0.5 (102/255)^2 = 0.08, 2 (204/255)^2 = 1.28
	assert.Equal(t, color.NRGBA{10, 20, 255, 255}, v.of(mirrored(photo)).NRGBAAt(100, 80))
}

func TestViewsAtRandomHoldTheValve(t *testing.T) {
	random, frame := rand.New(rand.NewPCG(1, 1)), image.Rect(0, 0, 1280, 800)
	for _, valve := range []image.Rectangle{
		image.Rect(600, 300, 800, 500), image.Rect(0, 0, 900, 100), image.Rect(1200, 700, 1280, 800), frame,
	} {
		turned := 0
		for range 400 {
			v := anyView(random, frame, valve)
			require.True(t, valve.In(v.crop) && v.crop.In(frame), "%v in %v", valve, v.crop)
			for _, side := range [][3]int{{v.crop.Dx(), frame.Dx(), valve.Dx()}, {v.crop.Dy(), frame.Dy(), valve.Dy()}} {
				least := min(1, max(0.35, 1.15*float64(side[2])/float64(side[1])))
				require.Greater(t, float64(side[0]), least*float64(side[1])-1)
			}
			require.LessOrEqual(t, math.Abs(v.turn), 12*math.Pi/180)
			if v.turn != 0 {
				turned++
			}
		}
		assert.InDelta(t, 200, turned, 50, "half of them; five standard deviations")
	}
	small := anyView(random, image.Rect(0, 0, 300, 200), image.Rect(10, 10, 60, 60))
	assert.GreaterOrEqual(t, min(small.crop.Dx(), small.crop.Dy()), 160, "a photo may not be smaller")
}

func TestPhotosAreMirroredAtTheirBorder(t *testing.T) {
	var places []int
	for at := -4; at < 7; at++ {
		places = append(places, reflected(at, 3))
	}
	assert.Equal(t, []int{2, 2, 1, 0, 0, 1, 2, 2, 1, 0, 0}, places)
}
