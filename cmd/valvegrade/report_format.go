package main

import (
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/pdf"
	"valvegrade/pkg/report"
)

// format is how a report can be written, and whether it shows pictures: those take as long as scoring.
type format struct {
	write    func(*report.Model, io.Writer) error
	pictures bool
}

// formats are those there are, by the extension of the file. What could not be written is told to stderr.
func formats(stderr io.Writer) map[string]format {
	return map[string]format{
		"html": {(*report.Model).WriteHTML, true},
		"csv":  {(*report.Model).WriteCSV, false},
		"json": {(*report.Model).WriteJSON, false},
		"txt":  {(*report.Model).WriteText, false},
		"pdf": {func(m *report.Model, w io.Writer) error {
			lost, err := pdf.Write(m, w)
			if len(lost) > 0 {
				note(stderr, "%s", m.Texts.Say(fmt.Sprintf(
					"the fonts of the PDF lack %q, which stand as ? in it; as a page (--format html) the report shows them",
					string(lost),
				)))
			}
			return err
		}, true},
	}
}

func formatNames() []string { return slices.Sorted(maps.Keys(formats(io.Discard))) }

// chosenFormat is that of --format, else that of the extension of the file that an option names.
func chosenFormat(c *cli.Context, option string) (format, error) {
	name, out := c.String("format"), c.String(option)
	if out == "" {
		return format{}, hinted(misuse("--%s does not say where the report goes", option), "add --%s report.html", option)
	}
	if err := tryFile("--"+option, out); err != nil {
		return format{}, err
	}
	if name == "" {
		name = strings.TrimPrefix(strings.ToLower(filepath.Ext(out)), ".")
	}
	as, known := formats(c.App.ErrWriter)[name]
	switch {
	case name == "":
		return as, hinted(
			misuse("the name %q does not say how the report is to be written", out),
			"--format %s",
			strings.Join(formatNames(), "|"),
		)
	case !known:
		return as, hinted(
			misuse("no report can be written as %q", name),
			"--format %s",
			strings.Join(formatNames(), "|"),
		)
	}
	return as, nil
}
