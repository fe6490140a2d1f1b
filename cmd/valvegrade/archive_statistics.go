package main

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/number"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

const aboutArchiveStatistics = `Sums up the inspections of the archive: what each way of cleaning removes, grades by engine family and odometer, by
year, and by technician: how often the net refused a photo, how often a valve was taken again, and how often a grade was
overruled. Intervals are of 95 %.

What was removed is counted on cylinders of grade 2 or more, between an inspection before a cleaning and one after it at
most 31 days and 200 km later. It says what photos show: how much of the dark deposit is gone, as the mean of all valves of
a cylinder; the interval ends at 100 %, because no more than all of it can be gone. Grades by engine family, and the index beside them, are those of the worst cylinders; the dark deposit of a year
is the mean of all valves. OF says of how many inspections a mean is: cleaned engines are left out. Vehicles that were
forgotten count. --where method=blasting takes the inspections after a cleaning in which any cylinder was blasted, and of the
methods lists that one alone; the figures of years and technicians are those of the whole engines.`

// whereFlag is the option that chooses inspections.
func whereFlag() cli.Flag {
	return &cli.GenericFlag{
		Name: "where", Value: &files{},
		Usage: "only inspections of which `CONDITION` holds, such as year>=2024 or method=blasting; may be given several times: " +
			strings.Join(
				archive.Filters(),
				", ",
			),
	}
}

func filterOption(c *cli.Context) (archive.Filter, error) {
	f, err := archive.ParseFilter(*c.Generic("where").(*files))
	if err != nil {
		return f, misuse("--where: %w", err)
	}
	return f, nil
}

func archiveStatisticsCommand() *cli.Command {
	return &cli.Command{
		Name: "statistics", Usage: "what cleaning removes, grades by engine family, year and technician", Description: aboutArchiveStatistics,
		Flags: archiveFlags(
			whereFlag(),
			&cli.StringFlag{
				Name:  "versions",
				Usage: "say instead how what the second version says differs from the first: `EARLIER,LATER`",
			},
			&cli.StringFlag{
				Name:        "unit",
				Usage:       "count the odometer in `UNIT`, mi or km",
				DefaultText: "that of the inspection added last",
			},
			jsonFlag(),
		),
		BashComplete: completeValues(map[string][]string{"unit": {"km", "mi"}}),
		Action: func(c *cli.Context) error {
			f, err := filterOption(c)
			if err != nil {
				return err
			}
			unit, err := unitOption(c)
			if err != nil {
				return err
			}
			return withArchive(c, func(a *archive.Archive) error {
				if c.String("versions") != "" {
					return showChanges(c, a)
				}
				s, err := a.Statistics(c.Context, f, unit)
				if err != nil {
					return err
				}
				return show(c, s, func() error { return showStatistics(c, s) })
			})
		},
	}
}

