package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/number"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/grade"
)

// fault makes an error that is no wrong usage.
func fault(format string, args ...any) error { return fmt.Errorf(format, args...) }

// misnamed makes wrong usage of an argument that names what the archive does not have.
func misnamed(err error) error {
	if errors.Is(err, archive.ErrUnknown) {
		return misuse("%w", err)
	}
	return err
}

// pickVehicle returns the one vehicle that the arguments name: by its number in the archive (#12), or by a text that
// fits no other as well.
func pickVehicle(c *cli.Context, a *archive.Archive) (*archive.Found, error) {
	text := strings.Join(c.Args().Slice(), " ")
	if text == "" {
		return nil, hinted(misuse("no vehicle given"), "%s \"QX 417\", by plate, VIN or name", c.Command.HelpName)
	}
	if digits, isNumber := strings.CutPrefix(text, "#"); isNumber {
		id, err := strconv.ParseInt(digits, 10, 64)
		if err != nil {
			return nil, misuse("%q is no number of a vehicle", text)
		}
		found, err := a.VehicleOf(c.Context, id)
		return found, misnamed(archive.Explain(err))
	}
	found, err := a.Find(c.Context, text)
	switch {
	case err != nil:
		return nil, err
	case len(found) == 0:
		return nil, hinted(
			misuse("no vehicle in the archive fits %q", text),
			"valvegrade archive find takes a part of plate, VIN or name",
		)
	case len(found) == 1 || found[0].Slips < found[1].Slips:
		return &found[0], nil
	}
	var names []string
	for _, f := range found[:min(mostNamed, len(found))] {
		names = append(names, fmt.Sprintf("#%d %s", f.ID, f.Reference))
	}
	return nil, hinted(
		misuse("%d vehicles fit %q: %s", len(found), text, strings.Join(names, ", ")),
		"%s %s",
		c.Command.HelpName,
		strings.Fields(names[0])[0],
	)
}

// graded is the grade of a mean of many engines, or one that was written down alone, "3 crusted", "-" where nothing was measured.
func graded(value *int) string {
	if value == nil {
		return "-"
	}
	return fmt.Sprintf("%d %s", *value, grade.Names()[*value])
}

// judged is a grade as all tables have it, "3, perhaps 4" where another is likelier, "-" where nothing was measured.
func judged(g *grade.Grade) string {
	if g == nil {
		return "-"
	}
	return terminal.GradeCell(g)
}

// worstGrade is the grade of the worst cylinder of so many, with "[3 of 4]" where not all of them were graded.
func worstGrade(worst archive.OfWorst, cylinders int) string {
	g := worst.Judged()
	if g == nil || worst.CylindersGraded == cylinders {
		return judged(g)
	}
	return fmt.Sprintf("%s [%d of %d]", judged(g), worst.CylindersGraded, cylinders)
}

// printGrades prints a table as printFitting does, with what its brackets mean where any has them.
func printGrades(c *cli.Context, rows [][]string, long string, spare ...string) error {
	column := slices.Index(rows[0], "GRADE")
	partly := slices.ContainsFunc(rows, func(row []string) bool { return strings.HasSuffix(row[column], "]") })
	if err := printFitting(c, rows, long, spare...); err != nil || !partly {
		return err
	}
	return terminal.Sentence(c.App.Writer, "in brackets: how many cylinders were graded, of which the grade is the worst",
		terminal.Width(c.App.Writer))
}

// figure is a mean of many engines, "-" where nothing was measured.
func figure(value *float64) string {
	return written(value, func(v float64) string { return number.Text(v, 1) })
}

// written is a figure for the eye, "-" where nothing was measured.
func written(value *float64, text func(float64) string) string {
	if value == nil {
		return "-"
	}
	return text(*value)
}

// orDash is a text, "-" for none.
func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}
