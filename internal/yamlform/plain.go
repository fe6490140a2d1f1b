package yamlform

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v4"
)

// What the library says of a key that stands twice in one place, of one that the form does not have, and of a value
// that does not fit.
var (
	twice   = regexp.MustCompile(`^mapping key (".*") already defined at line (\d+)$`)
	unknown = regexp.MustCompile(`^field (.*) not found in type `)
	unfit   = regexp.MustCompile(`^cannot construct .* into \*?(\[\]|string$|bool$|u?int\d*$|float\d+$)?`)
)

// gluedKey finds a key whose value follows without a blank, which YAML takes for one word. What looks like an
// address is none.
var gluedKey = regexp.MustCompile(`^\s*(?:- )?(\w+:)[^\s/]`)

const (
	entriesBelong = `entries such as "name: value" belong here`
	oneBelongs    = "a single value belongs here"
	listBelongs   = "a list belongs here, each entry after a dash"
)

// explain says what is wrong with a text for somebody who knows neither Go nor the words of YAML. err is the
// library's, or a form's own fault; nil stays nil.
func explain(err error, text []byte) error {
	var own *Fault
	var fault *yaml.LoadError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &own):
		return own
	case !errors.As(err, &fault):
		return &Fault{1, err.Error(), err}
	case errors.As(fault, &own): // that of the first of several
		return own
	}
	lines := strings.Split(string(bytes.TrimSuffix(text, []byte("\n"))), "\n")
	line := min(max(1, fault.Mark.Line), len(lines)) // some faults are noticed below the last line
	switch fault.Stage {
	case yaml.ReaderStage: // which tells no lines
		line = max(1, 1+slices.IndexFunc(lines, func(l string) bool { return strings.ContainsFunc(l, unwritable) }))
		return &Fault{line, "a character stands here that no text holds", fault}
	case yaml.ConstructorStage:
		return misplaced(fault, line)
	}
	return malformed(fault, line, lines)
}

// unwritable reports whether a character may stand in no YAML (YAML 1.2.2, 5.1).
func unwritable(r rune) bool { return unicode.IsControl(r) && r != '\t' && r != '\r' && r != '\u0085' }

// misplaced explains what is YAML but does not fit the form.
func misplaced(fault *yaml.LoadError, line int) *Fault {
	if parts := twice.FindStringSubmatch(fault.Message); parts != nil {
		return &Fault{line, fmt.Sprintf("%s stands twice, first in line %s", parts[1], parts[2]), fault}
	}
	if parts := unknown.FindStringSubmatch(fault.Message); parts != nil {
		if key := gluedKey.FindStringSubmatch(parts[1]); key != nil { // between { and } it is a name of its own
			return &Fault{line, missingBlank(key[1]), fault}
		}
		return &Fault{line, fmt.Sprintf("%v %q", ErrUnknownField, parts[1]), ErrUnknownField}
	}
	words := fault.Message
	if parts := unfit.FindStringSubmatch(fault.Message); parts != nil {
		switch parts[1] {
		case "":
			words = entriesBelong
		case "[]":
			words = listBelongs
		default:
			words = oneBelongs
		}
	}
	return &Fault{line, words, fault}
}

// malformed explains what is no YAML.
func malformed(fault *yaml.LoadError, line int, lines []string) *Fault {
	if fault.ContextMsg == "while scanning a simple key" { // noticed only where the next line begins
		line = min(max(1, fault.ContextMark.Line), len(lines))
	}
	if at, key := glued(lines, line); key != "" {
		return &Fault{at, missingBlank(key), fault}
	}
	words := fault.Message
	switch {
	case strings.HasPrefix(lines[line-1], "%YAML"):
		words = "leave the line with %YAML out"
	case strings.HasPrefix(strings.TrimLeft(lines[line-1], " "), "\t"):
		words = "a tab stands where only blanks may"
	case strings.HasPrefix(fault.ContextMsg, "while parsing a flow"):
		words = "a [ or { is not closed as it should be"
	case words == "mapping values are not allowed in this context":
		words = "a colon is missing in the line above, or one is too many here: put a value with a colon between quotes"
	case strings.HasSuffix(words, "expected ':'"), words == "did not find expected key":
		words = entriesBelong
	}
	return &Fault{line, words, fault}
}

func missingBlank(key string) string { return fmt.Sprintf("a blank is missing behind %q", key) }

// glued returns the key without a blank behind it in a line or a neighbour of it, where the library notices that
// something is wrong.
func glued(lines []string, line int) (at int, key string) {
	for _, at := range []int{line, line - 1, line + 1} {
		if at < 1 || at > len(lines) {
			continue
		}
		if parts := gluedKey.FindStringSubmatch(lines[at-1]); parts != nil {
			return at, parts[1]
		}
	}
	return 0, ""
}
