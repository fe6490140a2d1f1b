package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/chart"
	"valvegrade/internal/limit"
	"valvegrade/pkg/folder"
)

// onlyCharted refuses a flag that chooses what the chart shows, where no chart is wanted: passed over in silence, it
// would seem to choose what is printed.
func onlyCharted(c *cli.Context, flag string) error {
	if c.IsSet(flag) && c.String("chart") == "" {
		return hinted(
			misuse("--%s says what the chart shows, but there is no --chart", flag),
			"add --chart %q",
			exampleNames["--chart"],
		)
	}
	return nil
}

// chartFile returns the file of --chart and its format, svg or png; both are empty when no chart is wanted.
func chartFile(c *cli.Context) (path, format string, err error) {
	path = c.String("chart")
	if path == "" {
		return "", "", nil
	}
	format = strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".")
	if format != "svg" && format != "png" {
		return "", "", hinted(misuse("--chart %q ends neither in .svg nor in .png", path), "--chart %q", path+".svg")
	}
	return path, format, nil
}

// spareForeign refuses to draw over a picture that is no chart of this program: it may be a photo. One's own chart is
// replaced, as every output is.
func spareForeign(path string) error {
	if !folder.IsPhoto(path) {
		return nil
	}
	file, err := limit.Open(path)
	if err != nil {
		return nil // nothing is there, or no file; writing says what is wrong
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.Size() == 0 || chart.IsMarked(file) {
		return nil
	}
	return hinted(
		misuse("--chart %q is a picture that is there already and no chart of valvegrade's: it is not overwritten", path),
		"choose another name, or remove that picture first where it is not needed, such as a chart of an earlier version",
	)
}
