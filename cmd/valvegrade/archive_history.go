package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

var aboutArchiveHistory = `Shows what the archive knows of a vehicle over the years: growth of the deposit over the odometer, as a table, a chart, and a
report of the last visit with the history. The report holds it against the visit before, where a cleaning or a distance lies
between the two, and says what the cleaning did, or how the deposit grew; --since takes another visit.

  valvegrade archive history --chart growth.svg --report visit.html "QX 417"
  valvegrade archive history --since 31 --report grown.pdf "QX 417"           since the inspection that show calls 31

` + cautions

func archiveHistoryCommand() *cli.Command {
	return &cli.Command{
		Name: "history", Usage: "trend, chart and report of a vehicle over its visits", ArgsUsage: "VEHICLE", Description: aboutArchiveHistory,
		Flags: append(archiveFlags(append(trendFlags(),
			&cli.StringFlag{
				Name:  "report",
				Usage: "write a report of the last visit to `FILE`: " + strings.Join(formatNames(), ", "),
			},
			&cli.Int64Flag{
				Name:        "since",
				Usage:       "hold it against the inspection with the number `N`",
				DefaultText: "the one before, where a cleaning or a distance lies between",
			},
			&cli.StringFlag{Name: "shop", Usage: "take the shop's name, address and logo for it from `FILE` (YAML)"},
			&cli.StringFlag{
				Name:  "logo",
				Usage: "show the picture in `FILE` (PNG or JPEG) in it instead of the shop file's",
			},
			&cli.StringFlag{Name: "customer", Usage: "write `NAME` as the customer's into it"},
			&cli.StringFlag{Name: "remarks", Usage: "write `TEXT` above its result"},
			&cli.StringFlag{Name: "date", Usage: "write `YYYY-MM-DD` as its day", DefaultText: "today"},
			&cli.StringFlag{
				Name:  "locale",
				Usage: "write its numbers and dates as in `TAG`, such as en-GB",
				Value: "en-US",
			},
			&cli.StringFlag{
				Name:        "paper",
				Usage:       "make a PDF for `PAPER`, a4 or letter",
				DefaultText: "by the region of --locale",
			},
		)...), measuringFlags()...),
		Action: runArchiveHistory,
	}
}

func runArchiveHistory(c *cli.Context) error {
	unit, err := unitOption(c)
	if err != nil {
		return err
	}
	if c.IsSet("since") && c.String("report") == "" {
		return hinted(misuse("--since is for a report"), "add --report visit.html")
	}
	if err := prepareTrend(c, nil); err != nil {
		return err
	}
	if err := tryFile("--report", c.String("report")); err != nil {
		return err
	}
	return withArchive(c, func(a *archive.Archive) error {
		v, err := pickVehicle(c, a)
		if err != nil {
			return err
		}
		kept, err := a.Inspections(c.Context, v.ID)
		if err != nil {
			return err
		}
		visits := make([]*engine.Graded, len(kept))
		for n, k := range kept {
			if visits[n], err = a.Graded(c.Context, k.ID, ""); err != nil {
				return err
			}
		}
		t, err := trendOfVisits(visits, unit)
		if err != nil {
			return err
		}
		// A visit that the report cannot be held against is wrong usage, so nothing is done: not even the trend.
		if _, err := earlierVisit(c, kept, visits); err != nil {
			return err
		}
		if err := showTrend(c, t); err != nil {
			return err
		}
		if c.String("report") == "" {
			return nil
		}
		return reportVisit(c, a, kept, visits)
	})
}

// trendOfVisits draws the trend of a vehicle, and says where the visits were scored by different versions.
func trendOfVisits(visits []*engine.Graded, unit inspection.Unit) (*trend.Trend, error) {
	engines := make([]*engine.Engine, len(visits))
	for n, g := range visits {
		engines[n] = g.Engine
	}
	t, err := trend.Of(engines, unit)
	if err != nil {
		return nil, hinted(fault("%w", err), "correct inspection.yaml and add its folder again")
	}
	if versions := versionsOf(visits); len(versions) > 1 {
		t.Notes = append(
			t.Notes,
			fmt.Sprintf(
				"scored by different versions (%s): valvegrade archive rescore --adopt has all measured alike",
				quoted(versions),
			),
		)
	}
	return t, nil
}
