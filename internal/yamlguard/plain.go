package yamlguard

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
)

// ErrEncoding is returned for a file that is no text in UTF-8: read on, it would put other letters into names.
var ErrEncoding = errors.New("not a text in UTF-8: save the file as UTF-8")

// byteOrderMark is what some editors put in front of a text; to the library it would be part of the first key.
var byteOrderMark = []byte("\uFEFF")

// textOf returns the text of a file without a byte order mark, or ErrEncoding.
func textOf(file []byte) ([]byte, error) {
	if !utf8.Valid(file) {
		return nil, ErrEncoding
	}
	return bytes.TrimPrefix(file, byteOrderMark), nil
}

// twice is what the library says of a key that stands twice in one place.
var twice = regexp.MustCompile(`^mapping key (".*") already defined at \[(\d+):\d+\]$`)

// gluedKey finds a key whose value follows without a blank, which YAML takes for one word. What looks like an address is none.
var gluedKey = regexp.MustCompile(`^\s*(?:- )?(\w+:)[^\s/]`)

// glued returns the key without a blank behind it in a line or a neighbour of it, where the library notices that something is wrong.
func glued(file []byte, line int) (at int, key string) {
	lines := strings.Split(string(file), "\n")
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

// plain says what is wrong with a text for somebody who knows neither Go nor the words of YAML, and in which line, 0 when it is
// not known. err is the library's, or that of guarded, of what stands in file.
func plain(err error, file []byte) (line int, text string) {
	var fault yaml.Error
	if !errors.As(err, &fault) {
		return 0, err.Error()
	}
	if token := fault.GetToken(); token != nil {
		line = token.Position.Line
	}
	var kind *yaml.UnexpectedNodeTypeError
	var value *yaml.TypeError
	var form *yaml.SyntaxError
	text = fault.GetMessage()
	if errors.As(err, &form) {
		if at, key := glued(file, line); key != "" {
			return at, fmt.Sprintf("a blank is missing behind %q", key)
		}
	}
	switch parts := twice.FindStringSubmatch(text); {
	case parts != nil:
		text = fmt.Sprintf("%s stands twice, first in line %s", parts[1], parts[2])
	case errors.As(err, &kind) && kind.Expected == ast.MappingType, text == "non-map value is specified", text == "unexpected key name":
		text = "entries such as \"name: value\" belong here"
	case errors.As(err, &kind) && kind.Expected == ast.SequenceType:
		text = "a list belongs here, each entry after a dash"
	case errors.As(err, &kind), errors.As(err, &value):
		text = "a single value belongs here"
	case strings.Contains(text, `character '`+"\t"+`'`):
		text = "a tab stands where only blanks may"
	}
	return line, text
}
