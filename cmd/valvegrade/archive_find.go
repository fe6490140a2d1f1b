package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/number"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

// jsonFlag is the option of the commands that can write what they show as JSON.
func jsonFlag() cli.Flag {
	return &cli.StringFlag{Name: "json", Usage: "write it to `FILE`, - for standard output instead of the table"}
}

func archiveFindCommand() *cli.Command {
	return &cli.Command{
		Name: "find", Usage: "find vehicles by plate, VIN, name, job or the customer's wish", ArgsUsage: "TEXT",
		Description: "Capitals, blanks and accents do not count, O is 0 and I is 1, and one slip a word is forgiven. The end of a VIN and the\nbeginning of any word will do.",
		Flags:       archiveFlags(jsonFlag()),
		Action: func(c *cli.Context) error {
			text := strings.Join(c.Args().Slice(), " ")
			if strings.TrimSpace(text) == "" {
				return hinted(misuse("nothing to look for"), "valvegrade archive find \"QX 417\"")
			}
			return withArchive(c, func(a *archive.Archive) error {
				found, err := a.Find(c.Context, text)
				if err != nil {
					return err
				}
				return show(c, found, func() error { return showFound(c, text, found) })
			})
		},
	}
}

// show writes a value as JSON where that is asked for, and shows it as a table unless JSON takes its place.
func show(c *cli.Context, value any, table func() error) error {
	if err := tryFile("--json", c.String("json")); err != nil {
		return err
	}
	if err := writeFile(c.String("json"), c.App.Writer, indented(value)); err != nil {
		return err
	}
	if c.String("json") == toStdout {
		return nil
	}
	return table()
}

func showFound(c *cli.Context, text string, found []archive.Found) error {
	if len(found) == 0 {
		note(c.App.ErrWriter, "no vehicle in the archive fits %q", text)
		return nil
	}
	rows := [][]string{{"VEHICLE", "NAME", "PLATE", "VIN", "ENGINE", "INSPECTIONS", "LAST", "GRADE"}}
	for _, f := range found {
		rows = append(
			rows,
			[]string{"#" + strconv.FormatInt(f.ID, 10), f.Reference, orDash(f.Plate), orDash(f.VIN), orDash(f.Family),
				strconv.Itoa(f.Visits), orDash(f.Last), worstGrade(f.OfWorst, f.Cylinders)},
		)
	}
	return printGrades(c, rows, "NAME", "INSPECTIONS", "ENGINE", "VIN")
}

// printColumns prints a table. Whatever came from outside cannot move the cursor.
func printColumns(c *cli.Context, rows [][]string) error {
	return terminal.Columns(c.App.Writer, harmless(rows))
}

// printFitting prints a table with a header, in lines that fit the terminal: what is below the header long is shortened,
// and the columns of the headers spare are left out, in that order.
func printFitting(c *cli.Context, rows [][]string, long string, spare ...string) error {
	return terminal.FittingColumns(c.App.Writer, harmless(rows), terminal.Width(c.App.Writer), long, spare...)
}

// harmless are the rows with each cell on one line, and nothing in it that a terminal obeys.
func harmless(rows [][]string) [][]string {
	for _, row := range rows {
		for n := range row {
			row[n] = terminal.Escaped(strings.Join(strings.Fields(row[n]), " "))
		}
	}
	return rows
}

func archiveShowCommand() *cli.Command {
	return &cli.Command{
		Name: "show", Usage: "show a vehicle with its inspections, or one inspection", ArgsUsage: "VEHICLE",
		Description: "VEHICLE is a text that find takes and that fits one vehicle, or its number, such as #12.\n\n" +
			"  valvegrade archive show \"QX 417\"\n  valvegrade archive show --inspection 31 --json again.json    its results, as score --json wrote them",
		Flags: archiveFlags(
			&cli.Int64Flag{
				Name:        "inspection",
				Usage:       "show the inspection with the number `N`, valves, cylinders and engine",
				DefaultText: "all of the vehicle",
			},
			&cli.StringFlag{
				Name:        "version",
				Usage:       "show what the version `NAME` of program and net said of it",
				DefaultText: "the one that counts",
			},
			jsonFlag(),
		),
		Action: func(c *cli.Context) error {
			return withArchive(c, func(a *archive.Archive) error {
				if c.IsSet("inspection") {
					return showKept(c, a)
				}
				return showVehicle(c, a)
			})
		},
	}
}

