package main

import (
	"errors"
	"fmt"
	"image"
	"path/filepath"

	"github.com/disintegration/imaging"

	"valvegrade/internal/limit"
	"valvegrade/internal/truth"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
	"valvegrade/scripts/outline"
)

// cutAround writes the crops of a photo around a valve, without loss, and their masks. It returns what is known of
// them, which is the same as of the photo, and the smallest one's share of it.
func cutAround(t truth.Entry, dir, into string) (crops []truth.Entry, narrowest float64, err error) {
	photo, err := imaging.Open(filepath.Join(dir, t.Photo), imaging.AutoOrientation(true))
	if err != nil {
		return nil, 0, err
	}
	mask, err := score.ReadMask(t.Path(dir, score.RegionSuffix))
	if err != nil {
		return nil, 0, err
	}
	if photo.Bounds().Size() != mask.Rect.Size() {
		return nil, 0, fmt.Errorf(
			"%s: photo of %v pixels, mask of %v",
			t.Photo,
			photo.Bounds().Size(),
			mask.Rect.Size(),
		)
	}
	valve := extent(outline.Valve(mask, t.Valve))
	if valve.Empty() {
		return nil, 0, fmt.Errorf("%s: its mask shows no valve %d", t.Photo, t.Valve)
	}
	narrowest = 1
	for i, crop := range cropsAround(valve, mask.Rect) {
		one := t
		one.Photo = fmt.Sprintf("%d.png", i+1)
		err := errors.Join(
			score.WritePNG(filepath.Join(into, one.Photo), imaging.Crop(photo, crop)),
			score.WritePNG(one.Path(into, score.RegionSuffix), part(mask, crop)),
		)
		if err != nil {
			return nil, 0, err
		}
		crops = append(crops, one)
		narrowest = min(narrowest, float64(area(crop))/float64(area(mask.Rect)))
	}
	return crops, narrowest, nil
}

func area(r image.Rectangle) int { return r.Dx() * r.Dy() }

// part copies a part of a mask.
func part(mask *image.Gray, of image.Rectangle) *image.Gray {
	copied := image.NewGray(image.Rectangle{Max: of.Size()})
	for y := range of.Dy() {
		copy(copied.Pix[y*copied.Stride:][:of.Dx()], mask.Pix[mask.PixOffset(of.Min.X, of.Min.Y+y):])
	}
	return copied
}

// extent is the smallest rectangle around what is not background.
func extent(mask *image.Gray) image.Rectangle {
	var all image.Rectangle
	for y := range mask.Rect.Dy() {
		for x, label := range mask.Pix[y*mask.Stride:][:mask.Rect.Dx()] {
			if label != region.Background {
				all = all.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return all
}

// cropsAround returns the frame, the narrowest crop that holds the valve with a twentieth of air, and between them
// crops a third and two thirds of the way, each with the valve in the middle of its room and pushed to two corners. All
// hold the valve, and no two are alike.
func cropsAround(valve, frame image.Rectangle) []image.Rectangle {
	air := max(valve.Dx(), valve.Dy()) / 20
	valve = valve.Inset(-air).Intersect(frame)
	crops := []image.Rectangle{frame}
	for _, width := range []float64{2. / 3, 1. / 3, 0} {
		for _, place := range []image.Point{{1, 1}, {0, 0}, {2, 2}} {
			x0, x1 := stretch(valve.Min.X, valve.Max.X, frame.Min.X, frame.Max.X, width, place.X)
			y0, y1 := stretch(valve.Min.Y, valve.Max.Y, frame.Min.Y, frame.Max.Y, width, place.Y)
			crops = append(crops, image.Rect(x0, y0, x1, y1))
		}
	}
	return unique(crops)
}

// stretch lengthens a stretch within a longer one by a share of what that has more, at least to the side that a photo
// must have; place is where the stretch lies in the result: 0 as near its beginning as can be, 1 between, 2 as near its
// end.
func stretch(from, to, first, last int, share float64, place int) (int, int) {
	length := max(to-from+int(share*float64(last-first-(to-from))), min(limit.PhotoShortSide, last-first))
	lowest, highest := max(first, to-length), min(from, last-length)
	start := highest + (lowest-highest)*place/2
	return start, start + length
}
