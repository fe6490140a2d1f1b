// Package plainjson says what is wrong with a saved JSON file for somebody who knows neither Go nor how the program
// names its types.
package plainjson

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// ErrSyntax is what Error says of a text that is no JSON.
var ErrSyntax = errors.New("the file is not JSON, or not whole")

// Error returns what an error of encoding/json says in plain words; any other error comes back as it is.
func Error(err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax), errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return ErrSyntax
	case errors.As(err, &kind) && kind.Field == "":
		return errors.New("it does not hold what belongs there")
	case errors.As(err, &kind):
		names := strings.Split(kind.Field, ".") // Go's names of embedded types stand among the keys, but never last
		return fmt.Errorf("%q does not hold what belongs there", names[len(names)-1])
	}
	return err
}
