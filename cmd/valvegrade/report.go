package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/gather"
	"valvegrade/internal/report/texts"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

var aboutReport = `Writes what an inspection found for the customer or the shop's own system. INSPECTION is a folder with inspection.yaml,
or the file that score --json wrote of it; with LATER, a later one of the same engine, the report tells what cleaning
did (LATER is of stage after), or how the deposit grew between two odometer readings.
Photos and folders without inspection.yaml do as well: the first is taken for before, the second for after a cleaning, and
the photos in both are matched by their names, or else by their order. The report says what was assumed.

  valvegrade report --out report.html before after               a page that holds everything, pictures included
  valvegrade report --out report.html a.jpg b.jpg                one valve before and after, without any form
  valvegrade report --out report.pdf --job 4711 july             the same for paper
  valvegrade report --out report.html may november               how deposit grew between two odometer readings
  valvegrade report --out report.html --history may,june july    with the index over the odometer
  valvegrade report --format txt --out - july                    plain lines for an invoice
  valvegrade report --out report.json --shop shop.yaml before after

FORMATS:
  html  one self-contained page for screen, phone and print; loads nothing from anywhere
  pdf   the same for paper, with page numbers and a line to sign on
  csv   one line per valve under a header (valvegrade schema columns explains it), for the spreadsheets of the region: in
        German with semicolons and decimal commas; --separator says otherwise
  json  everything, for other programs and for valvegrade verify (valvegrade schema report)
  txt   plain lines: one that sums up, a few for each cylinder, why a photo was refused, notes

SHOP FILE (YAML, every entry may be left out):
  name, address (one line, several or a list), phone, email, about, logo (a PNG or JPEG file beside it)

Only pixels and the time of taking are taken from a photo: no position gets into a report. The customer's name is in it only
if --customer gives it.

` + cautions + "\n\n" + exitHelp

func reportCommand() *cli.Command {
	return &cli.Command{
		Name:        "report",
		Usage:       "write a report of an inspection, or of two: before and after a cleaning, or two odometer readings",
		ArgsUsage:   "INSPECTION [LATER]",
		Description: aboutReport,
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "out", Usage: "write the report to `FILE`, - for standard output"},
			&cli.StringFlag{
				Name:        "format",
				Usage:       "write it as `FORMAT`: " + strings.Join(formatNames(), ", "),
				DefaultText: "by the extension of --out",
			},
			&cli.GenericFlag{
				Name:  "history",
				Value: &list{},
				Usage: "show the index over the odometer with these, too: `INSPECTION,...`",
			},
			shopFlag(),
			logoFlag(),
			&cli.StringFlag{Name: "job", Usage: "write `NUMBER` as the job's"},
			&cli.StringFlag{Name: "customer", Usage: "write `NAME` as the customer's"},
			&cli.StringFlag{Name: "technician", Usage: "write `NAME` as the technician's"},
			&cli.StringFlag{Name: "remarks", Usage: "write `TEXT` above the result"},
			&cli.BoolFlag{
				Name:  "workshop",
				Usage: "show what only the workshop can use, too: doubts about dates and photos and what to do about them, each photo's own figures",
			},
			&cli.StringFlag{Name: "date", Usage: "write `YYYY-MM-DD` as the day of the report", DefaultText: "today"},
			&cli.StringFlag{
				Name:  "locale",
				Usage: "write numbers and dates as in `TAG`, such as en-GB",
				Value: "en-US",
			},
			separatorFlag("by --locale: semicolon where decimals have a comma"),
			&cli.StringFlag{
				Name:        "paper",
				Usage:       "make the PDF for `PAPER`, a4 or letter",
				DefaultText: "by the region of --locale",
			},
			&cli.StringFlag{
				Name:        "unit",
				Usage:       "write distances in `UNIT`, mi or km",
				DefaultText: "that of the last inspection",
			},
		}, measuringFlags()...),
		Action: runReport,
		BashComplete: completeValues(
			map[string][]string{
				"format":    formatNames(),
				"paper":     {string(report.A4), string(report.Letter)},
				"unit":      {"km", "mi"},
				"separator": {string(report.Comma), string(report.Semicolon)},
			},
		),
	}
}

