package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

const aboutScore = `Finds the valve in each photo, measures its deposit and prints a table: grade 0 to 4, deposit index with its
95 % interval, coverage, how sure the outline is, and what to do. A photo that cannot be judged is refused with
advice; the others are scored all the same.

  valvegrade score port1.jpg                         one photo
  valvegrade score --overlay seen --json r.json DIR  all photos of a folder, with pictures and results
  valvegrade score --head 310,240,120,95,10 a.jpg    with the head's outline set by hand
  valvegrade score -- -odd-name.jpg                  a name that begins with a dash

Outlines set by hand are also read from a file beside the photo: a.jpg has a.jpg.marks.yaml.
Pictures are named by the photo: a.region.png, a.deposit.png, a.overlay.png; a second a.jpg in one run becomes a-2.

` + exitHelp

func scoreCommand() *cli.Command {
	return &cli.Command{
		Name:        "score",
		Usage:       "grade photos",
		ArgsUsage:   "PHOTO|FOLDER|PATTERN...",
		Description: aboutScore,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "json", Usage: "write the results to `FILE`, - for standard output instead of the table"},
			&cli.StringFlag{Name: "masks", Usage: "write region and deposit masks to `DIR`"},
			&cli.StringFlag{Name: "overlay", Usage: "write an overlay picture of each photo to `DIR`"},
			&cli.StringFlag{Name: "marks", Usage: "take the outlines from `FILE` (one photo only)"},
			&cli.StringFlag{Name: "head", Usage: "outline of the head, `X,Y,A,B,ANGLE`: centre, semi-axes in pixels, degrees clockwise (one photo only)"},
			&cli.StringFlag{Name: "stem", Usage: "centre line of the stem from its far end, `X1,Y1,X2,Y2,WIDTH` in pixels (one photo only)"},
			&cli.IntFlag{Name: "workers", Usage: "score `N` photos at the same time", DefaultText: "one per core"},
			&cli.Float64Flag{Name: "max-megapixels", Usage: "refuse photos of more than `N` million pixels", Value: 64},
			&cli.StringFlag{Name: "net", Usage: "use the net in `FILE` (ONNX) instead of the built-in one"},
		},
		Action: runScore,
	}
}

func runScore(c *cli.Context) error {
	photos, err := listPhotos(c.Args().Slice())
	if err != nil {
		return err
	}
	for _, remark := range photos.remarks {
		note(c.App.ErrWriter, "%s", remark)
	}
	options, err := scoreOptions(c, photos.paths)
	if err != nil {
		return err
	}
	out := outputs{json: c.String("json"), masks: c.String("masks"), overlay: c.String("overlay"), stdout: c.App.Writer}
	if err := out.prepare(photos); err != nil {
		return err
	}
	if out.wantsPictures() {
		options.Picture = out.picture
		noteRenamed(c, photos.paths)
	}
	document, err := scoreAll(c, photos.paths, options)
	interrupted := errors.Is(err, context.Canceled)
	if err != nil && !interrupted {
		return err
	}
	if err := out.document(document); err != nil {
		return err
	}
	if out.json != toStdout {
		if err := terminal.Table(c.App.Writer, document.Photos); err != nil {
			return err
		}
	}
	if interrupted {
		return fmt.Errorf("interrupted: %d of %d photos are scored and written", len(document.Photos), len(photos.paths))
	}
	return verdict(document)
}

// scoreOptions reads the options of the measurement from the command line.
func scoreOptions(c *cli.Context, paths []string) (score.BatchOptions, error) {
	options := score.BatchOptions{Workers: c.Int("workers")}
	options.Program = programVersion()
	if c.IsSet("workers") && options.Workers < 1 {
		return options, misuse("--workers must be 1 or more")
	}
	megapixels := c.Float64("max-megapixels")
	if !(megapixels > 0 && megapixels <= 1000) { // also false for NaN
		return options, misuse("--max-megapixels must be above 0 and at most 1000")
	}
	options.Limits = photo.Limits{MaxPixels: int(megapixels * 1e6)}
	if file := c.String("net"); file != "" {
		onnx, err := os.ReadFile(file)
		if err != nil {
			return options, fmt.Errorf("cannot read the net: %w", err)
		}
		options.Net = onnx
	}
	marks, err := handMarks(c)
	if err != nil {
		return options, err
	}
	if marks != nil && len(paths) > 1 {
		return options, hinted(misuse("marks on the command line are for one photo, but there are %d", len(paths)),
			"put the marks of each photo into %s beside it", region.MarksPath("PHOTO"))
	}
	options.Marks = marks
	return options, nil
}

// scoreAll scores the photos and collects what is known about each. After an interrupt the document holds what was done.
func scoreAll(c *cli.Context, paths []string, options score.BatchOptions) (*score.Document, error) {
	document := score.NewDocument(options.Version())
	progress := terminal.NewProgress(c.App.ErrWriter, len(paths))
	defer progress.Close()
	err := score.Batch(c.Context, paths, options, func(r *score.Result) error {
		document.Photos = append(document.Photos, r.Record())
		progress.Step()
		return nil
	})
	return document, err
}

// noteRenamed tells which pictures are not named by their photo alone.
func noteRenamed(c *cli.Context, paths []string) {
	for i, label := range score.Labels(paths) {
		if label != score.Labels(paths[i : i+1])[0] {
			note(c.App.ErrWriter, "pictures of %q are named %q, because another photo has its name", paths[i], label)
		}
	}
}

func verdict(d *score.Document) error {
	for _, p := range d.Photos {
		if p.Status == score.Refused {
			return errRefused
		}
	}
	return nil
}
