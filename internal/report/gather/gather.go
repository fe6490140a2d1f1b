package gather

import (
	"context"
	"fmt"

	"valvegrade/internal/draw"
	"valvegrade/internal/report/texts"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/inspection/graded"
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
	// Views asks for what comparing needs to know of each photo.
	Views bool
	// Scored, when not nil, is called after each photo, one call at a time.
	Scored func()
}

// Folder scores the photos of an inspection and draws their pictures. The error is the context's, or why a net could not be
// loaded.
func Folder(ctx context.Context, i *inspection.Inspection, o Options) (*report.Source, error) {
	o = o.complete()
	photos := make([]report.Photo, len(i.Photos))
	for n, p := range i.Photos {
		photos[n].File = p.File
	}
	views, err := o.show(ctx, i.Paths(), photos)
	if err != nil {
		return nil, err
	}
	source := &report.Source{Photos: photos, Views: views}
	source.Engine, err = graded.Engine(i, source.Records())
	return source, err
}

// complete fills in the texts.
func (o Options) complete() Options {
	if o.Texts == nil {
		o.Texts = &texts.English
	}
	return o
}

// show scores the photos at paths, puts record and pictures of each into its entry in photos, and returns the views, if asked
// for them, in the same order.
func (o Options) show(ctx context.Context, paths []string, photos []report.Photo) ([]*compare.View, error) {
	seen := make([]impression, len(paths))
	place := map[string]int{}
	for k, path := range paths {
		place[path] = k
	}
	limit := o.PictureBytes
	if limit == 0 {
		limit = PictureBytes(len(photos))
	}
	batch := o.BatchOptions
	batch.Picture = func(r *score.Result) (err error) {
		seen[place[r.Name]], err = o.look(r, limit)
		return err
	}
	k := 0
	err := score.Batch(ctx, paths, batch, func(r *score.Result) error {
		photos[k].Record, photos[k].Plain, photos[k].Marked = r.Record(), seen[k].plain, seen[k].marked
		if seen[k].plain == nil {
			photos[k].Absent = fmt.Sprintf(o.Texts.PhotoUnread, photos[k].File)
		}
		k++
		if o.Scored != nil {
			o.Scored()
		}
		return nil
	})
	if err != nil || !o.Views {
		return nil, err
	}
	views := make([]*compare.View, len(seen))
	for k := range seen {
		views[k] = seen[k].view
		views[k].Photo = photos[k].File // what a report calls it
	}
	return views, nil
}

// What the pictures of photos may take together, and one alone: more shows no more. With the maps of sixteen photos a PDF stays below 2 MB
// and the page, in which pictures are a third larger, below 3 MB.
const (
	allPictures = 1_250_000
	onePicture  = 130_000
)

// PictureBytes shares the room among plain and marked pictures of all photos of a report.
func PictureBytes(photos int) int { return min(onePicture, allPictures/max(1, 2*photos)) }

// impression is what is kept of a photo when its pixels go; nil what there is none of.
type impression struct {
	plain, marked *report.Picture
	view          *compare.View
}

func (o Options) look(r *score.Result, limit int) (i impression, err error) {
	if o.Views {
		if i.view, err = compare.NewView(r); err != nil {
			return i, err
		}
	}
	if r.Photo == nil {
		return i, nil
	}
	if i.plain, err = report.NewPhotoPicture(r.Photo.Pixels, limit); err != nil || r.Status != score.Scored {
		return i, err
	}
	i.marked, err = report.NewPhotoPicture(draw.Marked(r), limit)
	return i, err
}
