package terminal

import (
	"slices"
	"strings"

	"github.com/rivo/uniseg"
)

// leastName is how short a name becomes at most.
const leastName = 12

// widths are those of the columns of a table, each as wide as its widest cell.
func widths(rows [][]string) []int {
	var widest []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widest) {
				widest = append(widest, 0)
			}
			widest[i] = max(widest[i], uniseg.StringWidth(cell))
		}
	}
	return widest
}

// breadth is how wide a table is, its columns two blanks apart.
func breadth(rows [][]string) int {
	all := -2
	for _, one := range widths(rows) {
		all += one + 2
	}
	return all
}

// fitted leaves out columns, in the order in which their headers are named, until a table is at most so many columns wide
// or nothing that is named is left.
func fitted(rows [][]string, width int, spare ...string) [][]string {
	for _, header := range spare {
		if breadth(rows) <= width {
			break
		}
		rows = without(rows, header)
	}
	return rows
}

// without is a table that lacks the column of a header, the last one where several bear it.
func without(rows [][]string, header string) [][]string {
	column := len(rows[0]) - 1
	for column >= 0 && rows[0][column] != header {
		column--
	}
	var left [][]string
	for _, row := range rows {
		if column >= 0 && column < len(row) {
			row = slices.Delete(slices.Clone(row), column, column+1)
		}
		left = append(left, row)
	}
	return left
}

// leastLong is how much of a long text, such as a name or a way of cleaning, is worth more than another column.
const leastLong = 16

// fit has a table be at most so many columns wide, as far as that goes: columns are left out, in the order in which
// their headers are named, until the cells below the header long need not be shortened to less than leastLong.
func fit(rows [][]string, width int, long string, spare ...string) [][]string {
	for _, header := range spare {
		if breadth(narrowed(rows, long, leastLong, width)) <= width {
			break
		}
		rows = without(rows, header)
	}
	return narrowed(rows, long, 0, width)
}

// room is how wide the cells of a column may be for a table of at most so many columns, and whether all of them are.
func room(rows [][]string, column, width int) (columns int, enough bool) {
	over := breadth(rows) - width
	return widths(rows)[column] - over, over <= 0
}

// narrowed shortens the cells below a header in their middle, but to no less than a number of columns or the header's,
// until a table is at most so many columns wide.
func narrowed(rows [][]string, header string, least, width int) [][]string {
	column := slices.Index(rows[0], header)
	free, enough := room(rows, column, width)
	if enough {
		return rows
	}
	short := slices.Clone(rows)
	for n, row := range rows[1:] {
		if column < len(row) {
			row = slices.Clone(row)
			row[column] = shortened(row[column], max(free, least, uniseg.StringWidth(header)))
			short[n+1] = row
		}
	}
	return short
}

// shortened takes letters out of the middle until the text is at most so many columns wide: the end of a name tells one
// photo from the next, the beginning one folder from another.
func shortened(text string, width int) string {
	return cut(text, width, (width-1)/2)
}

// cut is a text of which at most so many columns are left, not more than front of them before what was taken out.
func cut(text string, width, front int) string {
	if uniseg.StringWidth(text) <= width {
		return text
	}
	var letters []string
	for rest := text; rest != ""; {
		var letter string
		letter, rest, _, _ = uniseg.FirstGraphemeClusterInString(rest, -1)
		letters = append(letters, letter)
	}
	head := within(letters, front)
	slices.Reverse(letters)
	tail := within(letters, width-1-front)
	slices.Reverse(tail)
	return strings.Join(head, "") + "…" + strings.Join(tail, "")
}

// within are the first of the letters that take at most so many columns.
func within(letters []string, columns int) []string {
	for n, letter := range letters {
		if columns -= uniseg.StringWidth(letter); columns < 0 {
			return slices.Clone(letters[:n])
		}
	}
	return slices.Clone(letters)
}

// apart shortens names to at most so many columns each, all at one place: the middle, or the place nearest to it where
// names that differ still do.
func apart(names []string, columns []int) []string {
	cutAt := func(shift int) []string {
		short := make([]string, len(names))
		for n, name := range names {
			front := (columns[n]-1)/2 + shift
			short[n] = cut(name, columns[n], min(max(0, front), columns[n]-1))
		}
		return short
	}
	for shift := range slices.Max(columns) {
		for _, signed := range []int{shift, -shift} {
			if short := cutAt(signed); different(short) == different(names) {
				return short
			}
		}
	}
	return cutAt(0)
}

// different counts the names that are not repetitions of others.
func different(names []string) int {
	known := map[string]bool{}
	for _, name := range names {
		known[name] = true
	}
	return len(known)
}
