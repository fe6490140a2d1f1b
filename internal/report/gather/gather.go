package gather

import (
	"context"
	"fmt"
	"image"
	"slices"

	"valvegrade/internal/draw"
	"valvegrade/internal/report/texts"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Options say how photos are scored and shown.
type Options struct {
	score.BatchOptions
	// Texts are the words for photos that cannot be shown, English when nil.
	Texts *texts.Texts
	// PictureBytes bounds each picture; 0 takes what is right for a report of this inspection alone.
	PictureBytes int
	// NoPictures leaves the pictures out, for who wants figures and maps alone.
	NoPictures bool
	// Scored, when not nil, is called after each photo, one call at a time.
	Scored func()
}

// Folder scores the photos of an inspection and draws their pictures. The error is the context's, or why a net could
// not be loaded.
func Folder(ctx context.Context, i *inspection.Inspection, o Options) (*report.Source, error) {
	o = o.complete()
	paths := i.Paths()
	looks := o.drawInto(paths)
	g, err := engine.Grade(ctx, i, o.BatchOptions, o.scored)
	if err != nil {
		return nil, err
	}
	if o.NoPictures {
		return &report.Source{Graded: g}, nil
	}
	pictures := make([]report.Pictures, len(i.Photos))
	for n, p := range i.Photos {
		pictures[n] = looks[slices.Index(paths, i.Path(p))].of(g.Photos[n])
		if pictures[n].Plain == nil {
			pictures[n].Absent = fmt.Sprintf(o.Texts.PhotoUnread, p.File)
		}
	}
	return &report.Source{Graded: g, Pictures: pictures}, nil
}

// complete fills in the texts.
func (o Options) complete() Options {
	if o.Texts == nil {
		o.Texts = &texts.English
	}
	return o
}

// scored counts a photo when the last of its valves was handed over.
func (o Options) scored(r *score.Result) {
	if o.Scored != nil && r.Valve == r.Valves {
		o.Scored()
	}
}

// drawInto makes scoring the photos at paths draw them, too, unless no pictures are wanted, and returns where their
// looks will be, in the same order.
func (o *Options) drawInto(paths []string) []look {
	looks, place := make([]look, len(paths)), map[string]int{}
	if o.NoPictures {
		return looks
	}
	for k, label := range score.Labels(paths) { // one photo may be meant twice
		place[label] = k
	}
	limit := o.PictureBytes
	if limit == 0 {
		limit = PictureBytes(len(paths))
	}
	o.Picture = func(valves []*score.Result) (err error) {
		looks[place[valves[0].Label]], err = lookOf(valves, limit)
		return err
	}
	return looks
}

// What the pictures of photos may take together, and one alone: more shows no more. With the maps of sixteen photos a
// PDF stays below 2 MB and the page, in which pictures are a third larger, below 3 MB.
const (
	allPictures = 1_250_000
	onePicture  = 130_000
)

// PictureBytes shares the room among plain and marked pictures of all photos of a report.
func PictureBytes(photos int) int { return min(onePicture, allPictures/max(1, 2*photos)) }

// look is a photo as a report can show it: plain, and with each valve marked and along its stem, nil for one that was
// refused.
type look struct {
	plain  *report.Picture
	marked []*report.Picture
	heads  []*image.NRGBA
}

// lookOf draws a photo before its pixels go, heads along their stems where their maps say that comparing is wanted.
func lookOf(valves []*score.Result, limit int) (l look, err error) {
	if valves[0].Photo == nil {
		return l, nil
	}
	if l.plain, err = report.NewPhotoPicture(valves[0].Photo.Pixels, limit); err != nil {
		return l, err
	}
	l.marked, l.heads = make([]*report.Picture, len(valves)), make([]*image.NRGBA, len(valves))
	for n, r := range valves {
		if r.Status != score.Scored {
			continue
		}
		if l.marked[n], err = report.NewPhotoPicture(draw.Marked(r), limit); err != nil {
			return l, err
		}
		if r.Map != nil {
			l.heads[n] = draw.HeadOn(r.Photo.Pixels, r.Map)
		}
	}
	return l, nil
}

// of returns the pictures for a valve of the photo: only that one is marked, so that it is plain which is meant.
func (l look) of(r score.Record) report.Pictures {
	p := report.Pictures{Plain: l.plain}
	if r.Status == score.Scored && r.ValveInPhoto <= len(l.marked) {
		p.Marked, p.HeadOn = l.marked[r.ValveInPhoto-1], l.heads[r.ValveInPhoto-1]
	}
	return p
}
