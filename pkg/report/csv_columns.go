package report

import (
	"strconv"
	"strings"
	"time"

	"valvegrade/internal/spreadsheet"
	"valvegrade/pkg/inspection"
)

// column is a Column with how its cells are written.
type column struct {
	Column
	cell func(row) string
}

var valveColumns = append(append(append([]column{
	{Column{"job", "job number as given"}, func(r row) string { return spreadsheet.Text(r.Job.Number) }},
	{Column{"vehicle", "the shop's reference of the vehicle"}, func(r row) string { return spreadsheet.Text(r.Vehicle) }},
	{Column{"cylinder", "counted from 1"}, func(r row) string { return strconv.Itoa(r.cylinder.Number) }},
	{
		Column{"valve", "intake valve of the cylinder, counted from 1"},
		func(r row) string { return strconv.Itoa(r.valve.Number) },
	},
	{
		Column{"method", "how the cylinder was cleaned, as given"},
		func(r row) string { return spreadsheet.Text(r.cylinder.Method) },
	},
}, visitColumns(0, "", "")...), visitColumns(1, "after_", secondVisit)...), append(append(append(comparisonColumns, decisionColumns...), summaryColumn), laterColumns...)...)

// summaryColumn is of the whole report, the same in every line.
var summaryColumn = column{
	Column{"summary", "what the report comes to for the whole engine, in a few words, the same in every line"},
	func(r row) string { return spreadsheet.Text(r.Summary) },
}

// laterColumns are of both visits and came after the others.
var laterColumns = append(moreColumns(0, "", ""), moreColumns(1, "after_", secondVisit)...)

func moreColumns(visit int, prefix, of string) []column {
	with := func(name, meaning string, cell func(State) string) column {
		return visitColumn(visit, Column{prefix + name, meaning + of}, func(_ row, _ *inspection.Inspection, s State) string { return cell(s) })
	}
	return []column{
		with("build_up", "how thick the dark deposit is: thick, thin or unknown; empty where there is next to none", func(s State) string { return string(s.told()) }),
		with("likeliest_grade", "0 to 4: that of the highest probability, while grade follows the index by the scale", func(s State) string {
			if s.Grade == nil {
				return ""
			}
			return strconv.Itoa(s.Grade.Probabilities.Likeliest())
		}),
	}
}

// secondVisit says of which of two visits a column is.
const secondVisit = ", in the second inspection: after cleaning, or the later one"

// decisionColumns are what people decided, in the last visit.
var decisionColumns = []column{
	decisionColumn("overruled_grade", "grade that a person gave beside the measured one, 0 to 4", func(s State) string {
		if s.Overruled == nil {
			return ""
		}
		return strconv.Itoa(s.Overruled.Grade)
	}),
	decisionColumn("overruled_by", "who gave it", func(s State) string {
		if s.Overruled == nil {
			return ""
		}
		return spreadsheet.Text(s.Overruled.By)
	}),
	decisionColumn("overruled_reason", "why", func(s State) string {
		if s.Overruled == nil {
			return ""
		}
		return spreadsheet.Text(s.Overruled.Reason)
	}),
	decisionColumn("left_out", "number of photos that somebody left out", func(s State) string {
		return count(s.Photos, func(p Photo) bool { return p.LeftOut != nil })
	}),
	decisionColumn("painted", "number of photos whose classes somebody corrected", func(s State) string {
		return count(s.Photos, func(p Photo) bool { return p.Record.Painted != nil })
	}),
}

func decisionColumn(name, meaning string, cell func(State) string) column {
	return column{Column{name, meaning + ", in the last inspection"}, func(r row) string {
		return cell(r.valve.States[len(r.valve.States)-1])
	}}
}

func count(photos []Photo, of func(Photo) bool) string {
	n := 0
	for _, p := range photos {
		if of(p) {
			n++
		}
	}
	return strconv.Itoa(n)
}

// visitColumn is of one visit; its cells are empty when the report has no such visit.
func visitColumn(visit int, c Column, cell func(row, *inspection.Inspection, State) string) column {
	return column{c, func(r row) string {
		if visit >= len(r.Visits) {
			return ""
		}
		return cell(r, r.Visits[visit].Engine.Inspection, r.valve.States[visit])
	}}
}

