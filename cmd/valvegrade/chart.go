package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"
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
