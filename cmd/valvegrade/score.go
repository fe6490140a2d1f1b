package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

var aboutScore = `Finds the valve in each photo, measures its deposit and prints a table: grade 0 to 4 and how likely each
grade is, dark deposit with its 95 % interval, whether cleaning is due, and what to do; on a wide terminal also the deposit
index and how sure the outline is. A photo that cannot be judged is refused with
advice; the others are scored all the same. Each valve of a photo has its row, numbered from left to right.

  valvegrade score port1.jpg                         one photo
  valvegrade score --overlay seen --json r.json DIR  all photos of a folder, with pictures and results
  valvegrade score --json may.json DIR               a folder with inspection.yaml: valves, cylinders and engine, too
  valvegrade score --head 310,240,120,95,10 a.jpg    with the head's outline set by hand
  valvegrade score -- -odd-name.jpg                  a name that begins with a dash

A folder stands for the photos in it and in its folders; files that are no photos are named and left out.

Outlines set by hand are also read from a file beside the photo: a.jpg has a.jpg.marks.yaml or a.marks.yaml, such as
  head: {centre: [310, 240], axes: [120, 95], angle: 10}           # semi-axes; pixels, degrees clockwise
  stem: {from: [300, 20], to: [308, 160], width: 44}               # from the far end; left out where it is hidden
  find_others: true                                                # other valves as the program finds them, else none
Pictures are named by the photo: a.region.png, a.deposit.png, a.overlay.png; a second a.jpg in one run becomes a-2.

` + exitHelp + "\n\n" + caution

func scoreCommand() *cli.Command {
	return &cli.Command{
		Name:        "score",
		Usage:       "grade photos",
		ArgsUsage:   "PHOTO|FOLDER|PATTERN...",
		Description: aboutScore,
		Flags: append([]cli.Flag{
			&cli.StringFlag{
				Name:  "json",
				Usage: "write the results to `FILE`, - for standard output instead of the table",
			},
			&cli.StringFlag{Name: "masks", Usage: "write region and deposit masks to `DIR`"},
			&cli.StringFlag{Name: "overlay", Usage: "write an overlay picture of each photo to `DIR`"},
			&cli.StringFlag{
				Name:  "stages",
				Usage: "write each step of the measurement as a picture to `DIR`: region, quality, evened light, classes",
			},
			&cli.StringFlag{Name: "marks", Usage: "take the outlines from `FILE` (one photo only)"},
			&cli.StringFlag{
				Name:  "head",
				Usage: "outline of the head, `X,Y,A,B,ANGLE`: centre, semi-axes in pixels, degrees clockwise; without --stem all of it counts as head (one photo only)",
			},
			&cli.StringFlag{
				Name:  "stem",
				Usage: "centre line of the stem from its far end, `X1,Y1,X2,Y2,WIDTH` in pixels (one photo only)",
			},
		}, measuringFlags()...),
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
	out := &outputs{
		json:    c.String("json"),
		masks:   c.String("masks"),
		overlay: c.String("overlay"),
		stages:  c.String("stages"),
	}
	if err := out.prepare(c, photos); err != nil {
		return err
	}
	if out.wantsPictures() {
		options.Picture = out.picture
		noteRenamed(c, photos.paths)
	}
	options.Map = photos.inspection != nil && out.json != ""
	progress := terminal.NewProgress(c.App.ErrWriter, len(photos.paths))
	document, err := scoreAll(c, photos.paths, options, progress)
	progress.Close()
	var judged error
	switch {
	case err != nil:
		return showPart(c, photos, document, err)
	case photos.inspection != nil:
		judged, err = showInspection(c, photos.inspection, document)
	default:
		judged, err = verdict(document.Photos), showPhotos(c, document, c.String("json"), "")
	}
	if err := errors.Join(err, out.failure()); err != nil {
		return err
	}
	return judged
}

// showPart writes and prints what a run had scored that ended with err before its time. A file that may hold the whole
// is left as it is.
func showPart(c *cli.Context, photos *photoList, d *score.Document, err error) error {
	file := partial(c.String("json"))
	if err := showPhotos(c, d, file, photos.unit()); err != nil {
		return err
	}
	if photos.inspection != nil {
		note(c.App.ErrWriter, "the engine is not graded, and the result is one of photos only")
	}
	if !errors.Is(err, context.Canceled) {
		return err
	}
	written := ""
	if file != "" && file != toStdout {
		written = fmt.Sprintf(" into %q", file)
	}
	return fmt.Errorf(
		"interrupted: %d of %d photos are scored and written%s",
		len(score.PerPhoto(d.Photos)),
		len(photos.paths),
		written,
	)
}

// showPhotos writes to the file, and prints, the results of photos on their own, or of an inspection that was
// interrupted, whose odometer has the unit.
func showPhotos(c *cli.Context, d *score.Document, file string, unit inspection.Unit) error {
	if err := writeFile(file, c.App.Writer, d.Write); err != nil {
		return err
	}
	if c.String("json") == toStdout {
		return nil
	}
	if err := terminal.Table(c.App.Writer, d.Photos, unit, terminal.Width(c.App.Writer)); err != nil {
		return err
	}
	return showCautionsIfDue(c.App.Writer, d.Photos)
}

// showInspection writes and prints the results of photos with the grades of their engine, and returns how its valves
// were judged.
func showInspection(c *cli.Context, i *inspection.Inspection, photos *score.Document) (judged, err error) {
	d, err := engine.Of(i, photos)
	if err != nil {
		return nil, err
	}
	if i.Date.After(time.Now().AddDate(0, 0, 1)) { // a day for time zones
		note(
			c.App.ErrWriter,
			"the inspection is dated %s, which lies in the future: check the date in %s",
			i.Date.Format(time.DateOnly),
			inspection.File,
		)
	}
	if err := writeFile(c.String("json"), c.App.Writer, d.Write); err != nil {
		return nil, err
	}
	if c.String("json") == toStdout {
		return wholly(d.Photos), nil
	}
	width := terminal.Width(c.App.Writer)
	if err := terminal.Table(c.App.Writer, d.Photos, i.Odometer.Unit, width); err != nil {
		return nil, err
	}
	if err := terminal.Engine(c.App.Writer, d.Engine, width); err != nil {
		return nil, err
	}
	return wholly(d.Photos), showCautionsIfDue(c.App.Writer, d.Photos)
}

// scoreOptions reads the options of the measurement and the outlines set by hand from the command line.
func scoreOptions(c *cli.Context, paths []string) (score.BatchOptions, error) {
	options, err := measuringOptions(c)
	if err != nil {
		return options, err
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
	return options, fitting(marks, paths[0], options.Limits)
}

// noteRenamed tells which pictures are not named by their photo alone.
func noteRenamed(c *cli.Context, paths []string) {
	for i, label := range score.Labels(paths) {
		if label != score.Labels(paths[i : i+1])[0] {
			note(c.App.ErrWriter, "pictures of %q are named %q, because another photo has its name", paths[i], label)
		}
	}
}
