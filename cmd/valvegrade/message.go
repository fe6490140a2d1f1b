package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"valvegrade/internal/terminal"
)

// How the program speaks:
//   - results go to standard output, everything about the run to standard error;
//   - a message is one line: "valvegrade: " and a sentence without capital and full stop;
//   - where the user can do something about it, a second line says "hint: " and what to type or change.

// hintedError is an error with advice.
type hintedError struct {
	error
	hint string
}

func (e *hintedError) Unwrap() error { return e.error }

// hinted adds advice to an error.
func hinted(err error, format string, args ...any) error {
	return &hintedError{err, fmt.Sprintf(format, args...)}
}

// usageError is a mistake in the command line.
type usageError struct{ error }

func (e *usageError) Unwrap() error { return e.error }

// misuse makes a usageError.
func misuse(format string, args ...any) error { return &usageError{fmt.Errorf(format, args...)} }

// mostFaults is how many faults of one file are printed: by then the reader knows what is wrong with it.
const mostFaults = 20

// complain prints an error and its hint. Each stays on one line, whatever a library or a file name put into it; an
// error that lists the faults of a file gets a line for each.
func complain(stderr io.Writer, err error) {
	var list interface{ Lines() []string }
	if errors.As(err, &list) {
		faults := list.Lines()
		for _, fault := range faults[:min(mostFaults, len(faults))] {
			note(stderr, "%s", fault)
		}
		if more := len(faults) - mostFaults; more > 0 {
			note(stderr, "and %d more faults", more)
		}
	} else {
		note(stderr, "%v", err)
	}
	var advice *hintedError
	if errors.As(err, &advice) {
		fmt.Fprintf(stderr, "hint: %s\n", terminal.Escaped(advice.hint))
	}
}

// note prints one line about the run. Whatever came into it from outside, a name or a key of a file, cannot move the
// cursor.
func note(stderr io.Writer, format string, args ...any) {
	text := strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " ")
	fmt.Fprintf(stderr, "valvegrade: %s\n", terminal.Escaped(text))
}