func showStatistics(c *cli.Context, s *archive.Statistics) error {
	fmt.Fprintf(c.App.Writer, "inspections: %d, vehicles: %d\n", s.Inspections, s.Vehicles)
	tables := [][][]string{
		{{"METHOD", "ENGINES", "CYLINDERS", "DARK REMOVED, ALL VALVES, %"}},
		{{"ENGINE", "ODOMETER, " + string(s.Unit), "WORST: GRADE 0", "1", "2", "3", "4", "MEAN INDEX", "OF"}},
		{{"YEAR", "INSPECTIONS", "PHOTOS", "REFUSED", "MEAN DARK, ALL VALVES, %", "OF"}},
		{{"TECHNICIAN", "INSPECTIONS", "PHOTOS", "REFUSED, %", "VALVES", "TAKEN AGAIN, %", "OVERRULED", "BY GRADES"}},
	}
	for _, m := range s.Methods {
		tables[0] = append(
			tables[0],
			[]string{
				cmp.Or(m.Name, "not said"),
				strconv.Itoa(m.Engines),
				strconv.Itoa(m.Cylinders),
				between(m.Dark),
			},
		)
	}
	for _, b := range s.Families {
		row := []string{cmp.Or(b.Family, "not said"), number.Thousands(float64(b.From)) + " to " + number.Thousands(float64(b.To))}
		for _, n := range b.Grades {
			row = append(row, strconv.Itoa(n))
		}
		tables[1] = append(tables[1], append(row, figure(b.Index), strconv.Itoa(b.Measured)))
	}
	for _, y := range s.Years {
		tables[2] = append(
			tables[2],
			[]string{
				strconv.Itoa(y.Year),
				strconv.Itoa(y.Inspections),
				strconv.Itoa(y.Photos),
				strconv.Itoa(y.Refused),
				figure(y.Dark),
				strconv.Itoa(y.Measured),
			},
		)
	}
	for _, t := range s.Technicians {
		tables[3] = append(
			tables[3],
			[]string{
				cmp.Or(t.Name, "not said"),
				strconv.Itoa(t.Inspections),
				strconv.Itoa(t.Photos),
				between(t.Refused),
				strconv.Itoa(t.Valves),
				between(t.Retaken),
				strconv.Itoa(t.Overruled),
				figure(t.Difference),
			},
		)
	}
	spare := [][]string{{"CYLINDERS"}, {"OF", "MEAN INDEX"}, {"REFUSED", "PHOTOS"}, {"PHOTOS", "VALVES", "INSPECTIONS", "BY GRADES"}}
	for n, rows := range tables {
		if len(rows) == 1 {
			continue
		}
		fmt.Fprintln(c.App.Writer)
		if err := printFitting(c, rows, rows[0][0], spare[n]...); err != nil {
			return err
		}
	}
	return nil
}

// between is "87.0 (82.1 to 91.9)", without the interval where a single engine gives none.
func between(w measure.Written) string {
	switch f := w.Figure(); {
	case !w.Value.Known():
		return "-"
	case !w.Low.Known():
		return w.Value.String()
	default:
		return fmt.Sprintf("%s (%s to %s)", figure(&f.Value), figure(&f.Low), figure(&f.High))
	}
}

// showChanges says what another version says otherwise.
func showChanges(c *cli.Context, a *archive.Archive) error {
	earlier, later, two := strings.Cut(c.String("versions"), ",")
	versions, err := a.Versions(c.Context)
	if err != nil {
		return err
	}
	if !two || versions[earlier] == 0 || versions[later] == 0 {
		var known []string
		for name, n := range versions {
			known = append(known, fmt.Sprintf("%s (%s)", name, counted(n, "result")))
		}
		return hinted(
			misuse("--versions takes two versions that have results"),
			"the archive has %s",
			strings.Join(known, ", "),
		)
	}
	changes, err := a.Compare(c.Context, earlier, later)
	if err != nil {
		return err
	}
	return show(c, changes, func() error {
		sums := fmt.Sprintf(
			"%s seen by both: the index changes by %s on average, by %s without sign; %d have another grade; "+
				"%d are refused now, %d are no longer",
			counted(changes.Valves, "valve"),
			figure(changes.Index),
			figure(changes.Apart),
			changes.Grades,
			changes.Refused,
			changes.Judged,
		)
		if err := terminal.Sentence(c.App.Writer, sums, terminal.Width(c.App.Writer)); err != nil {
			return err
		}
		rows := [][]string{{"PHOTO", "VALVE", "INDEX BEFORE", "AFTER", "GRADE BEFORE", "AFTER"}}
		for _, m := range changes.Most {
			rows = append(
				rows,
				[]string{
					m.Photo[:min(12, len(m.Photo))],
					strconv.Itoa(m.Valve),
					written(m.Before, grade.IndexText),
					written(m.After, grade.IndexText),
					graded(m.GradeWas),
					graded(m.GradeIs),
				},
			)
		}
		return printColumns(c, rows)
	})
}
