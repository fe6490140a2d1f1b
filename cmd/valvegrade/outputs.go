package main

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/draw"
	"valvegrade/pkg/score"
)

// outputs are the places to write to; an empty one is not wanted.
type outputs struct {
	json, masks, overlay, stages string

	lock   sync.Mutex
	failed error // of the first picture that could not be written
}

// prepare finds out before the work begins whether its results can be kept: folders are made, but only in a folder that
// exists, so that a misspelt path is noticed; and no photo may be overwritten.
func (o *outputs) prepare(c *cli.Context, photos *photoList) error {
	for _, dir := range []string{o.masks, o.overlay, o.stages} {
		if dir == "" {
			continue
		}
		if err := os.Mkdir(dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			return cannotWrite(dir, err)
		}
		if err := tryWriting(dir); err != nil {
			return cannotWrite(dir, err)
		}
	}
	if err := tryFile("--json", o.json); err != nil {
		return err
	}
	return o.spare(c, photos)
}

// spare refuses to write over a photo, or over inspection.yaml.
func (o *outputs) spare(c *cli.Context, photos *photoList) error {
	var written []string
	if o.json != "" && o.json != toStdout {
		written = append(written, o.json, partial(o.json))
	}
	for _, label := range score.Labels(photos.paths) {
		if o.masks != "" {
			written = append(written,
				filepath.Join(o.masks, label+score.RegionSuffix), filepath.Join(o.masks, label+score.DepositSuffix))
		}
		if o.overlay != "" {
			written = append(written, filepath.Join(o.overlay, label+score.OverlaySuffix))
		}
		for _, stage := range score.StageNames() {
			if o.stages != "" {
				written = append(written, filepath.Join(o.stages, label+score.StageSuffix(stage)))
			}
		}
	}
	return spare(c, photos.seen, written...)
}

// wantsPictures reports whether there is anything to draw.
func (o *outputs) wantsPictures() bool { return o.masks != "" || o.overlay != "" || o.stages != "" }

// picture draws the valves of one photo. It may run for several photos at the same time. After a picture that cannot be
// written no other is tried, and the photos are scored all the same.
func (o *outputs) picture(valves []*score.Result) error {
	if o.failure() != nil {
		return nil
	}
	if err := o.write(valves); err != nil {
		o.lock.Lock()
		defer o.lock.Unlock()
		o.failed = cmp.Or(o.failed, err)
	}
	return nil
}

// failure is why a picture could not be written, nil when all were.
func (o *outputs) failure() error {
	o.lock.Lock()
	defer o.lock.Unlock()
	return o.failed
}

// write writes the masks, the overlay and the stages of one photo.
func (o *outputs) write(valves []*score.Result) error {
	if o.masks != "" {
		if err := score.WriteMasks(o.masks, valves); err != nil {
			return cannotWrite(o.masks, err)
		}
	}
	if o.overlay != "" {
		if err := score.WritePNG(filepath.Join(o.overlay, valves[0].Label+score.OverlaySuffix), draw.Overlay(valves...)); err != nil {
			return cannotWrite(o.overlay, err)
		}
	}
	if o.stages != "" {
		if err := score.WriteStages(o.stages, valves); err != nil {
			return cannotWrite(o.stages, err)
		}
	}
	return nil
}
