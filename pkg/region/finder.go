package region

import (
	"errors"
	"image"

	"valvegrade/internal/net"
	"valvegrade/pkg/photo"
)

// FinderOptions are the choices of a Finder; the zero value is the normal one.
type FinderOptions struct {
	// Net is an ONNX file to use in place of the embedded net, nil for the embedded one.
	Net []byte
	// Stage, when set, receives a label picture (values Background, Head, Stem) of each step of Find, numbered in order:
	// "1-proposed" and "2-tidied". It is for looking into the work, and costs the time of a mask each.
	Stage func(name string, mask *image.Gray)
}

// Finder finds the valve in photos, one at a time.
type Finder struct {
	net   *net.Net
	stage func(name string, mask *image.Gray)
}

// NewFinder loads the net. Close the Finder after use.
func NewFinder(o FinderOptions) (*Finder, error) {
	load := net.Default
	if o.Net != nil {
		load = func() (*net.Net, error) { return net.New(o.Net) }
	}
	n, err := load()
	if err != nil {
		return nil, err
	}
	return &Finder{n, o.Stage}, nil
}

// Close frees the net; the Finder cannot be used afterwards.
func (f *Finder) Close() { f.net.Close() }

// Find returns where the principal valve of a photo is. Marks, when not nil, replace the outline that the net proposes;
// the net runs all the same, for its evidence about deposit and light.
//
// A photo without a valve is no error: it gives a Region with an empty mask and a reason. Errors are marks that do not fit
// the photo, and a net that cannot be run.
func (f *Finder) Find(p *photo.Photo, marks *Marks) (*Region, error) {
	if p == nil || p.Pixels == nil {
		return nil, errors.New("region: no photo")
	}
	width, height := p.Pixels.Rect.Dx(), p.Pixels.Rect.Dy()
	if marks != nil {
		if err := marks.Check(width, height); err != nil {
			return nil, err
		}
	}
	out, err := f.net.Run(p.Pixels)
	if err != nil {
		return nil, err
	}
	e := evidence(out)
	if marks != nil {
		return byHand(marks, e, width, height), nil
	}
	return f.automatic(e, width, height), nil
}

func evidence(o *net.Output) *Evidence {
	return &Evidence{o.Cols, o.Rows, o.CellWidth, o.CellHeight, o.Region, o.Deposit, Frame(o.Frame)}
}

// automatic outlines the valve by the net's evidence.
func (f *Finder) automatic(e *Evidence, width, height int) *Region {
	proposed := propose(e)
	if e.Frame.outOfSight() {
		proposed.clear()
	}
	f.show("1-proposed", proposed, width, height)
	head, others := proposed.tidy()
	f.show("2-tidied", proposed, width, height)
	r := &Region{
		Mask: proposed.enlarge(width, height), Ellipse: head, Confidence: proposed.confidence(),
		Source: Auto, OtherValves: others, Evidence: e,
	}
	return r.finish(nil)
}

// byHand draws the outline that the marks give.
func byHand(marks *Marks, e *Evidence, width, height int) *Region {
	head := marks.Head.ordered()
	r := &Region{Mask: marks.draw(width, height), Ellipse: &head, Confidence: 1, Source: ByHand, Evidence: e}
	return r.finish(marks.Stem)
}

// finish fills in what follows from the mask; the stem is measured unless it is given.
func (r *Region) finish(stem *Line) *Region {
	c := takeCensus(r.Mask)
	r.HeadPixels, r.StemPixels = c[Head].pixels, c[Stem].pixels
	r.Axis = stem
	if stem == nil {
		r.Axis = measureStem(r.Mask, c)
	}
	r.judge(c)
	return r
}

func (f *Finder) show(name string, p *proposal, width, height int) {
	if f.stage != nil {
		f.stage(name, p.enlarge(width, height))
	}
}
