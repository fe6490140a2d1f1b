package bay

import (
	"bytes"
	"image"
	"image/jpeg"
	"slices"
	"sync"

	"github.com/disintegration/imaging"

	"valvegrade/internal/draw"
	"valvegrade/internal/raster"
	"valvegrade/pkg/score"
)

// Kind is how a photo is shown.
type Kind string

// Small is what was measured in the size of a contact sheet, Plain the photo, Marked the photo with what was measured.
const (
	Small  Kind = "small"
	Plain  Kind = "plain"
	Marked Kind = "marked"
)

const (
	smallSide, plainSide       = 360, 1600
	smallQuality, plainQuality = 80, 88
	// kept is how many photos' large pictures are kept; others are drawn again when they are asked for.
	kept = 24
)

// pictures are the pictures of a job's photos: small ones of all are kept with the photos, large ones of the latest.
type pictures struct {
	redrawing *redrawing

	lock   sync.Mutex
	large  map[string]map[Kind][]byte
	recent []string
}

// redrawing scores photos again to draw them: one at a time for all jobs of a bay, because its nets take as much memory as
// those of a worker.
type redrawing struct {
	lock   sync.Mutex
	worker *score.Worker
}

// close frees the nets, after a photo that is being drawn.
func (r *redrawing) close() {
	r.lock.Lock()
	defer r.lock.Unlock()
	r.worker.Close()
}

func newPictures(r *redrawing) *pictures {
	return &pictures{redrawing: r, large: map[string]map[Kind][]byte{}}
}

// keep draws the pictures of a photo that was just scored, and returns the small one; nil for a file without a picture.
func (p *pictures) keep(file string, valves []*score.Result) []byte {
	if valves[0].Photo == nil {
		p.forget(file)
		return nil
	}
	marked := draw.Marked(valves...)
	small := fitted(marked, smallSide)
	drawn := map[Kind][]byte{
		Plain:  encoded(fitted(valves[0].Photo.Pixels, plainSide), plainQuality),
		Marked: encoded(marked, plainQuality),
	}
	p.lock.Lock()
	defer p.lock.Unlock()
	p.drop(file)
	p.large[file], p.recent = drawn, append(p.recent, file)
	if len(p.recent) > kept {
		p.drop(p.recent[0])
	}
	return encoded(small, smallQuality)
}

// fitted is an opaque picture with a longer side of so many pixels at most.
func fitted(picture image.Image, side int) *image.RGBA {
	return raster.Opaque(imaging.Fit(picture, side, side, imaging.Box))
}

func encoded(picture *image.RGBA, quality int) []byte {
	var data bytes.Buffer
	if err := jpeg.Encode(&data, picture, &jpeg.Options{Quality: quality}); err != nil {
		panic("bay: " + err.Error()) // its size is that of a photo that was decoded, and memory takes all that is written
	}
	return data.Bytes()
}

// drop forgets a photo's pictures. The lock is held.
func (p *pictures) drop(file string) {
	delete(p.large, file)
	p.recent = slices.DeleteFunc(p.recent, func(f string) bool { return f == file })
}

func (p *pictures) forget(file string) {
	p.lock.Lock()
	defer p.lock.Unlock()
	p.drop(file)
}

// of returns a large picture, from memory or drawn anew; nil for a file without one.
func (p *pictures) of(file, path string, kind Kind) ([]byte, error) {
	if drawn := p.drawn(file, kind); drawn != nil {
		return drawn, nil
	}
	p.redrawing.lock.Lock()
	defer p.redrawing.lock.Unlock()
	if drawn := p.drawn(file, kind); drawn != nil { // for who asked for the other kind a moment ago
		return drawn, nil
	}
	valves, err := p.redrawing.worker.Score(path)
	if err != nil {
		return nil, err
	}
	p.keep(file, valves)
	return p.drawn(file, kind), nil
}

// drawn returns a large picture from memory, nil where it is not there.
func (p *pictures) drawn(file string, kind Kind) []byte {
	p.lock.Lock()
	defer p.lock.Unlock()
	return p.large[file][kind]
}

// Picture returns a JPEG of a photo.
func (j *Job) Picture(file string, kind Kind) ([]byte, error) {
	j.lock.Lock()
	s, known := j.shots[file]
	var small []byte
	if known {
		small = s.thumb
	}
	j.lock.Unlock()
	if !known {
		return nil, ErrUnknown
	}
	if kind == Small {
		return small, nil
	}
	return j.pictures.of(file, j.path(file), kind)
}
