package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/store"
)

// The environment says where archive and photos lie, so that no password stands on a command line, where every user of
// the machine can read it.
const (
	archiveVariable = "VALVEGRADE_ARCHIVE"
	photosVariable  = "VALVEGRADE_PHOTOS"
)

const aboutArchive = `The shop's memory: vehicles, inspections, photos and results in one place that is searched in an instant, for years.

  valvegrade archive add jobs                        every inspection folder below jobs; again changes nothing
  valvegrade archive find "QX 417"                   by plate, VIN or its end, name, job, the customer's wish
  valvegrade archive history --report h.html "QX 417"  growth over the odometer, and the last visit against the one before
  valvegrade archive statistics                      what cleaning removes, grades by engine family, year, technician

It is one file in your folder of data, ~/.local/share/valvegrade/archive.db, with the photos beside it, and needs no
set-up. --archive or VALVEGRADE_ARCHIVE names another, or a PostgreSQL database for several machines or shops:

  VALVEGRADE_ARCHIVE=postgres://ann@server/valvegrade
  VALVEGRADE_PHOTOS=/mnt/photos                      a folder that all machines see, or s3://BUCKET?endpoint=HOST

A password belongs into VALVEGRADE_ARCHIVE, PGPASSWORD or ~/.pgpass, and the keys of s3 into AWS_ACCESS_KEY_ID and
AWS_SECRET_ACCESS_KEY. It is shown and written down nowhere.`

func archiveCommand() *cli.Command {
	command := &cli.Command{
		Name:            "archive",
		Usage:           "the shop's memory: add inspections, find them again, statistics",
		Description:     aboutArchive,
		HideHelpCommand: true,
		Subcommands: []*cli.Command{
			archiveAddCommand(), archiveFindCommand(), archiveShowCommand(), archiveHistoryCommand(), archiveStatisticsCommand(),
			archiveOverruleCommand(), archiveExportCommand(), archiveCheckCommand(), archiveForgetCommand(), archiveBackupCommand(),
			archiveRestoreCommand(), archiveRescoreCommand(), archiveQueueCommand(),
		},
		Action: func(c *cli.Context) error {
			if name := c.Args().First(); name != "" {
				if likely := likeliestCommand(c.Command.Subcommands, name); likely != "" {
					return hinted(misuse("archive has no command %q", name), "did you mean %q?", likely)
				}
				return hinted(misuse("archive has no command %q", name), "valvegrade archive --help lists them")
			}
			return hinted(misuse("archive wants to know what to do"), "valvegrade archive --help lists the commands")
		},
	}
	for _, sub := range command.Subcommands {
		sub.OnUsageError = wrongUsage
		sub.HideHelpCommand = true
		if sub.ArgsUsage == "" {
			sub.Action = withoutArguments(sub.Action)
		}
	}
	return command
}

// withoutArguments refuses arguments, which would seem to choose something.
func withoutArguments(action cli.ActionFunc) cli.ActionFunc {
	return func(c *cli.Context) error {
		if c.Args().Present() {
			return hinted(misuse("%s takes no argument, and %q is one", c.Command.HelpName, c.Args().First()),
				"%s --help lists its options", c.Command.HelpName)
		}
		return action(c)
	}
}

// archiveFlags are the options of every command that opens an archive.
func archiveFlags(more ...cli.Flag) []cli.Flag {
	return append(more,
		&cli.StringFlag{
			Name:        "archive",
			Usage:       "use the archive in `FILE`, or at a postgres:// address without a password",
			DefaultText: "$" + archiveVariable + ", else the file in your folder of data",
		},
		&cli.StringFlag{
			Name:        "photos",
			Usage:       "the photos lie in the folder `DIR`, or at an s3:// address",
			DefaultText: "$" + photosVariable + ", else beside the file",
		},
	)
}

// withArchive opens the archive of the options, which must be there, does the work and closes it.
func withArchive(c *cli.Context, work func(a *archive.Archive) error) error {
	options, err := archiveOptions(c)
	if err != nil {
		return err
	}
	if file := options.Location.File(); file != "" {
		if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
			return hinted(misuse("there is no archive %s", options.Location), "valvegrade archive add FOLDER begins one")
		}
	}
	return withArchiveOf(c, options, work)
}

// withNewArchive is withArchive for what may begin an archive.
func withNewArchive(c *cli.Context, work func(a *archive.Archive) error) error {
	options, err := archiveOptions(c)
	if err != nil {
		return err
	}
	return withArchiveOf(c, options, work)
}

func withArchiveOf(c *cli.Context, options archive.Options, work func(a *archive.Archive) error) error {
	a, err := archive.Open(c.Context, options)
	if err != nil {
		return cannotOpen(options.Location, err)
	}
	defer a.Close()
	return advised(a, work(a))
}

func archiveOptions(c *cli.Context) (archive.Options, error) {
	o := archive.Options{Photos: c.String("photos"), Program: programVersion()}
	if o.Photos == "" {
		o.Photos = os.Getenv(photosVariable)
	}
	text := c.String("archive")
	if text == "" {
		text = os.Getenv(archiveVariable)
	}
	var err error
	if o.Location, err = archive.Locate(text); err != nil {
		return o, misuse("%w", err)
	}
	if c.IsSet("archive") && o.Location.HasPassword() {
		return o, hinted(misuse("a password on the command line can be read by everybody on this machine"),
			"put the address into %s, or the password into PGPASSWORD or ~/.pgpass", archiveVariable)
	}
	return o, nil
}

// cannotOpen says which archive it is that cannot be opened, and what to do.
func cannotOpen(l archive.Location, err error) error {
	var newer *archive.NewerError
	switch {
	case errors.As(err, &newer):
		return hinted(err, "install valvegrade %s or newer on this machine", newer.Program)
	case errors.Is(err, archive.ErrGone):
		return hinted(fault("archive %s: %w", l, err), "check that the database runs and that this machine reaches it")
	}
	return fault("archive %s: %w", l, err)
}

// advised adds what to do to what can go wrong in an open archive.
func advised(a *archive.Archive, err error) error {
	err = archive.Explain(err)
	switch {
	case errors.Is(err, archive.ErrForgotten):
		return misuse("%w", err)
	case errors.Is(err, archive.ErrNoPhotos):
		return hinted(err, "set %s, or --photos, to a folder that all machines see", photosVariable)
	case errors.Is(err, archive.ErrFull), errors.Is(err, store.ErrFull):
		return hinted(err, "make room on that disk and do it again: nothing was written by half")
	case errors.Is(err, archive.ErrGone):
		return hinted(err, "check that the database runs, and do it again: nothing was written by half")
	case errors.Is(err, archive.ErrSpoilt):
		return hinted(err, "valvegrade archive check lists all such photos; adding their folder again puts them back")
	}
	return err
}
