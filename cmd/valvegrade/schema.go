package main

import (
	"github.com/urfave/cli/v2"

	"valvegrade/pkg/score"
)

func schemaCommand() *cli.Command {
	return &cli.Command{
		Name:  "schema",
		Usage: "print the JSON Schema of the results that score --json writes",
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return misuse("schema takes no arguments")
			}
			_, err := c.App.Writer.Write(score.Schema)
			return err
		},
	}
}
