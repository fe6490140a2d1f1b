package plainjson

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"valvegrade/internal/limit"
)

// Read reads a saved result or a report within its limits: what it holds is counted before any of it is decoded. The
// error says in plain words what is wrong.
func Read(r io.Reader) ([]byte, error) {
	text, err := limit.Read(r, limit.SavedBytes)
	if err != nil {
		return nil, err
	}
	if !json.Valid(text) {
		return nil, ErrSyntax
	}
	return text, count(text, limit.SavedGroups, limit.SavedValues, limit.SavedDepth)
}

// count refuses JSON with more objects and lists, more values or more of them in each other than it may have.
func count(text []byte, mostGroups, mostValues, mostDepth int) error {
	groups, values, depth := 0, 0, 0
	for at := 0; at < len(text); at++ {
		switch text[at] {
		case '"':
			for at++; at < len(text) && text[at] != '"'; at++ {
				if text[at] == '\\' {
					at++
				}
			}
		case '{', '[':
			groups, depth = groups+1, depth+1
		case '}', ']':
			depth--
		case ',', ':':
			values++
		}
		if depth > mostDepth {
			return fmt.Errorf("what it holds lies more than %d levels deep", mostDepth)
		}
		if groups > mostGroups || values > mostValues {
			return errors.New("it holds more than thousands of photos would")
		}
	}
	return nil
}
