package main

import (
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"
)

const aboutApp = `valvegrade measures how much deposit an intake valve carries, from a borescope or phone photo: it finds
head and stem, measures the deposit on them, and puts it on one fixed scale with an interval.

A grade describes what the photo shows. It does not diagnose a misfire, and it does not replace the maker's service
information, local rules or a licensed technician. Read the cautions in README.md before cleaning anything.

` + exitHelp

// newApp puts the commands together. Errors are returned to run and never end the process from inside the library.
func newApp(stdout, stderr io.Writer) *cli.App {
	app := &cli.App{
		Name:                 "valvegrade",
		Usage:                "grade intake-valve deposits from photos",
		Description:          aboutApp,
		HideVersion:          true, // version is a command
		EnableBashCompletion: true,
		Writer:               stdout,
		ErrWriter:            stderr,
		ExitErrHandler:       func(*cli.Context, error) {},
		OnUsageError:         wrongUsage,
		Action:               withoutCommand,
		Commands: []*cli.Command{
			initCommand(), scoreCommand(), compareCommand(), trendCommand(), agreeCommand(), reportCommand(), verifyCommand(),
			schemaCommand(), versionCommand(), completionCommand(),
		},
	}
	for _, command := range app.Commands {
		command.OnUsageError = wrongUsage
		command.HideHelpCommand = true // "score help" would shadow a photo of that name, and complete before file names
	}
	return app
}

// wrongUsage turns the library's complaint about a flag into ours.
func wrongUsage(c *cli.Context, err error, _ bool) error {
	return hinted(misuse("%w", err), "%s --help lists the options", c.Command.HelpName)
}

// withoutCommand runs when the first argument is no command.
func withoutCommand(c *cli.Context) error {
	name := c.Args().First()
	if name == "" {
		return hinted(misuse("no command given"), "valvegrade score PHOTO grades a photo; valvegrade --help tells all")
	}
	if _, err := os.Stat(name); err == nil {
		return hinted(misuse("%q is no command", name), "valvegrade score %q", name)
	}
	if question := cli.SuggestCommand(c.App.Commands, name); question != "" {
		return hinted(misuse("%q is no command", name), "%s", strings.ToLower(question))
	}
	return hinted(misuse("%q is no command", name), "valvegrade --help lists the commands")
}
