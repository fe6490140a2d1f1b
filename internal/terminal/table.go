package terminal

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// roomy is the width, in columns, from which on a table shows more figures, and remarks in words.
const roomy = 120

// Table prints one line per valve of a photo, in order, and below it, each once, what is commonly done at the grades
// and what the remarks mean. Distances are in the unit, in miles where it is "": that of the photos' odometer. Names are shortened in the middle until the lines are at most so many columns wide, and
// how likely each grade is is left out where that is not enough. It prints nothing when there are no photos.
func Table(w io.Writer, photos []score.Record, unit inspection.Unit, width int) error {
	if len(photos) == 0 {
		return nil
	}
	rows, seen := table(photos, width >= roomy, true)
	if breadth(rows) > width {
		rows, seen = table(photos, width >= roomy, false)
	}
	shortenNames(rows, photos, width)
	if err := Columns(w, fitted(rows, width, "0-4")); err != nil {
		return err
	}
	return paragraph(w, append(practices(photos, unit), seen.lines()...), width)
}

// table are the rows under their header, with all figures or the first ones only, and with the remarks in words where
// there are all figures and that is wanted.
func table(photos []score.Record, all, inWords bool) ([][]string, remarks) {
	header := []string{"PHOTO", "GRADE", "0-4", "DARK DEPOSIT", "CLEANING"}
	if all {
		header = append(header, "INDEX (95 %)", "OUTLINE")
	}
	var seen remarks
	rows := [][]string{append(header, "REMARKS")}
	places := places(photos)
	for n, p := range photos {
		told := p.Reasons
		if !all { // no column says whose outline it is
			told = append(byHand(p), told...)
		}
		cells := append(row(p)[:len(header)-1], seen.cell(told, all && inWords))
		rows = append(rows, append([]string{Printable(p.Photo) + places[n]}, cells...))
	}
	return rows, seen
}

// NameOf is the name of a photo, followed by which of its valves is meant where it has several: "port.jpg 1/2", counted
// from the left.
func NameOf(p score.Record) string { return Printable(p.Photo) + place(p) }

func place(p score.Record) string {
	if p.ValvesInPhoto > 1 {
		return fmt.Sprintf(" %d/%d", p.ValveInPhoto, p.ValvesInPhoto)
	}
	return ""
}

// places are those of all photos. One that was refused as a whole does not know of how many valves it was taken, but
// stands once for each.
func places(photos []score.Record) []string {
	whole := func(p score.Record) bool { return p.ValvesInPhoto <= 1 && p.Status != score.Scored }
	of, before := map[string]int{}, map[string]int{}
	for _, p := range photos {
		if whole(p) {
			of[p.Photo]++
		}
	}
	names := make([]string, len(photos))
	for n, p := range photos {
		if names[n] = place(p); whole(p) && of[p.Photo] > 1 {
			before[p.Photo]++
			names[n] = fmt.Sprintf(" %d/%d", before[p.Photo], of[p.Photo])
		}
	}
	return names
}

// row returns the cells of one valve behind its name. A dash stands for what was not measured.
func row(p score.Record) []string {
	if p.Status != score.Scored {
		return []string{"not graded", "", unknown, unknown, unknown, unknown}
	}
	odds := p.Odds()
	graded, steps, index := indexCells(p.IndexFigure(), odds)
	return []string{graded, steps, darkCell(p.DarkFigure()), cleaning(odds), index, confidence(p)}
}

// shortenNames shortens the names in the first column where the widest row is too wide: first by the folder that all
// share, then by as much as is still too much, where they stay apart.
func shortenNames(rows [][]string, photos []score.Record, width int) {
	free, enough := room(rows, 0, width)
	if enough {
		return
	}
	shared := len(commonFolder(photos))
	var names []string
	var columns []int
	places := places(photos)
	for n, p := range photos {
		names = append(names, Printable(p.Photo[shared:]))
		columns = append(columns, max(leastName, free-len(places[n])))
	}
	for n, name := range apart(names, columns) {
		rows[n+1][0] = name + places[n]
	}
}

// commonFolder is the folder, slash included, in which all photos lie as they are named; "" when they share none.
func commonFolder(photos []score.Record) string {
	shared := photos[0].Photo
	for _, p := range photos[1:] {
		for !strings.HasPrefix(p.Photo, shared) {
			shared = shared[:len(shared)-1]
		}
	}
	return shared[:strings.LastIndex(shared, "/")+1]
}

// confidence is that of an outline that the program found.
func confidence(p score.Record) string {
	said := percent(p.RegionConfidence)
	if p.ByHand() {
		said = "by hand"
	}
	if p.Painted != nil {
		said += ", painted"
	}
	return said
}

// Remarks on what a person did, which the column of outlines says where there is room for it.
const (
	outlinedByHand reason.Code = "outline set by hand"
	paintedByHand  reason.Code = "painted by hand"
)

