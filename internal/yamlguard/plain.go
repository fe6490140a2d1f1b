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

// plain says what is wrong with a text for somebody who knows neither Go nor the words of YAML, and in which line, 0 when it is
// not known. err is the library's, or that of guarded.
func plain(err error) (line int, text string) {
	var fault yaml.Error
	if !errors.As(err, &fault) {
		return 0, err.Error()
	}
	if token := fault.GetToken(); token != nil {
		line = token.Position.Line
	}
	var kind *yaml.UnexpectedNodeTypeError
	var value *yaml.TypeError
	text = fault.GetMessage()
	switch parts := twice.FindStringSubmatch(text); {
	case parts != nil:
		text = fmt.Sprintf("%s stands twice, first in line %s", parts[1], parts[2])
	case errors.As(err, &kind) && kind.Expected == ast.MappingType:
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
