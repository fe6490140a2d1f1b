package main

import (
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"
	"github.com/xrash/smetrics"
)

const aboutApp = `valvegrade measures how much deposit an intake valve carries, from a borescope or phone photo: it finds
head and stem, measures the deposit on them, and puts it on one fixed scale with an interval.

A grade describes what the photo shows. It does not diagnose a misfire, and it does not replace the maker's service
information, local rules or a licensed technician. Read the cautions in README.md before cleaning anything.

` + exitHelp

// newApp puts the commands together. Errors are returned to run and never end the process from inside the library.
func newApp(stdout, stderr io.Writer) *cli.App {
	app := &cli.App{
		Name:        "valvegrade",
		Usage:       "grade intake-valve deposits from photos",
		Description: aboutApp,
		HideVersion: true, // version is a command, and an option of our own that says the same
		Flags: []cli.Flag{
			&cli.BoolFlag{
				Name:    "version",
				Aliases: []string{"v"},
				Usage:   "print the versions, as the command version does",
			},
		},
		EnableBashCompletion: true,
		Writer:               stdout,
		ErrWriter:            stderr,
		ExitErrHandler:       func(*cli.Context, error) {},
		OnUsageError:         wrongUsage,
		Action:               withoutCommand,
		Commands: []*cli.Command{
			initCommand(), scoreCommand(), compareCommand(), trendCommand(), agreeCommand(), reportCommand(), verifyCommand(), serveCommand(),
			archiveCommand(), workCommand(),
			schemaCommand(), versionCommand(), completionCommand(), manualCommand(), tryNetCommand(),
		},
	}
	for _, command := range app.Commands {
		command.OnUsageError = wrongUsage
		command.HideHelpCommand = true // "score help" would shadow a photo of that name, and complete before file names
	}
	return app
}

// wrongUsage turns the library's complaint about a flag into ours. A file whose name begins with a dash is read as a
// flag.
func wrongUsage(c *cli.Context, err error, _ bool) error {
	if _, name, found := strings.Cut(err.Error(), "not defined: "); found {
		for _, dashes := range []string{"", "-"} { // the library names a flag with one dash
			if _, missing := os.Stat(dashes + name); missing == nil {
				return hinted(
					misuse("%w", err),
					"%s -- %q, if the file of that name is meant",
					c.Command.HelpName,
					dashes+name,
				)
			}
		}
	}
	return hinted(misuse("%w", err), "%s --help lists the options", c.Command.HelpName)
}

// withoutCommand runs when the first argument is no command.
func withoutCommand(c *cli.Context) error {
	if c.Bool("version") {
		return printVersion(c)
	}
	name := c.Args().First()
	if name == "" {
		return hinted(misuse("no command given"), "valvegrade score PHOTO grades a photo; valvegrade --help tells all")
	}
	if _, err := os.Stat(name); err == nil {
		return hinted(misuse("%q is no command", name), "valvegrade score %q", name)
	}
	if likely := likeliestCommand(c.App.Commands, name); likely != "" {
		return hinted(misuse("%q is no command", name), "did you mean %q?", likely)
	}
	return hinted(misuse("%q is no command", name), "valvegrade --help lists the commands")
}

// mostSlips is how many letters may be missing, too many or others for a word still to be taken for a slip of the pen;
// two that changed places are two others.
const mostSlips = 2

// likeliestCommand is the command that a word is a slip of, "" when it is like none.
func likeliestCommand(commands []*cli.Command, word string) string {
	likely, fewest := "", mostSlips+1
	for _, command := range commands {
		if slips := smetrics.WagnerFischer(strings.ToLower(word), command.Name, 1, 1, 1); slips < fewest {
			likely, fewest = command.Name, slips
		}
	}
	return likely
}
