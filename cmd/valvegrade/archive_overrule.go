package main

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/archive"
)

func archiveOverruleCommand() *cli.Command {
	return &cli.Command{
		Name: "overrule", Usage: "note another grade for a valve, with who and why, beside the measured one", ArgsUsage: "INSPECTION",
		Description: "INSPECTION is the number that show tells.\n\n  valvegrade archive overrule --cylinder 2 --valve 1 --grade 2 --who Ann --why \"soot, wiped off\" 31",
		Flags: archiveFlags(
			&cli.IntFlag{Name: "cylinder", Usage: "the valve is one of cylinder `N`", DefaultText: "none"},
			&cli.IntFlag{Name: "valve", Usage: "the valve is the cylinder's `N`", Value: 1},
			&cli.IntFlag{Name: "grade", Usage: "it has grade `N`, 0 to 4", DefaultText: "none"},
			&cli.StringFlag{Name: "who", Usage: "`NAME` says so"},
			&cli.StringFlag{Name: "why", Usage: "because of `REASON`"},
		),
		Action: func(c *cli.Context) error {
			id, err := strconv.ParseInt(c.Args().First(), 10, 64)
			if err != nil || c.Args().Len() != 1 {
				return hinted(misuse("overrule takes the number of one inspection"), "valvegrade archive show tells it")
			}
			wanted := fmt.Sprintf("%s --cylinder N --valve N --grade N --who NAME --why REASON %d", c.Command.HelpName, id)
			if !c.IsSet("cylinder") || !c.IsSet("grade") {
				return hinted(misuse("nothing is noted: overrule takes the cylinder and its valve's grade"), "%s", wanted)
			}
			return withArchive(c, func(a *archive.Archive) error {
				if _, err := a.Inspection(c.Context, id); err != nil {
					return misnamed(err)
				}
				err := a.Overrule(
					c.Context,
					id,
					archive.Overruled{Cylinder: c.Int("cylinder"), Valve: c.Int("valve"), Grade: c.Int("grade"),
						Who: c.String("who"), Why: c.String("why")},
				)
				if errors.Is(err, archive.ErrOverruling) {
					return hinted(misuse("%w", err), "%s", wanted)
				}
				return misnamed(err)
			})
		},
	}
}