// showKept shows an inspection as score shows its folder.
func showKept(c *cli.Context, a *archive.Archive) error {
	id := c.Int64("inspection")
	kept, err := a.Inspection(c.Context, id)
	if err != nil {
		return misnamed(err)
	}
	g, err := a.Graded(c.Context, id, c.String("version"))
	switch {
	case err != nil && c.IsSet("version"):
		return misnamed(err)
	case err != nil:
		return err
	}
	overruled, err := a.OverruledOf(c.Context, id)
	if err != nil {
		return err
	}
	if err := writeFile(c.String("json"), c.App.Writer, g.Write); err != nil || c.String("json") == toStdout {
		return err
	}
	facts := [][]string{
		{"inspection", strconv.FormatInt(id, 10)}, {"vehicle", g.Engine.Inspection.Vehicle},
		{"day", kept.Day}, {"stage", kept.Stage}, {"odometer", g.Engine.Inspection.Odometer.String()},
		{"technician", orDash(kept.Technician)}, {"job", orDash(kept.Job)}, {"wish", orDash(kept.Wish)},
		{"notes", orDash(kept.Notes)}, {"from", orDash(kept.Source)}, {"version", g.Version},
	}
	for _, o := range overruled {
		facts = append(
			facts,
			[]string{"overruled", fmt.Sprintf("cylinder %d valve %d: measured %s, grade %d by %s on %s: %s",
				o.Cylinder, o.Valve, graded(o.Measured), o.Grade, o.Who, o.Noted, o.Why)},
		)
	}
	if err := printColumns(c, facts); err != nil {
		return err
	}
	return terminal.Engine(c.App.Writer, g.Engine, terminal.Width(c.App.Writer))
}

// counted is a number of things with the word for one of them, or for several.
func counted(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

func showVehicle(c *cli.Context, a *archive.Archive) error {
	v, err := pickVehicle(c, a)
	if err != nil {
		return err
	}
	kept, err := a.Inspections(c.Context, v.ID)
	if err != nil {
		return err
	}
	for n := range kept { // that of the worst cylinder, as grade and index are
		if kept[n].Dark, err = a.WorstDark(c.Context, kept[n].ID); err != nil {
			return err
		}
	}
	whole := struct {
		*archive.Found
		All []archive.Kept `json:"visits"`
	}{v, kept}
	return show(c, whole, func() error {
		name := fmt.Sprintf(
			"#%d %s, plate %s, VIN %s%s, engine %s, %s with %s",
			v.ID,
			v.Reference,
			orDash(v.Plate),
			orDash(v.VIN),
			checkDigit(v.VINCheck),
			orDash(v.Family),
			counted(v.Cylinders, "cylinder"),
			counted(v.Valves, "valve"),
		)
		for _, line := range []string{terminal.Escaped(name), "grade, index and dark deposit are those of the worst cylinder"} {
			if err := terminal.Sentence(c.App.Writer, line, terminal.Width(c.App.Writer)); err != nil {
				return err
			}
		}
		rows := [][]string{
			{
				"INSPECTION",
				"DAY",
				"STAGE",
				"ODOMETER",
				"GRADE",
				"INDEX",
				"DARK, %",
				"PHOTOS",
				"REFUSED",
				"JOB",
				"TECHNICIAN",
			},
		}
		for _, k := range kept {
			rows = append(
				rows,
				[]string{
					strconv.FormatInt(k.ID, 10),
					orDash(k.Day),
					k.Stage,
					inspection.Odometer{Value: k.Odometer, Unit: k.Unit}.String(),
					worstGrade(k.OfWorst, v.Cylinders),
					written(k.Worst, grade.IndexText),
					written(k.Dark, func(v float64) string { return number.Text(v, 0) }),
					strconv.Itoa(k.Photos),
					strconv.Itoa(k.Refused),
					orDash(k.Job),
					orDash(k.Technician),
				},
			)
		}
		return printGrades(c, rows, "JOB", "REFUSED", "PHOTOS", "TECHNICIAN", "INDEX")
	})
}

func checkDigit(check archive.VINCheck) string {
	switch check {
	case archive.VINGood:
		return " (check digit fits)"
	case archive.VINWrong:
		return " (check digit does not fit)"
	}
	return ""
}
