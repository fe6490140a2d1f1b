package main

import (
	"github.com/urfave/cli/v2"

	"valvegrade/internal/limit"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/score"
)

// measuringFlags are the options of every command that scores photos.
func measuringFlags() []cli.Flag {
	return []cli.Flag{
		&cli.IntFlag{Name: "workers", Usage: "score `N` photos at the same time", DefaultText: "one per core"},
		&cli.Float64Flag{Name: "max-megapixels", Usage: "refuse photos of more than `N` million pixels", Value: 64},
		&cli.StringFlag{Name: "net", Usage: "use the net in `FILE` (ONNX) instead of the built-in one"},
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
	if file := c.String("net"); file != "" {
		onnx, err := limit.ReadFile(file, limit.NetBytes)
		if err != nil {
			return options, misuse("--net: cannot read %q: %w", file, cause(err))
		}
		if err := tryNet(c.Context, onnx); err != nil {
			return options, hinted(misuse("--net: %q is no net that this program can use", file), "leave --net out to use the built-in one")
		}
		options.Net = onnx
	}
	return options, nil
}

// scoreAll scores the photos and collects what is known about each. After an interrupt the document holds what was
// done.
func scoreAll(c *cli.Context, paths []string, options score.BatchOptions, progress *terminal.Progress) (*score.Document, error) {
	document := score.NewDocument(options.Version())
	err := score.Batch(c.Context, paths, options, func(r *score.Result) error {
		document.Photos = append(document.Photos, r.Record())
		progress.Step()
		return nil
	})
	return document, err
}

// verdict ends a run in which a photo was refused with the exit code for that.
func verdict(photos []score.Record) error {
	for _, p := range photos {
		if p.Status == score.Refused {
			return errRefused
		}
	}
	return nil
}
