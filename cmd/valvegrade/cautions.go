package main

import (
	"strings"

	"valvegrade/internal/report/texts"
)

// cautions stand in the help of the commands that describe work on an engine. They are those of the reports.
var cautions = "CAUTIONS:\n" + paragraph(strings.Join(texts.English.CautionList, " "), "  ", 118)

// caution is what a grade is and is not: it stands in the help of commands that show grades.
var caution = "CAUTION:\n" + paragraph(texts.English.CautionList[0], "  ", 118)

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
