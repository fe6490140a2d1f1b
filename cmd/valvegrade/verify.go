package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/verify"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/score"
)

const aboutVerify = `Scores the photos again and says for each whether its bytes (SHA-256), the version that scored it, and its grade and figures
are those of the report, and if not, why. The figures of valves, cylinders and engine are combined again from the photos', before
and after are compared again, and summary, lines, notes and cautions are written again, too. Growth over the odometer is not: its
earlier inspections are not in the report. Nor is what the shop itself wrote, such as remarks.

On another processor a few figures come out otherwise in their last digits. Index, coverage and intervals are taken for the same within
0.05 points, as long as grade and reasons are; the result says so.

  valvegrade verify report.json photos             a folder of photos, or an inspection folder
  valvegrade verify report.json c1v1.jpg c1v2.jpg  photos by name

Photos are known again by their bytes, whatever their names are now.

REPORT.json is what valvegrade report wrote with --format json, or what valvegrade score wrote with --json.

EXIT CODES:
  0  everything matches
  1  the program failed or was interrupted
  2  wrong usage; nothing was done
  3  something differs or is missing`

func verifyCommand() *cli.Command {
	return &cli.Command{
		Name:        "verify",
		Usage:       "score the photos of a report again and say whether they match",
		ArgsUsage:   "REPORT.json PHOTO|FOLDER|PATTERN...",
		Description: aboutVerify,
		Flags:       measuringFlags(),
		Action:      runVerify,
	}
}

func runVerify(c *cli.Context) error {
	if c.Args().Len() < 2 {
		return hinted(misuse("verify takes a report and its photos"), "valvegrade verify REPORT.json PHOTOS...")
	}
	file := c.Args().First()
	saved, err := readSaved(file)
	if err != nil {
		return err
	}
	photos, err := photosToVerify(c.Args().Tail(), saved)
	if err != nil {
		return err
	}
	for _, remark := range photos.remarks {
		note(c.App.ErrWriter, "%s", remark)
	}
	options, err := measuringOptions(c)
	if err != nil {
		return err
	}
	options.Map = saved.Compares()
	again, err := scoreAgain(c, photos.paths, options)
	if err != nil {
		return err
	}
	checks, faults := verify.Compare(saved.Photos, again), saved.Faults
	// Photos that are not in the report leave its comparison alone.
	strange := func(c verify.Check) bool { return c.Saved == nil }
	others := len(faults) > 0 || !allMatch(slices.DeleteFunc(slices.Clone(checks), strange))
	if !others { // else comparison and sentences are of other photos or figures
		if faults, err = saved.Rewrite(again); err != nil {
			return err
		}
	}
	for _, decision := range saved.Decisions() {
		note(c.App.ErrWriter, "decided by a person, and no photo can confirm it: %s", decision)
	}
	return tellChecks(c.App.Writer, checks, faults, saved, others)
}

func allMatch(checks []verify.Check) bool {
	return !slices.ContainsFunc(checks, func(c verify.Check) bool { return !c.Matches() })
}

func scoreAgain(c *cli.Context, paths []string, options score.BatchOptions) ([]score.Record, error) {
	progress := terminal.NewProgress(c.App.ErrWriter, len(paths))
	defer progress.Close()
	document, err := scoreAll(c, paths, options, progress)
	if errors.Is(err, context.Canceled) {
		return nil, errors.New("interrupted: nothing was verified")
	}
	return document.Photos, err
}

func readSaved(path string) (*verify.Saved, error) {
	file, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	saved, err := verify.Read(file)
	if err != nil {
		return nil, hinted(
			misuse("%q: %w", path, err),
			"give the file that valvegrade report --format json or valvegrade score --json wrote",
		)
	}
	return saved, nil
}

// tellChecks prints a line per photo, and then every reason. It returns errDiffers unless everything matches. others is
// true where photos or figures are others than those of the report, so that it could not be written again.
func tellChecks(w io.Writer, checks []verify.Check, faults []string, saved *verify.Saved, others bool) error {
	rows := [][]string{{"PHOTO", "IN THE REPORT", "BY MEASUREMENT", "RESULT"}}
	for _, check := range checks {
		rows = append(
			rows,
			[]string{checkedName(check), checkedGrade(check.Saved), checkedGrade(check.Again), string(check.Verdict)},
		)
	}
	if err := terminal.Columns(w, rows); err != nil {
		return err
	}
	for _, check := range checks {
		if check.Why != "" {
			fmt.Fprintf(w, "\n%s: %s", checkedName(check), terminal.Printable(check.Why))
		}
	}
	for _, fault := range faults[:min(mostFaults, len(faults))] {
		fmt.Fprintf(w, "\n%s", terminal.Printable(fault))
	}
	if more := len(faults) - mostFaults; more > 0 {
		fmt.Fprintf(w, "\nand %d more", more)
	}
	if len(faults) == 0 && allMatch(checks) {
		what, unchecked := "bytes, versions and figures", ""
		if saved.Tells() {
			what = "bytes, versions, figures and sentences"
		}
		if saved.Trend {
			unchecked = "; growth over the odometer follows from its readings, those of earlier inspections are taken at their word"
		}
		within := ""
		if slices.ContainsFunc(checks, func(c verify.Check) bool { return c.Verdict != verify.Same }) {
			within = fmt.Sprintf(" within %v points", score.ProcessorPoints)
		}
		_, err := fmt.Fprintf(w, "\n%s all match%s%s\n", what, within, unchecked)
		return err
	}
	switch {
	case others && saved.Compares():
		fmt.Fprint(w, "\nbefore and after were not compared again, nor sentences checked: that takes every photo and figure as it was")
	case others && saved.Tells():
		fmt.Fprint(w, "\nsentences were not checked: that takes every photo and figure as it was")
	}
	fmt.Fprintln(w)
	return errDiffers
}

// checkedName is the name in the report, else that of the photo that was given.
func checkedName(c verify.Check) string {
	if c.Saved != nil {
		return terminal.NameOf(*c.Saved)
	}
	return terminal.NameOf(*c.Again)
}

func checkedGrade(r *score.Record) string {
	switch {
	case r == nil:
		return "-"
	case r.Grade == nil:
		return "not graded"
	default:
		return fmt.Sprintf("%d (%s)", *r.Grade, grade.IndexText(r.Index.Value()))
	}
}
