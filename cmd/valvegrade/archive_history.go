package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/gather"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/trend"
)

var aboutArchiveHistory = `Shows what the archive knows of a vehicle over the years: growth of the deposit over the odometer, as a table, a chart, and a
report of the last visit with the history. Where the last visit is one after a cleaning, the report holds it against the
inspection before the cleaning.

  valvegrade archive history --chart growth.svg --report visit.html "QX 417"

` + caution

func archiveHistoryCommand() *cli.Command {
	return &cli.Command{
		Name: "history", Usage: "trend, chart and report of a vehicle over its visits", ArgsUsage: "VEHICLE", Description: aboutArchiveHistory,
		Flags: append(archiveFlags(
			&cli.StringFlag{
				Name:  "json",
				Usage: "write the trend to `FILE`, - for standard output instead of the table",
			},
			&cli.StringFlag{Name: "chart", Usage: "draw index over odometer to `FILE`, .svg or .png"},
			&cli.IntFlag{Name: "cylinder", Usage: "chart cylinder `N`", DefaultText: "the worst"},
			&cli.IntFlag{Name: "valve", Usage: "chart valve `N` of that cylinder", DefaultText: "its worst"},
			&cli.BoolFlag{Name: "valves", Usage: "list every valve in the table, too"},
			&cli.StringFlag{
				Name:        "unit",
				Usage:       "count in `UNIT`, mi or km",
				DefaultText: "that of the last inspection",
			},
			&cli.StringFlag{
				Name:  "report",
				Usage: "write a report of the last visit to `FILE`: " + strings.Join(formatNames(), ", "),
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
		), measuringFlags()...),
		Action: runArchiveHistory,
	}
}

func runArchiveHistory(c *cli.Context) error {
	unit, err := unitOption(c)
	if err != nil {
		return err
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
				"scored by different versions (%q): valvegrade archive rescore --adopt has all measured alike",
				versions,
			),
		)
	}
	return t, nil
}

// reportVisit writes a report of the last visit: with the one before the cleaning, where there was one, and with the
// earlier ones as history.
func reportVisit(c *cli.Context, a *archive.Archive, kept []archive.Kept, visits []*engine.Graded) error {
	write, err := chosenFormat(c, "report")
	if err != nil {
		return err
	}
	in, err := reportFacts(c)
	if err != nil {
		return err
	}
	last := len(visits) - 1
	in.Job.Number, in.Job.Technician = kept[last].Job, kept[last].Technician
	shown := []int{last}
	if last > 0 && kept[last].Stage == string(inspection.After) && kept[last-1].Stage == string(inspection.Before) {
		shown = []int{last - 1, last}
	}
	measuring, err := measuringOptions(c)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "valvegrade-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	options := gather.Options{
		BatchOptions: measuring,
		Texts:        in.Texts,
		PictureBytes: gather.PictureBytes(len(visits[last].Photos) * len(shown)),
	}
	options.Map = len(shown) == 2
	for _, n := range shown {
		folder := filepath.Join(dir, fmt.Sprint(n))
		if err := layOut(c, a, visits[n], folder); err != nil {
			return err
		}
		source, err := gather.Saved(c.Context, folder, visits[n], options)
		if err != nil {
			return err
		}
		in.Visits = append(in.Visits, *source)
	}
	for n, g := range visits {
		if !slices.Contains(shown, n) {
			in.History = append(in.History, g.Engine)
		}
	}
	model, err := report.Build(in)
	if err != nil {
		return err
	}
	return writeFile(c.String("report"), c.App.Writer, func(w io.Writer) error { return write(model, w) })
}

// layOut puts the photos of a visit, as far as the archive has them, into a folder under the names they had.
func layOut(c *cli.Context, a *archive.Archive, g *engine.Graded, dir string) error {
	for n, p := range g.Engine.Inspection.Photos {
		if g.Photos[n].SHA256 == nil {
			continue
		}
		data, err := a.Photo(c.Context, *g.Photos[n].SHA256)
		if err != nil { // the report says which photos it could not show
			continue
		}
		path := filepath.Join(dir, filepath.FromSlash(p.File))
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			return err
		}
		if err := os.WriteFile(path, data, 0o600); err != nil {
			return err
		}
	}
	return nil
}
