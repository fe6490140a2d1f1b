package main

import (
	"encoding/hex"
	"fmt"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"

	"valvegrade/internal/truth"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
	"valvegrade/scripts/outline"
)

// What counts in a view.
const (
	wholeFrom    = 0.9  // share of a valve's pixels in the view, for the valve to be looked for
	againFrom    = 0.35 // overlap of an outline with the valve, for the valve to be found
	nowhereBelow = 0.3  // share of an outline on any valve, for it to be somewhere else
)

// views are what became of the views of all photos of a folder. The valves that were graded in the whole photos are what
// they are held against, for no truth is known.
type views struct {
	run
	photos, made int
	valves       []*viewed
	without      []string // photos in which no valve was graded, of which no views are made
	elsewhere    int      // outlines in views where the whole photo has no valve
}

// viewing returns the study that makes so many views of each photo. They are drawn at random from the photo's own bytes,
// so that the same photo and valves always give the same views.
func viewing(number int) func(program, string) (findings, error) {
	return func(p program, dir string) (findings, error) {
		var found views
		if _, err := os.Stat(dir); err != nil {
			return nil, err
		}
		err := p.in("whole").score([]string{dir}, func(whole scored) error {
			found.run = whole.run
			for _, records := range whole.photos {
				found.photos++
				name, err := filepath.Rel(dir, records[0].Photo)
				if err != nil {
					return err
				}
				if len(bySize(records)) == 0 {
					found.without = append(found.without, name)
					continue
				}
				mask, err := score.ReadMask(filepath.Join(whole.masks, records[0].Label+score.RegionSuffix))
				if err != nil {
					return err
				}
				valves := valvesOf(name, records, mask)
				found.valves = append(found.valves, valves...)
				if err := found.look(p.in(records[0].Label), records[0].Photo, mask, valves, number); err != nil {
					return err
				}
			}
			return nil
		})
		return found, err
	}
}

// look makes views of one photo, has them scored and notes what became of its valves.
func (v *views) look(p program, path string, mask *image.Gray, valves []*viewed, number int) error {
	shown, err := photo.Read(path, photo.Limits{KeptPixels: area(mask.Rect)})
	if err != nil {
		return err
	}
	if shown.Pixels.Rect.Size() != mask.Rect.Size() {
		return fmt.Errorf("%s: photo of %v pixels, mask of %v", path, shown.Pixels.Rect.Size(), mask.Rect.Size())
	}
	dir, err := os.MkdirTemp("", "views-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	var seed [32]byte
	if _, err := hex.Decode(seed[:], []byte(shown.SHA256)); err != nil {
		return err
	}
	random, margined := rand.New(rand.NewChaCha8(seed)), mirrored(shown.Pixels)
	taken, paths := make([]view, number), make([]string, number)
	for n := range taken {
		kept := extent(outline.Valve(mask, 1+random.IntN(len(valves))))
		taken[n], paths[n] = anyView(random, mask.Rect, kept), filepath.Join(dir, fmt.Sprintf("%03d.jpg", n+1))
		if err := taken[n].save(margined, paths[n]); err != nil {
			return err
		}
	}
	return p.score(paths, func(s scored) error {
		if len(s.photos) != number {
			return fmt.Errorf("%s: the program tells of %d views, of %d", path, len(s.photos), number)
		}
		for n, records := range s.photos {
			var got *image.Gray
			if len(bySize(records)) > 0 {
				if got, err = score.ReadMask(filepath.Join(s.masks, records[0].Label+score.RegionSuffix)); err != nil {
					return err
				}
			}
			if err := v.hold(taken[n], mask, valves, records, got); err != nil {
				return err
			}
		}
		return nil
	})
}

// hold notes what a view gave: the masks are those of the whole photo and of the view, the latter nil where nothing was
// graded.
func (v *views) hold(taken view, mask *image.Gray, valves []*viewed, records []score.Record, got *image.Gray) error {
	v.made++
	carried := taken.carried(mask)
	for n, one := range valves {
		seen := float64(pixels(outline.Valve(carried, n+1)))
		if seen < wholeFrom*float64(one.pixels)*taken.scale()*taken.scale() {
			continue
		}
		matched, err := match([]truth.Entry{{Photo: one.photo, Valve: n + 1}}, records, carried, got)
		if err != nil {
			return err
		}
		one.note(matched[0])
	}
	for place := range bySize(records) {
		found := outline.Valve(got, place+1)
		on := 0
		for i, label := range found.Pix {
			if label != region.Background && carried.Pix[i] != region.Background {
				on++
			}
		}
		if float64(on) < nowhereBelow*float64(pixels(found)) {
			v.elsewhere++
		}
	}
	return nil
}

// pixels counts what is not background.
func pixels(mask *image.Gray) (count int) {
	for _, label := range mask.Pix {
		if label != region.Background {
			count++
		}
	}
	return count
}