func byHand(p score.Record) []reason.Reason {
	var done []reason.Reason
	if p.ByHand() {
		done = append(done, reason.Reason{Code: outlinedByHand, Advice: "it is taken at its word"})
	}
	if p.Painted != nil {
		done = append(done, reason.Reason{Code: paintedByHand, Advice: "the classes there are those that were painted"})
	}
	return done
}

// percent returns a share of 0 to 1 in percent.
func percent(share measure.Number) string {
	if !share.Known() {
		return unknown
	}
	return number.Text(100*share.Value(), 0) + " %"
}

// decisions in the words of the table; the percentage behind one says how likely it is, behind the last how likely it
// is that cleaning is due.
var decisions = map[grade.Decision]string{
	grade.CleaningDue: "due", grade.NothingToDo: "none", grade.NotYetDue: "watch", grade.CannotSay: "due?",
}

func cleaning(p grade.Probabilities) string {
	decision, certainty := p.Decide()
	return decisions[decision] + " " + grade.CertaintyText(certainty)
}

// practice is what is commonly done at a grade, its distance in one unit.
func practice(value int, unit inspection.Unit) string {
	unit = cmp.Or(unit, inspection.Miles)
	again := fmt.Sprintf("%s to %s %s", number.Thousands(unit.Thousands(grade.Soonest)), number.Thousands(unit.Thousands(grade.Latest)), unit)
	return strings.Replace(grade.PracticeForm(value), "%s", again, 1)
}

// practices tell, for each decision in the table, what is commonly done.
func practices(photos []score.Record, unit inspection.Unit) []string {
	lines := map[grade.Decision][]string{}
	for _, p := range photos {
		if p.Status != score.Scored {
			continue
		}
		decision, _ := p.Odds().Decide()
		said := decisions[decision] + ": "
		switch value := decision.Practised(*p.Grade, p.BuildUp != nil && *p.BuildUp == deposit.Thin); decision {
		case grade.CannotSay:
			said += "the photo cannot say, the figure is how likely it is; " + grade.Retake
		case grade.CleaningDue:
			said = fmt.Sprintf("%s, grade %d: %s", decisions[decision], value, practice(value, unit))
		case grade.NotYetDue:
			said = practice(value, unit) // which says watch itself
		default:
			said += practice(value, unit)
		}
		if !slices.Contains(lines[decision], said) {
			lines[decision] = append(lines[decision], said)
		}
	}
	var all []string
	for _, d := range []grade.Decision{grade.CleaningDue, grade.NotYetDue, grade.NothingToDo, grade.CannotSay} {
		all = append(all, slices.Sorted(slices.Values(lines[d]))...)
	}
	return all
}

// Shorts returns the labels of the reasons, separated by commas.
func Shorts(reasons []reason.Reason) string {
	var labels []string
	for _, r := range reasons {
		labels = append(labels, label(r.Code))
	}
	return strings.Join(labels, ", ")
}

// label is the one of a reason; a code of a later program, which the table does not know, stands for itself.
func label(code reason.Code) string {
	if entry, ok := reason.Find(code); ok {
		return entry.Short
	}
	return string(code)
}

// remarks are the kinds of reasons in a table, numbered as they appear.
type remarks []remark

type remark struct {
	code   reason.Code
	advice []string // of each photo, once
}

// cell is what stands in the row of a photo: numbers, and labels beside them where there is room.
func (s *remarks) cell(told []reason.Reason, labels bool) string {
	var marks []string
	for _, r := range told {
		mark := fmt.Sprint(s.add(r) + 1)
		if labels {
			mark = fmt.Sprintf("%s [%s]", label(r.Code), mark)
		}
		marks = append(marks, mark)
	}
	if labels || len(marks) == 0 {
		return strings.Join(marks, ", ")
	}
	return "[" + strings.Join(marks, ",") + "]"
}

func (s *remarks) add(r reason.Reason) int {
	at := slices.IndexFunc(*s, func(known remark) bool { return known.code == r.Code })
	if at < 0 {
		at = len(*s)
		*s = append(*s, remark{code: r.Code})
	}
	known := &(*s)[at]
	if !slices.Contains(known.advice, r.Advice) {
		known.advice = append(known.advice, r.Advice)
	}
	return at
}

// lines are a sentence for each kind: that of the photo where one alone has it, with what was measured there; else that
// of the table.
func (s remarks) lines() []string {
	var lines []string
	for n, r := range s {
		said := r.advice[0]
		if _, known := reason.Find(r.code); known && len(r.advice) > 1 {
			said = reason.Of(r.code).Advice
		}
		lines = append(lines, fmt.Sprintf("[%d] %s: %s", n+1, label(r.code), Printable(said)))
	}
	return lines
}
