package region

import (
	"strconv"
	"strings"
)

// ParseEllipse reads a head as typed on a command line, "x,y,a,b,angle": centre and semi-axes in pixels, angle of the
// first axis in degrees clockwise from the x axis. The error is an ErrMarks.
func ParseEllipse(text string) (Ellipse, error) {
	v, err := numbers(text, "x,y,a,b,angle")
	if err != nil {
		return Ellipse{}, err
	}
	e := Ellipse{v[0], v[1], v[2], v[3], v[4]}
	if err := e.validate(); err != nil {
		return Ellipse{}, wrongMarks("%q: %w", text, err)
	}
	return e.ordered(), nil
}

// ParseStem reads a stem as typed on a command line, "x1,y1,x2,y2,width": far end, end at the head, and width, in
// pixels. The error is an ErrMarks.
func ParseStem(text string) (Line, error) {
	v, err := numbers(text, "x1,y1,x2,y2,width")
	if err != nil {
		return Line{}, err
	}
	l := Line{v[0], v[1], v[2], v[3], v[4]}
	if err := l.validate(); err != nil {
		return Line{}, wrongMarks("%q: %w", text, err)
	}
	return l, nil
}

// numbers reads as many numbers as the form names, with commas between them.
func numbers(text, form string) ([]float64, error) {
	fields := strings.Split(text, ",")
	if want := strings.Count(form, ",") + 1; len(fields) != want {
		return nil, wrongMarks("%q has %d numbers, %s needs %d", text, len(fields), form, want)
	}
	values := make([]float64, len(fields))
	for i, field := range fields {
		v, err := strconv.ParseFloat(strings.TrimSpace(field), 64)
		if err != nil {
			return nil, wrongMarks("%q: %q is not a number", text, strings.TrimSpace(field))
		}
		values[i] = v
	}
	return values, nil
}
