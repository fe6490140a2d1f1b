// Package ratings reads lists of ratings by eye, as a spreadsheet saves them.
package ratings

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"valvegrade/internal/limit"
	"valvegrade/pkg/agree"
)

// mostSeparators is how many commas the largest list has between its six columns: one line of commas alone would cost
// more than all of it.
const mostSeparators = 6 * limit.Ratings

// DefaultRater is the name of the only rater of a list without a column "rater".
const DefaultRater = "rater"

// ListError holds everything that is wrong with a list of ratings, an error with its line number for each.
type ListError []error

// Error writes one line per fault.
func (e ListError) Error() string { return strings.Join(e.Lines(), "\n") }

// Lines returns one line per fault.
func (e ListError) Lines() []string {
	lines := make([]string, len(e))
	for i, fault := range e {
		lines[i] = fault.Error()
	}
	return lines
}

// Read takes ratings as text in UTF-8 separated by commas, semicolons or tabs (RFC 4180) with a header line. Columns,
// in any order: photo and grade (0 to 4) must be there, rater, index (0 to 100, may be empty; a decimal comma is fine
// where commas do not separate), valve and valve_in_photo may be. Photos of one valve count as repeats of each other;
// valve_in_photo says which valve of the photo was rated, counted from the left, and may be empty where there is one.
// name stands in front of the line number in errors; all faulty lines are reported together, as a ListError.
func Read(name string, r io.Reader) ([]agree.Rating, error) {
	text, err := limit.Read(r, limit.RatingBytes)
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, err)
	case !utf8.Valid(text):
		return nil, fmt.Errorf("%s: not a text in UTF-8: save the list as CSV UTF-8", name)
	}
	body := strings.TrimPrefix(string(text), "\uFEFF") // a spreadsheet's byte order mark
	if separators := strings.Count(body, string(separatorOf(body))); separators > mostSeparators {
		return nil, fmt.Errorf("%s: more commas than %d ratings have", name, limit.Ratings)
	}
	lines := csv.NewReader(strings.NewReader(body))
	lines.Comma = separatorOf(body)
	lines.TrimLeadingSpace = true
	lines.ReuseRecord = true // the fields of each line are copied where they are kept
	first, err := lines.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: empty, the first line must name the columns photo, rater, grade", name)
	}
	if err != nil {
		return nil, fmt.Errorf("%s:1: %w", name, plainCSV(err))
	}
	where, err := columnsOf(first)
	if err != nil {
		return nil, fmt.Errorf("%s:1: %w", name, err)
	}
	where.decimalComma = lines.Comma != ','
	return readLines(name, lines, where)
}

// separatorOf finds what separates the columns of the header.
func separatorOf(text string) rune {
	header, _, _ := strings.Cut(text, "\n")
	for _, separator := range ",;\t" {
		if strings.ContainsRune(header, separator) {
			return separator
		}
	}
	return ','
}

// columns says where each known column stands in a line, -1 for a column that is not there, and whether numbers may be
// written with a comma.
type columns struct {
	photo, rater, valve, place, grade, index int
	decimalComma                             bool
}

func columnsOf(header []string) (columns, error) {
	where := columns{photo: -1, rater: -1, valve: -1, place: -1, grade: -1, index: -1}
	for i, title := range header {
		var slot *int
		switch strings.ToLower(strings.TrimSpace(title)) {
		case "photo":
			slot = &where.photo
		case "rater":
			slot = &where.rater
		case "valve":
			slot = &where.valve
		case "valve_in_photo":
			slot = &where.place
		case "grade":
			slot = &where.grade
		case "index":
			slot = &where.index
		default:
			return where, fmt.Errorf(
				"unknown column %q: columns are photo, valve_in_photo, rater, valve, grade, index",
				title,
			)
		}
		if *slot >= 0 {
			return where, fmt.Errorf("column %q stands twice", title)
		}
		*slot = i
	}
	if where.photo < 0 || where.grade < 0 {
		return where, errors.New("columns photo and grade must both be there")
	}
	return where, nil
}

func readLines(name string, lines *csv.Reader, where columns) ([]agree.Rating, error) {
	var ratings []agree.Rating
	var faults ListError
	for len(faults) < limit.Faults {
		fields, err := lines.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var syntax *csv.ParseError
		if errors.As(err, &syntax) {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, syntax.Line, plainCSV(err)))
			if !errors.Is(err, csv.ErrFieldCount) {
				break // a broken quote: what follows cannot be told apart
			}
			continue
		}
		line, _ := lines.FieldPos(0)
		rating, err := where.rating(fields)
		if err != nil {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, line, err))
			continue
		}
		if ratings = append(ratings, rating); len(ratings) > limit.Ratings {
			return nil, fmt.Errorf("%s: more than %d ratings", name, limit.Ratings)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	if len(ratings) == 0 {
		return nil, fmt.Errorf("%s: no ratings below the header", name)
	}
	if raters := len(agree.Raters(ratings)); raters > limit.Raters {
		return nil, fmt.Errorf("%s: %d raters, the limit is %d", name, raters, limit.Raters)
	}
	return ratings, nil
}

// plainCSV says what is wrong with a line in words of its own; where it stands is said by the caller.
func plainCSV(err error) error {
	switch {
	case errors.Is(err, csv.ErrQuote), errors.Is(err, csv.ErrBareQuote):
		return errors.New("a quotation mark is missing or stands where none may")
	case errors.Is(err, csv.ErrFieldCount):
		return errors.New("more or fewer columns than in the first line")
	default:
		return err
	}
}

func (c columns) rating(fields []string) (agree.Rating, error) {
	field := func(i int) string {
		if i < 0 {
			return ""
		}
		return strings.TrimSpace(fields[i])
	}
	r := agree.Rating{Photo: field(c.photo), Rater: DefaultRater, Valve: field(c.valve), Index: math.NaN()}
	if r.Photo == "" {
		return r, errors.New("photo is empty")
	}
	if c.rater >= 0 {
		r.Rater = field(c.rater)
	}
	if r.Rater == "" {
		return r, errors.New("rater is empty")
	}
	if text := field(c.place); text != "" {
		place, err := strconv.Atoi(text)
		if err != nil || place < 1 {
			return r, fmt.Errorf("valve_in_photo %q is not a whole number from 1", text)
		}
		r.ValveInPhoto = place
	}
	if r.Valve == "" {
		r.Valve = r.Item()
	}
	if field(c.grade) == "" {
		return r, fmt.Errorf("grade is empty: give one from 0 to %d, or take the line out", agree.Grades-1)
	}
	grade, err := strconv.Atoi(field(c.grade))
	if err != nil || grade < 0 || grade >= agree.Grades {
		return r, fmt.Errorf("grade %q is not a whole number from 0 to %d", field(c.grade), agree.Grades-1)
	}
	r.Grade = grade
	if text := field(c.index); text != "" {
		if c.decimalComma {
			text = strings.Replace(text, ",", ".", 1)
		}
		index, err := strconv.ParseFloat(text, 64)
		if err != nil || !(index >= 0 && index <= 100) {
			return r, fmt.Errorf("index %q is not a number from 0 to 100", text)
		}
		r.Index = index
	}
	return r, nil
}
