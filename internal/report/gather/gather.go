package gather

import (
	"context"
	"fmt"

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
	pictures := o.drawInto(i.Paths())
	g, err := engine.Grade(ctx, i, o.BatchOptions, func(*score.Result) { o.scored() })
	if err != nil {
		return nil, err
	}
	for n, p := range i.Photos {
		if pictures[n].Plain == nil && !o.NoPictures {
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

func (o Options) scored() {
	if o.Scored != nil {
		o.Scored()
	}
}

// drawInto makes scoring the photos at paths draw them, too, unless no pictures are wanted, and returns where their
// pictures will be, in the same order.
func (o *Options) drawInto(paths []string) []report.Pictures {
	pictures, place := make([]report.Pictures, len(paths)), map[string]int{}
	if o.NoPictures {
		return pictures
	}
	for k, label := range score.Labels(paths) { // one photo may be meant twice
		place[label] = k
	}
	limit := o.PictureBytes
	if limit == 0 {
		limit = PictureBytes(len(paths))
	}
	o.Picture = func(r *score.Result) (err error) {
		pictures[place[r.Label]], err = look(r, limit)
		return err
	}
	return pictures
}

// What the pictures of photos may take together, and one alone: more shows no more. With the maps of sixteen photos a
// PDF stays below 2 MB and the page, in which pictures are a third larger, below 3 MB.
const (
	allPictures = 1_250_000
	onePicture  = 130_000
)

// PictureBytes shares the room among plain and marked pictures of all photos of a report.
func PictureBytes(photos int) int { return min(onePicture, allPictures/max(1, 2*photos)) }

// look draws the pictures of a photo before its pixels go.
func look(r *score.Result, limit int) (p report.Pictures, err error) {
	if r.Photo == nil {
		return p, nil
	}
	if p.Plain, err = report.NewPhotoPicture(r.Photo.Pixels, limit); err != nil || r.Status != score.Scored {
		return p, err
	}
	p.Marked, err = report.NewPhotoPicture(draw.Marked(r), limit)
	return p, err
}
