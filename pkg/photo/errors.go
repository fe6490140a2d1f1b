package photo

import (
	"errors"
	"fmt"

	"valvegrade/pkg/reason"
)

// The kinds of refusal. Read and Decode wrap them together with the facts of the file: test with errors.Is.
var (
	ErrNotImage      = errors.New("not an image")
	ErrUnsupported   = errors.New("format not supported")
	ErrTruncated     = errors.New("truncated or damaged")
	ErrTooLarge      = errors.New("too large")
	ErrTooManyPixels = errors.New("too many pixels")
	ErrTooSmall      = errors.New("too small")
	ErrTooSlow       = errors.New("takes too long to read")
	ErrUnreachable   = errors.New("cannot be read")
)

var codes = []struct {
	kind error
	code reason.Code
}{
	{ErrNotImage, reason.NotAnImage},
	{ErrUnsupported, reason.Unsupported},
	{ErrTruncated, reason.Truncated},
	{ErrTooLarge, reason.TooLarge},
	{ErrTooManyPixels, reason.TooManyPixels},
	{ErrTooSmall, reason.TooSmall},
	{ErrTooSlow, reason.TooSlow},
	{ErrUnreachable, reason.Unreachable},
}

// refusal is one of the kinds above with the fact that caused it and, where there is one, the error underneath.
type refusal struct {
	name  string
	kind  error
	fact  string
	cause error
}

func (r *refusal) Error() string {
	text := fmt.Sprintf("photo %q: %v: %s", r.name, r.kind, r.fact)
	if r.cause != nil {
		text += ": " + r.cause.Error()
	}
	return text
}

func (r *refusal) Unwrap() []error {
	if r.cause == nil {
		return []error{r.kind}
	}
	return []error{r.kind, r.cause}
}

// refuse makes a refusal without a name: Decode and Read, which know the name, add it.
func refuse(kind, cause error, format string, args ...any) *refusal {
	return &refusal{kind: kind, cause: cause, fact: fmt.Sprintf(format, args...)}
}

// ReasonFor turns an error of Read or Decode into the reason a user sees, with the facts of the file in its sentence.
// Any other error becomes reason.Failed.
func ReasonFor(err error) reason.Reason {
	var why *refusal
	for _, c := range codes {
		if !errors.Is(err, c.kind) {
			continue
		}
		if errors.As(err, &why) {
			return reason.With(c.code, why.fact)
		}
		return reason.Of(c.code)
	}
	return reason.Of(reason.Failed)
}