func runReport(c *cli.Context) error {
	as, err := chosenFormat(c, "out")
	if err != nil {
		return err
	}
	if n := c.Args().Len(); n < 1 || n > 2 {
		return hinted(
			misuse("report takes one inspection, or two of one engine, the earlier one first"),
			"valvegrade report --out report.html INSPECTION [LATER]",
		)
	}
	in, err := reportFacts(c)
	if err != nil {
		return err
	}
	sources, err := openReported(c)
	if err != nil {
		return err
	}
	if c.Args().Len() == 2 {
		if err := ofOneEngine(sources, compare.Options{}, ""); err != nil {
			return err
		}
	}
	out := c.String("out")
	if err := prepareFiles(c, readBy(sources), map[string]string{"--out": out}); err != nil {
		return err
	}
	documents, err := gatherReport(c, sources, &in, as.pictures)
	if err != nil {
		return err
	}
	model, err := report.Build(in)
	if err != nil {
		return misuse("%w", err)
	}
	if err := writeFile(out, c.App.Writer, func(w io.Writer) error { return as.write(model, w) }); err != nil {
		return err
	}
	tellWorkshop(c, model)
	return refusedIn(c, documents, in.Texts)
}

// tellWorkshop tells the workshop what the report does not show to the customer, and what it had better look into before
// the customer sees it.
func tellWorkshop(c *cli.Context, m *report.Model) {
	if m.Change != nil {
		for _, remark := range m.Texts.SayAll(m.Change.Unexplained()) {
			note(c.App.ErrWriter, "%s", remark)
		}
	}
	for _, remark := range m.Notes {
		if !slices.Contains(m.ShownNotes(), remark) {
			note(c.App.ErrWriter, "%s", remark)
		}
	}
	for _, advice := range m.Advice() {
		note(c.App.ErrWriter, "%s", advice)
	}
}

// openReported reads the inspections of the report, and behind them those of the history.
func openReported(c *cli.Context) ([]inspectionSource, error) {
	history := *c.Generic("history").(*list)
	if len(history) > 0 {
		return openInspections(append(c.Args().Slice(), history...))
	}
	sources, err := openVisits(c)
	if err != nil {
		return nil, err
	}
	words, _ := texts.For(c.String("locale"))
	for _, source := range sources {
		for _, assumed := range words.SayAll(source.inspection().Assumed) {
			note(c.App.ErrWriter, "%s", assumed)
		}
	}
	return sources, nil
}

// gatherReport scores or reads the inspections of the report, which come first, and those of the history. It puts them
// into the input and returns their documents.
func gatherReport(c *cli.Context, sources []inspectionSource, in *report.Input, pictures bool) ([]*engine.Graded, error) {
	measuring, err := measuringOptions(c)
	if err != nil {
		return nil, err
	}
	shown := sources[:c.Args().Len()]
	photos, files := 0, 0
	for _, s := range shown {
		photos, files = photos+s.photos(), files+s.files()
	}
	progress := terminal.NewProgress(c.App.ErrWriter, files)
	defer progress.Close()
	in.Program = measuring.Version()
	measuring.Crew = new(score.Crew)
	defer measuring.Crew.Close()
	options := gather.Options{
		BatchOptions: measuring, Texts: in.Texts, PictureBytes: gather.PictureBytes(photos), NoPictures: !pictures, Scored: progress.Step,
	}
	options.Map = len(shown) == 2
	var documents []*engine.Graded
	for _, s := range shown {
		visit, err := gatherOne(c, s, options)
		if err != nil {
			return nil, err
		}
		in.Visits = append(in.Visits, *visit)
		documents = append(documents, visit.Graded)
	}
	earlier, err := gradeInspections(c, sources[len(shown):])
	if err != nil {
		return nil, err
	}
	for _, document := range earlier {
		in.History = append(in.History, document.Engine)
	}
	documents = append(documents, earlier...)
	return documents, differentPhotos(sources, documents)
}

func gatherOne(c *cli.Context, s inspectionSource, options gather.Options) (*report.Source, error) {
	var visit *report.Source
	var err error
	if s.folder != nil {
		visit, err = gather.Folder(c.Context, s.folder, options)
	} else {
		visit, err = gather.Saved(c.Context, filepath.Dir(s.arg), s.saved, options)
	}
	if errors.Is(err, context.Canceled) {
		return nil, fmt.Errorf("interrupted in %q: nothing is written", s.arg)
	}
	return visit, err
}

// photos counts the photos of an inspection, one that shows several valves once for each.
func (s inspectionSource) photos() int { return len(s.inspection().Photos) }
