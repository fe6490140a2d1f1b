package report

import (
	"valvegrade/internal/spreadsheet"
	"valvegrade/pkg/compare"
)

var comparisonColumns = []column{
	comparisonFigure(
		"comparable_percent",
		"percent of the readable valve that both photos show",
		func(c *Comparison) float64 { return 100 * c.Comparable },
	),
	comparisonFigure(
		"common_dark",
		"dark deposit before, on that part",
		func(c *Comparison) float64 { return c.Dark.Before.Value },
	),
	comparisonFigure(
		"after_common_dark",
		"dark deposit after, on that part",
		func(c *Comparison) float64 { return c.Dark.After.Value },
	),
	differenceColumn("dark_difference", "after minus before, in points of dark deposit", dark, difference),
	differenceColumn("dark_difference_low", "low end of its 95 % interval", dark, differenceLow),
	differenceColumn("dark_difference_high", "high end of its 95 % interval", dark, differenceHigh),
	differenceColumn("dark_detectable", "smallest change that the two photos can show, in points of dark deposit", dark, detectable),
	differenceColumn("dark_removed_percent", "percent of the dark deposit before that is gone, empty where no less shows beyond doubt", dark, removedPercent),
	comparisonFigure(
		"common_index",
		"index before, on that part",
		func(c *Comparison) float64 { return c.Index.Before.Value },
	),
	comparisonFigure(
		"after_common_index",
		"index after, on that part",
		func(c *Comparison) float64 { return c.Index.After.Value },
	),
	differenceColumn("difference", "after minus before, in index points", index, difference),
	differenceColumn("difference_low", "low end of its interval", index, differenceLow),
	differenceColumn("difference_high", "high end of its interval", index, differenceHigh),
	differenceColumn("detectable", "smallest change that the two photos can show, in index points", index, detectable),
	differenceColumn("removed_percent", "percent of the index before that is gone, empty where no less shows beyond doubt", index, removedPercent),
	comparisonColumn(
		"verdict",
		"changed, not distinguishable, or no claim",
		func(c *Comparison) string { return string(c.Verdict()) },
	),
	comparisonColumn(
		"outcome",
		"the result in a sentence, or why nothing was compared",
		func(c *Comparison) string { return spreadsheet.Text(c.Outcome + c.Refused) },
	),
}

// What a column tells of a change, and of which.
func dark(c *Comparison) compare.Change       { return c.Dark }
func index(c *Comparison) compare.Change      { return c.Index }
func difference(c compare.Change) float64     { return c.Difference.Value }
func differenceLow(c compare.Change) float64  { return c.Difference.Low }
func differenceHigh(c compare.Change) float64 { return c.Difference.High }
func detectable(c compare.Change) float64     { return c.Detectable }
func removedPercent(c compare.Change) float64 { return 100 * c.Removed().Value }

func differenceColumn(name, meaning string, of func(*Comparison) compare.Change, figure func(compare.Change) float64) column {
	return comparisonFigure(name, meaning, func(c *Comparison) float64 { return figure(of(c)) })
}

func comparisonFigure(name, meaning string, figure func(*Comparison) float64) column {
	return column{Column{name, meaning}, func(r row) string {
		if r.valve.Comparison == nil {
			return ""
		}
		return r.decimal(figure(r.valve.Comparison))
	}}
}

func comparisonColumn(name, meaning string, cell func(*Comparison) string) column {
	return column{Column{name, meaning}, func(r row) string {
		if r.valve.Comparison == nil {
			return ""
		}
		return cell(r.valve.Comparison)
	}}
}
