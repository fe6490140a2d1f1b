package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/score"
)

// cautions stand in the help of the commands that describe work on an engine. They are those of the reports.
var cautions = "CAUTIONS:\n" + paragraph(strings.Join(texts.English.CautionList, " "), "  ", 118)

// caution is what a grade is and is not: it stands in the help of commands that show grades.
var caution = "CAUTION:\n" + paragraph(texts.English.CautionList[0], "  ", 118)

// showCautionsAre says where the cautions are.
func showCautionsAre(w io.Writer) error {
	_, err := fmt.Fprintln(w, "\nBefore cleaning read the cautions: valvegrade compare --help")
	return err
}

// showCautionsIfDue does where a valve is said to be cleaned.
func showCautionsIfDue(w io.Writer, photos []score.Record) error {
	due := func(r score.Record) bool {
		decision, _ := r.Odds().Decide()
		return r.Status == score.Scored && decision == grade.CleaningDue
	}
	if !slices.ContainsFunc(photos, due) {
		return nil
	}
	return showCautionsAre(w)
}

// paragraph breaks a text into lines of at most width characters, each behind the indent.
func paragraph(text, indent string, width int) string {
	var lines []string
	line := indent
	for word := range strings.FieldsSeq(text) {
		if len(line)+len(word) > width {
			lines = append(lines, strings.TrimRight(line, " "))
			line = indent
		}
		line += word + " "
	}
	return strings.Join(append(lines, strings.TrimRight(line, " ")), "\n")
}
