package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"

	"valvegrade/internal/draw"
	"valvegrade/pkg/score"
)

// toStdout is the file name that stands for standard output.
const toStdout = "-"

// outputs are the places to write to; an empty one is not wanted.
type outputs struct {
	json, masks, overlay string
	stdout               io.Writer
}

// prepare finds out before the work begins whether its results can be kept: folders are made, but only in a folder that
// exists, so that a misspelt path is noticed; and no photo may be overwritten.
func (o outputs) prepare(photos *photoList) error {
	for _, dir := range []string{o.masks, o.overlay} {
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
	if o.json != "" && o.json != toStdout {
		if info, err := os.Stat(o.json); err == nil && info.IsDir() {
			return hinted(misuse("--json %q is a folder", o.json), "give a file name, such as --json %q", filepath.Join(o.json, "result.json"))
		}
		if err := tryWriting(filepath.Dir(o.json)); err != nil {
			return cannotWrite(o.json, err)
		}
	}
	return o.spare(photos)
}

// spare refuses to write over a photo.
func (o outputs) spare(photos *photoList) error {
	var written []string
	if o.json != "" && o.json != toStdout {
		written = append(written, o.json)
	}
	for _, label := range score.Labels(photos.paths) {
		if o.masks != "" {
			written = append(written, filepath.Join(o.masks, label+score.RegionSuffix), filepath.Join(o.masks, label+score.DepositSuffix))
		}
		if o.overlay != "" {
			written = append(written, filepath.Join(o.overlay, label+score.OverlaySuffix))
		}
	}
	for _, path := range written {
		if whole, err := filepath.Abs(path); err == nil && photos.seen[whole] {
			return hinted(misuse("writing %q would overwrite a photo", path), "choose another name or folder for the output")
		}
	}
	return nil
}

// tryWriting makes and removes a file in dir. Asking for permissions instead would miss read-only disks and more.
func tryWriting(dir string) error {
	probe, err := os.CreateTemp(dir, ".valvegrade-*")
	if err != nil {
		return err
	}
	return errors.Join(probe.Close(), os.Remove(probe.Name()))
}

// cannotWrite explains why path cannot be written.
func cannotWrite(path string, err error) error {
	cause := err
	var fault *fs.PathError
	if errors.As(err, &fault) {
		cause = fault.Err // without the name of the probe
	}
	explained := fmt.Errorf("cannot write %q: %w", path, cause)
	if errors.Is(err, fs.ErrNotExist) {
		return hinted(explained, "the folder does not exist: mkdir -p %q", filepath.Dir(path))
	}
	return hinted(explained, "choose a folder where you may write")
}

// wantsPictures reports whether there is anything to draw.
func (o outputs) wantsPictures() bool { return o.masks != "" || o.overlay != "" }

// picture writes the masks and the overlay of one result. It may run for several results at the same time.
func (o outputs) picture(r *score.Result) error {
	if o.masks != "" {
		if err := r.WriteMasks(o.masks); err != nil {
			return cannotWrite(o.masks, err)
		}
	}
	if o.overlay != "" {
		if err := score.WritePNG(filepath.Join(o.overlay, r.Label+score.OverlaySuffix), draw.Overlay(r)); err != nil {
			return cannotWrite(o.overlay, err)
		}
	}
	return nil
}

// document writes the results as JSON, at once or not at all.
func (o outputs) document(d *score.Document) error {
	if o.json == "" {
		return nil
	}
	var text bytes.Buffer
	if err := d.Write(&text); err != nil {
		return err
	}
	if o.json == toStdout {
		_, err := o.stdout.Write(text.Bytes())
		return err
	}
	if err := renameio.WriteFile(o.json, text.Bytes(), 0o644); err != nil {
		return cannotWrite(o.json, err)
	}
	return nil
}
