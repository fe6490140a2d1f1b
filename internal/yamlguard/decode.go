package yamlguard

import (
	"errors"
	"fmt"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// Fault is what is wrong with a text, in plain words, and in which line, the first when that is not known.
type Fault struct {
	Line  int
	Words string
	cause error
}

func (f *Fault) Error() string { return fmt.Sprintf("line %d: %s", f.Line, f.Words) }

// Unwrap returns the error of the library, or that of a form's own UnmarshalYAML.
func (f *Fault) Unwrap() error { return f.cause }

// Decode reads a file strictly into form, a pointer to a struct: unknown and repeated keys and a second document are faults. The tree is
// that of the text, for the lines of its entries. The error is ErrEncoding or a *Fault, which may be one that a form's own UnmarshalYAML
// returned.
func Decode(file []byte, form any) (tree *ast.File, err error) {
	text, err := textOf(file)
	if err != nil {
		return nil, err
	}
	err = guarded(func() (err error) {
		if tree, err = parser.ParseBytes(text, 0); err != nil {
			return err
		}
		return yaml.UnmarshalWithOptions(text, form, yaml.Strict())
	})
	var own *Fault
	switch {
	case errors.As(err, &own):
		return nil, own
	case err != nil:
		line, words := plain(err, text)
		return nil, &Fault{max(1, line), words, err}
	}
	if line := second(tree); line > 0 {
		return nil, &Fault{line, errSecond.Error(), errSecond}
	}
	return tree, nil
}
