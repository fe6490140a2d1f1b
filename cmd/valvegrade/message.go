package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
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

// complain prints an error and its hint. Each stays on one line, whatever a library or a file name put into it.
func complain(stderr io.Writer, err error) {
	note(stderr, "%v", err)
	var advice *hintedError
	if errors.As(err, &advice) {
		fmt.Fprintf(stderr, "hint: %s\n", advice.hint)
	}
}

// note prints one line about the run.
func note(stderr io.Writer, format string, args ...any) {
	text := strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " ")
	fmt.Fprintf(stderr, "valvegrade: %s\n", text)
}
