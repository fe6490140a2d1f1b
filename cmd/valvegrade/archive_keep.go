package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2"
	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/export"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

func archiveExportCommand() *cli.Command {
	formats := strings.Join(export.Formats(), ", ")
	return &cli.Command{
		Name: "export", Usage: "write all results for a spreadsheet or for statistics",
		Description: "A row for each valve in each photo and each version that judged it. Names, plates and jobs are left out.",
		Flags: archiveFlags(
			&cli.StringFlag{Name: "out", Usage: "write them to `FILE`, - for standard output"},
			&cli.StringFlag{Name: "format", Usage: "as `FORMAT`: " + formats, DefaultText: "by the extension of --out"},
			separatorFlag(string(report.Comma)),
			whereFlag()),
		Action: func(c *cli.Context) error {
			f, err := filterOption(c)
			if err != nil {
				return err
			}
			separator, err := separatorOption(c)
			if err != nil {
				return err
			}
			options := export.Options{Semicolons: separator == report.Semicolon}
			out, format := c.String("out"), c.String("format")
			if format == "" {
				format = strings.TrimPrefix(strings.ToLower(filepath.Ext(out)), ".")
			}
			if _, err := export.New(format, io.Discard, options); out == "" || err != nil {
				return hinted(
					misuse("--out does not say where, or as what, the results are written"),
					"--out results.csv, or one of %s",
					formats,
				)
			}
			return withArchive(c, func(a *archive.Archive) error {
				return stream(out, c.App.Writer, func(w io.Writer) error {
					rows, err := export.New(format, w, options)
					if err != nil {
						return err
					}
					if err := a.Export(c.Context, f, rows.Row); err != nil {
						return err
					}
					return rows.Close()
				})
			})
		},
	}
}

