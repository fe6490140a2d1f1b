package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/limit"
	"valvegrade/internal/net"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/score"
)

// measuringFlags are the options of every command that scores photos.
func measuringFlags() []cli.Flag {
	return []cli.Flag{
		&cli.IntFlag{Name: "workers", Usage: "score `N` photos at the same time", DefaultText: "one per core"},
		&cli.Float64Flag{Name: "max-megapixels", Usage: "refuse photos of more than `N` million pixels", Value: 64},
		netFlag(),
	}
}

// netFlag is the option of every command that looks at photos.
func netFlag() cli.Flag {
	return &cli.GenericFlag{
		Name:  "net",
		Value: &files{},
		Usage: "use the net in `FILE` (ONNX) for the look it was made for, instead of the built-in one; may be given twice",
	}
}

// measuringOptions reads the measuringFlags.
func measuringOptions(c *cli.Context) (score.BatchOptions, error) {
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
	var err error
	options.Nets, err = chosenNets(c)
	return options, err
}

// chosenNets reads the files of --net, and finds out whether they can be used before the work begins.
func chosenNets(c *cli.Context) ([][]byte, error) {
	var nets [][]byte
	names := *c.Generic("net").(*files)
	for _, file := range names {
		onnx, err := limit.ReadFile(file, limit.NetBytes)
		if err != nil {
			return nil, misuse("--net: cannot read %q: %w", file, cause(err))
		}
		if err := tryNet(c.Context, onnx); err != nil {
			return nil, hinted(
				misuse("--net: %q is no net that this program can use", file),
				"leave --net out to use the built-in one",
			)
		}
		nets = append(nets, onnx)
	}
	if _, err := net.HashOf(nets...); err != nil {
		return nil, hinted(
			misuse("--net: the files %s are nets for the same look", quoted(names)),
			"give one for each look at most",
		)
	}
	return nets, nil
}

// scoreAll scores the photos and collects what is known about the valves of each. After an interrupt the document holds
// what was done.
func scoreAll(
	c *cli.Context,
	paths []string,
	options score.BatchOptions,
	progress *terminal.Progress,
) (*score.Document, error) {
	document := score.NewDocument(options.Version())
	step := stepping(progress)
	err := score.Batch(c.Context, paths, options, func(r *score.Result) error {
		document.Photos = append(document.Photos, r.Record())
		step(r)
		return nil
	})
	return document, err
}

// verdict ends a run in which a photo was refused with the exit code for that. A photo is judged when one of its valves
// is.
func verdict(valves []score.Record) error {
	for _, photo := range score.PerPhoto(valves) {
		if allRefused(photo) {
			return errRefused
		}
	}
	return nil
}

// wholly ends a run in which a valve of an inspection was refused with the exit code for that.
func wholly(valves []score.Record) error {
	if slices.ContainsFunc(valves, func(r score.Record) bool { return r.Status == score.Refused }) {
		return errRefused
	}
	return nil
}

func allRefused(photo []score.Record) bool {
	return !slices.ContainsFunc(photo, func(r score.Record) bool { return r.Status != score.Refused })
}
