package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/texts"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

var aboutTrend = `Says how fast the deposit grows on one engine, from inspections at several odometer readings: growth of the deposit index
per 10 000 mi or km with its 95 % interval, for the engine, each cylinder and each valve, and where grade 3 is reached. That is
an estimate, made only where the readings carry it; otherwise the table says what is missing. A cleaning starts a new line.

An inspection is a folder with inspection.yaml, which is scored now, or the file that score --json saved of one.

  valvegrade trend 2024 2025 2026                      three folders
  valvegrade trend --chart growth.svg *.json           saved results, with a chart of the worst cylinder
  valvegrade trend --chart c2.png --cylinder 2 *.json  of cylinder 2

` + exitHelp + `

` + caution

func trendCommand() *cli.Command {
	return &cli.Command{
		Name:        "trend",
		Usage:       "growth over the odometer, from several inspections of one engine",
		ArgsUsage:   "INSPECTION...",
		Description: aboutTrend,
		Flags:       append(trendFlags(), measuringFlags()...),
		Action:      runTrend,
	}
}

// trendFlags say how a trend is shown.
func trendFlags() []cli.Flag {
	return []cli.Flag{
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
	}
}

func runTrend(c *cli.Context) error {
	if !c.Args().Present() {
		return hinted(
			misuse("no inspection given"),
			"valvegrade trend takes folders with %s, and results saved of them",
			inspection.File,
		)
	}
	unit, err := unitOption(c)
	if err != nil {
		return err
	}
	sources, err := openInspections(c.Args().Slice())
	if err != nil {
		return err
	}
	if err := prepareTrend(c, sources); err != nil {
		return err
	}
	documents, err := gradeInspections(c, sources)
	if err != nil {
		return err
	}
	t, err := trendOf(sources, documents, unit)
	if err != nil {
		return err
	}
	if err := showTrend(c, t); err != nil {
		return err
	}
	return refusedIn(c, documents, &texts.English)
}

func unitOption(c *cli.Context) (inspection.Unit, error) {
	unit := inspection.Unit(c.String("unit"))
	if unit != "" && unit != inspection.Miles && unit != inspection.Kilometres {
		return "", hinted(misuse("--unit %q is neither mi nor km", unit), "--unit mi, or --unit km")
	}
	return unit, nil
}

// prepareTrend finds out before the work begins whether what is asked for can be written.
func prepareTrend(c *cli.Context, sources []inspectionSource) error {
	if c.IsSet("valve") && !c.IsSet("cylinder") {
		return hinted(misuse("--valve alone does not say of which cylinder"), "add --cylinder N")
	}
	if err := onlyCharted(c, "cylinder"); err != nil {
		return err
	}
	if _, _, err := chartFile(c); err != nil {
		return err
	}
	return prepareFiles(c, readBy(sources), map[string]string{"--json": c.String("json"), "--chart": c.String("chart")})
}

// trendOf draws the trend, and adds to its notes what the inspections themselves cannot know.
func trendOf(sources []inspectionSource, documents []*engine.Graded, unit inspection.Unit) (*trend.Trend, error) {
	if err := differentPhotos(sources, documents); err != nil {
		return nil, err
	}
	engines := make([]*engine.Engine, len(documents))
	for n, d := range documents {
		if i := d.Engine.Inspection; !i.Dated() || !i.Odometer.Known() {
			return nil, misuse("%q: %w", sources[n].arg, trend.ErrOpen)
		}
		engines[n] = d.Engine
	}
	t, err := trend.Of(engines, unit)
	switch {
	case errors.Is(err, trend.ErrVehicle):
		return nil, hinted(
			misuse("%w", err),
			"give the inspections of one vehicle, or correct the vehicle in %s",
			inspection.File,
		)
	case errors.Is(err, trend.ErrLayout):
		return nil, hinted(
			misuse("%w", err),
			"correct cylinders and valves in %s: they are those of the engine, photographed or not",
			inspection.File,
		)
	case err != nil:
		return nil, misuse("%w", err)
	}
	if versions := versionsOf(documents); len(versions) > 1 {
		t.Notes = append(
			t.Notes,
			fmt.Sprintf(
				"scored by different versions (%s): score the folders again, so that all are measured alike",
				quoted(versions),
			),
		)
	}
	return t, nil
}

func showTrend(c *cli.Context, t *trend.Trend) error {
	path, format, err := chartFile(c)
	if err != nil {
		return err
	}
	series, err := charted(c, t)
	if err != nil {
		return err
	}
	if err := writeFile(c.String("json"), c.App.Writer, indented(t)); err != nil {
		return err
	}
	if err := writeFile(path, c.App.Writer, func(w io.Writer) error { return t.WriteChart(w, series, format) }); err != nil {
		return err
	}
	if c.String("json") == toStdout {
		return nil
	}
	return terminal.Trend(c.App.Writer, t, c.Bool("valves"), terminal.Width(c.App.Writer))
}

// charted is the series that the chart shows.
func charted(c *cli.Context, t *trend.Trend) (trend.Series, error) {
	kind, cylinder, valve := trend.EngineWorst, c.Int("cylinder"), c.Int("valve")
	switch {
	case c.IsSet("valve"):
		kind = trend.OfValve
	case c.IsSet("cylinder"):
		kind = trend.OfCylinder
	}
	for _, s := range t.Series {
		if s.Kind == kind && s.Cylinder == cylinder && s.Valve == valve {
			return s, nil
		}
	}
	return trend.Series{}, misuse(
		"the engine has no %s",
		trend.Series{Kind: kind, Cylinder: cylinder, Valve: valve}.Name(),
	)
}