// stream writes what may not fit into memory to a file, whole or not at all, or to standard output.
func stream(path string, stdout io.Writer, write func(io.Writer) error) error {
	if path == toStdout {
		return write(stdout)
	}
	if err := tryFile("--out", path); err != nil {
		return err
	}
	file, err := renameio.NewPendingFile(linked(path), renameio.WithPermissions(0o600))
	if err != nil {
		return cannotWrite(path, err)
	}
	defer file.Cleanup()
	if err := write(file); err != nil {
		return err
	}
	if err := file.CloseAtomicallyReplace(); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

func archiveCheckCommand() *cli.Command {
	return &cli.Command{
		Name: "check", Usage: "hold every photo against its hash, and every figure against what it comes from",
		Description: "Ends with 3 when something is wrong, and names it. A photo that is missing or spoilt comes back by adding its folder again.",
		Flags: archiveFlags(
			&cli.BoolFlag{Name: "figures", Usage: "leave the photos alone, which take most of the time"},
			&cli.BoolFlag{
				Name:  "again",
				Usage: "score the photos again whose results are of this version, and compare",
			},
			&cli.BoolFlag{
				Name:  "mend",
				Usage: "write down again what is only derived: the words to find by, which inspection was before each cleaning and what that took off, how likely each grade is",
			},
			jsonFlag(),
		),
		Action: func(c *cli.Context) error {
			return withArchive(c, func(a *archive.Archive) error { return runArchiveCheck(c, a) })
		},
	}
}

func runArchiveCheck(c *cli.Context, a *archive.Archive) error {
	o := archive.CheckOptions{Figures: c.Bool("figures"), Mend: c.Bool("mend")}
	if c.Bool("again") {
		options := score.Options{Program: programVersion()}
		scorer, err := score.New(options)
		if err != nil {
			return err
		}
		defer scorer.Close()
		o.Version = options.Version()
		o.Score = func(data []byte, marks string) []score.Record { return queue.Score(scorer, data, marks) }
	}
	checked, err := a.Check(c.Context, o)
	if err != nil {
		return err
	}
	err = show(c, checked, func() error {
		for _, text := range checked.Faults {
			if _, err := fmt.Fprintln(c.App.Writer, terminal.Escaped(text)); err != nil {
				return err
			}
		}
		forgotten := ""
		if checked.Forgotten > 0 {
			forgotten = fmt.Sprintf("; of %d more, which were forgotten, figures alone are kept, for the statistics", checked.Forgotten)
		}
		_, err := fmt.Fprintf(
			c.App.Writer,
			"%s, %s, %s, %d scored again: %s, %d mended; %s that nothing speaks of%s\n",
			counted(checked.Inspections, "inspection"),
			counted(checked.Results, "result"),
			counted(checked.Photos, "photo"),
			checked.Again,
			counted(len(checked.Faults), "fault"),
			checked.Mended,
			counted(checked.Loose, "photo"),
			forgotten,
		)
		return err
	})
	if err == nil && len(checked.Faults) > 0 {
		return errDiffers
	}
	return err
}

func archiveForgetCommand() *cli.Command {
	return &cli.Command{
		Name: "forget", Usage: "take away whose vehicle it was, and its photos, for good", ArgsUsage: "VEHICLE",
		Description: `Takes away name, plate, VIN, days, jobs, wishes, notes and photos of a vehicle; years, whole thousands of kilometres, engine
family, methods, technicians and grades are kept for the statistics. It cannot be undone, and backups made before still
have it all. Without --for-good it only says what would be taken away, and ends with 0.`,
		Flags: archiveFlags(&cli.BoolFlag{Name: "for-good", Usage: "do it"}),
		Action: func(c *cli.Context) error {
			return withArchive(c, func(a *archive.Archive) error {
				v, err := pickVehicle(c, a)
				if err != nil {
					return err
				}
				if v.Slips > 0 {
					return hinted(
						misuse(
							"%q fits no vehicle exactly, and forgetting cannot be undone",
							strings.Join(c.Args().Slice(), " "),
						),
						"%s #%d is %s",
						c.Command.HelpName,
						v.ID,
						v.Reference,
					)
				}
				if v.Reference == "" {
					return misuse("#%d: %w", v.ID, archive.ErrForgotten)
				}
				if !c.Bool("for-good") {
					note(c.App.ErrWriter, "#%d %s, plate %s, with %s would be forgotten: %s --for-good \"#%d\" does it",
						v.ID, v.Reference, orDash(v.Plate), counted(v.Visits, "inspection"), c.Command.HelpName, v.ID)
					return nil
				}
				photos, err := a.Forget(c.Context, v.ID)
				if err == nil {
					note(c.App.ErrWriter, "forgotten, with %s; backups made before still have it all", counted(photos, "photo"))
				}
				return err
			})
		},
	}
}

func archiveBackupCommand() *cli.Command {
	return &cli.Command{
		Name: "backup", Usage: "write the whole archive to one file, while others work on", ArgsUsage: "FILE",
		Description: "The file is a tar that any program reads: rows as JSON lines, photos as they are. It can be restored into a file or a database.",
		Flags:       archiveFlags(&cli.BoolFlag{Name: "figures", Usage: "leave the photos out"}),
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return hinted(misuse("backup takes the file to write"), "valvegrade archive backup shop.tar")
			}
			return withArchive(c, func(a *archive.Archive) error {
				return stream(
					c.Args().First(),
					c.App.Writer,
					func(w io.Writer) error { return a.Backup(c.Context, w, !c.Bool("figures")) },
				)
			})
		},
	}
}

func archiveRestoreCommand() *cli.Command {
	return &cli.Command{
		Name: "restore", Usage: "read a backup into an empty archive", ArgsUsage: "FILE",
		Description: "  valvegrade archive restore --archive new.db shop.tar",
		Flags:       archiveFlags(),
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return hinted(
					misuse("restore takes the file that backup wrote"),
					"valvegrade archive restore --archive new.db shop.tar",
				)
			}
			file, err := openFile(c.Args().First())
			if err != nil {
				return err
			}
			defer file.Close()
			options, err := archiveOptions(c)
			if err != nil {
				return err
			}
			before := archive.Before(options)
			err = withArchiveOf(c, options, func(a *archive.Archive) error { return a.Restore(c.Context, file) })
			switch {
			case err == nil:
				return nil
			case errors.Is(err, archive.ErrNotEmpty): // another program may have filled it meanwhile
				return hinted(misuse("%w", err), "name another with --archive")
			case errors.Is(err, archive.ErrBackup):
				err = misuse("%q: %w", c.Args().First(), err)
			}
			return errors.Join(err, before.TakeBack())
		},
	}
}
