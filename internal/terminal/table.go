package terminal

import (
	"fmt"
	"io"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Table prints one line per valve of a photo, in order, and below the table the advice for every one that has some. It
// prints nothing when there are none.
func Table(w io.Writer, photos []score.Record) error {
	if len(photos) == 0 {
		return nil
	}
	rows := [][]string{{"PHOTO", "GRADE", "0-4", "DARK DEPOSIT", "INDEX (95 %)", "CONFIDENCE", "WHAT TO DO"}}
	for _, p := range photos {
		rows = append(rows, row(p))
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	return advise(w, photos)
}

// NameOf is the name of a photo, followed by which of its valves is meant where it has several: "port.jpg 1/2", counted
// from the left.
func NameOf(p score.Record) string {
	if p.ValvesInPhoto > 1 {
		return fmt.Sprintf("%s %d/%d", Printable(p.Photo), p.ValveInPhoto, p.ValvesInPhoto)
	}
	return Printable(p.Photo)
}

// row returns the cells of one valve. A dash stands for what was not measured.
func row(p score.Record) []string {
	if p.Status != score.Scored {
		return []string{NameOf(p), "not graded", "", unknown, unknown, unknown, Shorts(p.Reasons)}
	}
	odds := oddsOf(p)
	todo := grade.Advice(odds, *p.Grade, p.BuildUp != nil && *p.BuildUp == deposit.Thin)
	if len(p.Reasons) > 0 {
		todo += " [" + Shorts(p.Reasons) + "]"
	}
	return []string{
		NameOf(p),
		fmt.Sprintf("%d %s", *p.Grade, *p.GradeName),
		likely(odds),
		darkCell(p.DarkFigure()),
		rangeCell(p.IndexFigure()),
		confidence(p),
		todo,
	}
}

// oddsOf are the probabilities of a scored valve's grades, those of the interval where an earlier version wrote none.
func oddsOf(p score.Record) grade.Probabilities {
	if odds := p.Odds(); odds.Known() {
		return odds
	}
	return grade.OfInterval(p.IndexFigure())
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

// advise prints the sentences behind the labels, each once for a photo.
func advise(w io.Writer, photos []score.Record) error {
	var sentences []string
	told := map[string]bool{}
	for _, p := range photos {
		for _, r := range p.Reasons {
			if line := NameOf(p) + ": " + Printable(r.Advice); !told[line] {
				told[line], sentences = true, append(sentences, line)
			}
		}
	}
	if len(sentences) == 0 {
		return nil
	}
	_, err := fmt.Fprintln(w, "\n"+strings.Join(sentences, "\n"))
	return err
}
