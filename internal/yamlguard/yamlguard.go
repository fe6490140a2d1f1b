// Package yamlguard keeps the YAML library's panics and its words away from the rooms that read files written by hand.
package yamlguard

import "errors"

// ErrUnreadable is returned for a text on which the library panics.
var ErrUnreadable = errors.New("not readable as YAML")

// guarded calls f, which decodes with the library in this goroutine, and returns its error. github.com/goccy/go-yaml v1.19.2
// follows a nil pointer on some malformed texts, such as a bare tag in place of a list: that panic becomes ErrUnreadable.
func guarded(f func() error) (err error) {
	defer func() {
		if recover() != nil {
			err = ErrUnreadable
		}
	}()
	return f()
}
