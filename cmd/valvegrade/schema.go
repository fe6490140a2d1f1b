package main

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/region"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
)

// schemas are the JSON Schemas of what the commands write, by command; inspection is the part that score adds for a
// folder with inspection.yaml, and marks the outlines set by hand, which score reads.
var schemas = map[string][]byte{
	"score":      score.Schema,
	"compare":    compare.Schema,
	"inspection": engine.Schema,
	"trend":      trend.Schema,
	"agree":      agree.Schema,
	"report":     report.Schema,
	"columns":    columnsOfCSV(),
	"marks":      region.MarksSchema,
}

// columnsOfCSV explains the columns of a report as CSV, which has no schema language of its own, one a line.
func columnsOfCSV() []byte {
	var text bytes.Buffer
	var rows [][]string
	for _, c := range report.Columns() {
		rows = append(rows, []string{c.Name, c.Meaning})
	}
	if err := terminal.Columns(&text, rows); err != nil {
		panic(err) // a buffer takes everything
	}
	return text.Bytes()
}

func schemaCommand() *cli.Command {
	names := strings.Join(slices.Sorted(maps.Keys(schemas)), "|")
	return &cli.Command{
		Name:         "schema",
		Usage:        "print the JSON Schema of a written result, or of marks",
		ArgsUsage:    "[" + names + "]",
		Description:  "Without an argument it is that of score --json. columns explains those of report --format csv. marks is what\na file with outlines set by hand says, which is written in YAML.",
		BashComplete: completeArgument(slices.Sorted(maps.Keys(schemas))...),
		Action: func(c *cli.Context) error {
			name := c.Args().First()
			if name == "" {
				name = "score"
			}
			text, known := schemas[name]
			if c.Args().Len() > 1 {
				return hinted(misuse("schema takes one name"), "valvegrade schema %s", names)
			}
			if !known {
				return hinted(misuse("%q is no schema", name), "valvegrade schema %s", names)
			}
			_, err := c.App.Writer.Write(text)
			return err
		},
	}
}
