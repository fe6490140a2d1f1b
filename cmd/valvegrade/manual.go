package main

import (
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

func manualCommand() *cli.Command {
	return &cli.Command{
		Name:        "manual",
		Usage:       "print the manual page",
		Description: "valvegrade manual > valvegrade.1, then: man ./valvegrade.1",
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return misuse("manual takes no arguments")
			}
			page, err := manual()
			if err != nil {
				return err
			}
			_, err = io.WriteString(c.App.Writer, page)
			return err
		},
	}
}

// manual is the help of all commands as a page of section 1, in the form that man reads.
func manual() (string, error) {
	app := newApp(io.Discard, io.Discard)
	about, exits, _ := strings.Cut(app.Description, exitHelp[:strings.Index(exitHelp, "\n")])
	app.Description = about + "\n# EXIT CODES\n```" + exits + "\n```"
	for _, command := range app.Commands {
		// The library prints a usage of several lines as it stands, and leaves a description out.
		usage := strings.TrimSpace(app.Name + " " + command.Name + " " + command.ArgsUsage)
		command.UsageText = usage + "\n\n" + command.Description
	}
	return app.ToManWithSection(1)
}
