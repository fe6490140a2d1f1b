package yamlform

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"valvegrade/internal/limit"
)

var (
	// ErrEncoding is returned for a file that is no text in UTF-8: read on, it would put other letters into names.
	ErrEncoding = errors.New("not a text in UTF-8: save the file as UTF-8")
	// ErrUnknownField is wrapped by the fault of a key that the form does not have.
	ErrUnknownField = errors.New("unknown field")
	// errSecond is what to say of a text with a second document, of which nothing would be read.
	errSecond = errors.New(
		"what stands from here on, below a line of --- or ..., would not be read: leave one document in the file",
	)
	// errOdd is what to say of tags, anchors and aliases, which no form needs: they are slips of the pen, or ask for
	// endless work.
	errOdd = errors.New("what begins with !, & or * is not read here: put it between quotes")
)

// byteOrderMark is what some editors put in front of a text.
var byteOrderMark = []byte("\uFEFF")

// Fault is what is wrong with a text, in plain words, and in which line, the first when that is not known.
type Fault struct {
	Line  int
	Words string
	cause error
}

func (f *Fault) Error() string { return fmt.Sprintf("line %d: %s", f.Line, f.Words) }

// Unwrap returns ErrUnknownField or the error of the library.
func (f *Fault) Unwrap() error { return f.cause }

// Decode reads a file strictly into form, a pointer to a struct: unknown and repeated keys and a second document
// are faults. tree is the mapping of the text, for the lines of its entries; it has no content when the text holds
// nothing. The error is ErrEncoding or a *Fault, which may be one that a form's own UnmarshalYAML returned.
func Decode(file []byte, form any) (tree *yaml.Node, err error) {
	if !utf8.Valid(file) {
		return nil, ErrEncoding
	}
	if len(file) > limit.FormBytes {
		return nil, &Fault{1, (&limit.TooLarge{Most: limit.FormBytes}).Error(), nil}
	}
	text := bytes.TrimPrefix(file, byteOrderMark)
	if tree, err = document(text); err != nil {
		return nil, explain(err, text)
	}
	if tree.IsZero() {
		return tree, nil
	}
	if err := measured(tree); err != nil {
		return nil, err
	}
	if line := odd(tree); line > 0 {
		return nil, &Fault{line, errOdd.Error(), errOdd}
	}
	return tree, explain(Into(tree, form), text)
}

// Into decodes a node as Decode does, for an UnmarshalYAML that wants to know where it stands.
func Into(node *yaml.Node, form any) error { return node.Load(form, yaml.WithKnownFields()) }

// document returns what stands in the one document of a text, the zero Node for nothing.
func document(text []byte) (*yaml.Node, error) {
	loader, err := yaml.NewLoader(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	found := new(yaml.Node)
	for {
		var next yaml.Node
		err := loader.Load(&next)
		switch {
		case errors.Is(err, io.EOF):
			return found, nil
		case err != nil:
			return nil, err
		case holdsNothing(&next):
			continue
		case !found.IsZero():
			return nil, &Fault{next.Content[0].Line, errSecond.Error(), errSecond}
		}
		found = next.Content[0]
	}
}

// odd returns the line of the first tag, anchor or alias, 0 when there is none.
func odd(node *yaml.Node) (line int) {
	if node.Style&yaml.TaggedStyle != 0 || node.Anchor != "" || node.Kind == yaml.AliasNode {
		return node.Line
	}
	for _, part := range node.Content {
		if line := odd(part); line > 0 {
			return line
		}
	}
	return 0
}

// holdsNothing reports whether a document is empty but for remarks.
func holdsNothing(document *yaml.Node) bool {
	return len(document.Content) == 0 || document.Content[0].ShortTag() == "!!null" && document.Content[0].Value == ""
}
