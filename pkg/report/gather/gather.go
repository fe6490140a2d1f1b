package gather

import (
	"context"
	"fmt"

	"valvegrade/internal/draw"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/inspection/graded"
	"valvegrade/pkg/report"
	"valvegrade/pkg/report/texts"
	"valvegrade/pkg/score"
)

// Options say how photos are scored and shown.
type Options struct {
	score.BatchOptions
	// Texts are the words for photos that cannot be shown, English when nil.
	Texts *texts.Texts
	// PictureBytes bounds each picture; 0 takes a size that keeps a report of one inspection below 2 MB.
	PictureBytes int
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
	if err := o.show(ctx, i.Paths(), photos); err != nil {
		return nil, err
	}
	source := &report.Source{Photos: photos}
	var err error
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

// show scores the photos at paths and puts record and pictures of each into its entry in photos.
func (o Options) show(ctx context.Context, paths []string, photos []report.Photo) error {
	shown := make([]pictures, len(paths))
	place := map[string]int{}
	for k, path := range paths {
		place[path] = k
	}
	limit := o.pictureBytes(len(photos))
	batch := o.BatchOptions
	batch.Picture = func(r *score.Result) (err error) {
		shown[place[r.Name]], err = picturesOf(r, limit)
		return err
	}
	k := 0
	return score.Batch(ctx, paths, batch, func(r *score.Result) error {
		photo := &photos[k]
		photo.Record, photo.Plain, photo.Marked = r.Record(), shown[k].plain, shown[k].marked
		if photo.Plain == nil {
			photo.Absent = fmt.Sprintf(o.Texts.PhotoUnread, photo.File)
		}
		k++
		if o.Scored != nil {
			o.Scored()
		}
		return nil
	})
}

// What pictures may take together, and one alone: more shows no more.
const (
	allPictures = 1_900_000
	onePicture  = 130_000
)

// pictureBytes shares the room among plain and marked pictures of so many photos.
func (o Options) pictureBytes(photos int) int {
	if o.PictureBytes > 0 {
		return o.PictureBytes
	}
	return min(onePicture, allPictures/max(1, 2*photos))
}

// pictures of one photo; nil what cannot be shown.
type pictures struct{ plain, marked *report.Picture }

func picturesOf(r *score.Result, limit int) (p pictures, err error) {
	if r.Photo == nil {
		return p, nil
	}
	if p.plain, err = report.NewPhotoPicture(r.Photo.Pixels, limit); err != nil || r.Status != score.Scored {
		return p, err
	}
	if p.marked, err = report.NewPhotoPicture(draw.Marked(r), limit); err != nil {
		return p, fmt.Errorf("gather: %w", err)
	}
	return p, nil
}
