package bay

import (
	"bytes"
	"image"
	"strings"
	"sync"

	"valvegrade/internal/draw"
	"valvegrade/internal/lossless"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/photo"
)

// painter draws what became of the valves of a cylinder between two inspections. Safe for concurrent use.
type painter struct {
	before, after visit
	words         draw.ResidueWords
	album         album
}

// album holds the photos of a cylinder while it is drawn: one that shows several of its valves is read once, which takes a
// third of a second for 12 megapixels. Safe for concurrent use.
type album struct {
	lock   sync.Mutex
	photos map[string]func() *photo.Photo
}

// photo returns the photo at a path, nil where it cannot be read.
func (a *album) photo(path string, l photo.Limits) *photo.Photo {
	a.lock.Lock()
	read, known := a.photos[path]
	if !known {
		read = sync.OnceValue(func() *photo.Photo {
			p, err := photo.Read(path, l)
			if err != nil {
				return nil
			}
			return p
		})
		if a.photos == nil {
			a.photos = map[string]func() *photo.Photo{}
		}
		a.photos[path] = read
	}
	a.lock.Unlock()
	return read()
}

// visit is one of two inspections with what its photos say.
type visit struct {
	*Job
	*engine.Graded
}

// draw draws the two heads of a valve, laid on each other, and what is left; told gets the names of the pictures.
func (p *painter) draw(told *ChangedValve, v *compare.Valve) (map[string]*Paper, error) {
	name := strings.ReplaceAll(inspection.ValveName(told.Cylinder, told.Valve), ".", "-")
	pictures := map[string]image.Image{}
	if v.Compared && v.Registration != nil {
		if first, second := p.before.head(v.Before, &p.album), p.after.head(v.After, &p.album); first != nil && second != nil {
			told.BeforePicture, told.AfterPicture = name+"-before", name+"-after"
			pictures[told.BeforePicture], pictures[told.AfterPicture] = first, draw.Onto(second, v.Registration)
		}
	}
	if v.Residue != nil {
		told.Residue = name + "-residue"
		pictures[told.Residue] = draw.ResidueMap(v.Comparison, p.words)
	}
	papers := map[string]*Paper{}
	for name, picture := range pictures {
		var data bytes.Buffer
		if err := lossless.WritePNG(&data, picture); err != nil {
			return nil, err
		}
		papers[name] = &Paper{name + ".png", "image/png", data.Bytes()}
	}
	return papers, nil
}

// head draws the head of a compared valve as seen along its stem; nil where the photo is not there as it was graded, or
// shows no outline.
func (i visit) head(v *compare.View, photos *album) *image.NRGBA {
	for n, r := range i.Photos {
		if r.Photo != v.Photo || r.ValveInPhoto != v.Valve || r.Map == nil {
			continue
		}
		p := photos.photo(i.path(i.Engine.Inspection.Photos[n].File), i.bay.options.Limits)
		if p == nil || p.SHA256 != v.SHA256 {
			return nil
		}
		return draw.HeadOn(p.Pixels, r.Map)
	}
	return nil
}