// visitColumns are the columns of one visit.
func visitColumns(visit int, prefix, of string) []column {
	with := func(name, meaning string, cell func(row, *inspection.Inspection, State) string) column {
		return visitColumn(visit, Column{prefix + name, meaning + of}, cell)
	}
	figure := func(name, meaning string, value func(State) float64) column {
		return with(name, meaning, func(r row, _ *inspection.Inspection, s State) string { return r.decimal(value(s)) })
	}
	return []column{
		with(
			"date",
			"day of the inspection, YYYY-MM-DD",
			func(_ row, i *inspection.Inspection, _ State) string {
				if !i.Dated() {
					return ""
				}
				return i.Date.Format(time.DateOnly)
			},
		),
		with(
			"odometer",
			"odometer reading, in odometer_unit",
			func(r row, i *inspection.Inspection, _ State) string { return r.decimal(i.Odometer.In(r.Locale.Unit)) },
		),
		with(
			"odometer_unit",
			"mi or km",
			func(r row, i *inspection.Inspection, _ State) string {
				if !i.Odometer.Known() {
					return ""
				}
				return string(r.Locale.Unit)
			},
		),
		with("grade", "0 to 4", func(_ row, _ *inspection.Inspection, s State) string {
			if s.Grade == nil {
				return ""
			}
			return strconv.Itoa(s.Grade.Value)
		}),
		with("grade_name", "word for the grade", func(r row, _ *inspection.Inspection, s State) string {
			if s.Grade == nil {
				return ""
			}
			return r.Texts.Grades[s.Grade.Value].Name
		}),
		with(
			"borderline",
			"true when the probability of this grade is below 0.8",
			func(_ row, _ *inspection.Inspection, s State) string {
				if s.Grade == nil {
					return ""
				}
				return strconv.FormatBool(s.Grade.Borderline)
			},
		),
		figure(
			"dark",
			"dark deposit: percent of readable pixels with crust",
			func(s State) float64 { return s.Dark.Value },
		),
		figure("dark_low", "low end of its 95 % interval", func(s State) float64 { return s.Dark.Low }),
		figure("dark_high", "high end of its 95 % interval", func(s State) float64 { return s.Dark.High }),
		with("due", "probability that cleaning is due", func(r row, _ *inspection.Inspection, s State) string {
			if s.Grade == nil {
				return ""
			}
			return r.decimal(s.Grade.Probabilities.Due())
		}),
		figure("index", "deposit index, 0 to 100", func(s State) float64 { return s.Index.Value }),
		figure("index_low", "low end of its 95 % interval", func(s State) float64 { return s.Index.Low }),
		figure("index_high", "high end of its 95 % interval", func(s State) float64 { return s.Index.High }),
		figure(
			"coverage",
			"percent of readable pixels with any deposit",
			func(s State) float64 { return s.Coverage.Value },
		),
		figure("coverage_low", "low end of its 95 % interval", func(s State) float64 { return s.Coverage.Low }),
		figure("coverage_high", "high end of its 95 % interval", func(s State) float64 { return s.Coverage.High }),
		with(
			"photos",
			"number of photos, refused ones included",
			func(_ row, _ *inspection.Inspection, s State) string { return strconv.Itoa(len(s.Photos)) },
		),
		with(
			"outlines_by_hand",
			"number of photos whose outlines were set by hand",
			func(_ row, _ *inspection.Inspection, s State) string {
				return count(s.Photos, func(p Photo) bool { return p.Record.ByHand() })
			},
		),
		with(
			"reasons",
			"codes of refusals and warnings of its photos, apart by blanks",
			func(_ row, _ *inspection.Inspection, s State) string {
				return spreadsheet.Text(strings.Join(reasonCodes(s), " "))
			},
		),
	}
}

// reasonCodes are those of all photos of a state, each once.
func reasonCodes(s State) []string {
	var codes []string
	seen := map[string]bool{}
	for _, p := range s.Photos {
		for _, r := range p.Record.Reasons {
			if code := string(r.Code); !seen[code] {
				seen[code] = true
				codes = append(codes, code)
			}
		}
	}
	return codes
}
