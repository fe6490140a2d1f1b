package terminal

import (
	"fmt"
	"io"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Table prints one line per photo, in order, and below the table the advice for every photo that has some. It prints
// nothing when there are no photos.
func Table(w io.Writer, photos []score.Record) error {
	if len(photos) == 0 {
		return nil
	}
	rows := [][]string{{"PHOTO", "GRADE", "INDEX (95 %)", "COVERAGE", "CONFIDENCE", "WHAT TO DO"}}
	for _, p := range photos {
		rows = append(rows, row(p))
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	return advise(w, photos)
}

// row returns the cells of one photo. A dash stands for what was not measured.
func row(p score.Record) []string {
	if p.Status != score.Scored {
		return []string{Printable(p.Photo), "not graded", unknown, unknown, unknown, Shorts(p.Reasons)}
	}
	todo := grade.Practice(*p.Grade)
	if len(p.Reasons) > 0 {
		todo += " [" + Shorts(p.Reasons) + "]"
	}
	return []string{
		Printable(p.Photo),
		gradeCell(*p.Grade, *p.GradeName, *p.Borderline),
		rangeCell(p.IndexFigure()),
		number.Text(p.Coverage.Value(), 0) + " %",
		confidence(p),
		todo,
	}
}

// confidence is that of an outline that the program found.
func confidence(p score.Record) string {
	if p.ByHand() {
		return "by hand"
	}
	return percent(p.RegionConfidence)
}

// percent returns a share of 0 to 1 in percent.
func percent(share measure.Number) string {
	if !share.Known() {
		return unknown
	}
	return number.Text(100*share.Value(), 0) + " %"
}

// Shorts returns the labels of the reasons, separated by commas; a code of a later program, which the table does not
// know, stands for itself.
func Shorts(reasons []reason.Reason) string {
	var labels []string
	for _, r := range reasons {
		label := string(r.Code)
		if entry, ok := reason.Find(r.Code); ok {
			label = entry.Short
		}
		labels = append(labels, label)
	}
	return strings.Join(labels, ", ")
}

// advise prints the sentences behind the labels.
func advise(w io.Writer, photos []score.Record) error {
	var text strings.Builder
	for _, p := range photos {
		for _, r := range p.Reasons {
			fmt.Fprintf(&text, "\n%s: %s", Printable(p.Photo), Printable(r.Advice))
		}
	}
	if text.Len() == 0 {
		return nil
	}
	_, err := fmt.Fprintln(w, text.String())
	return err
}
