package reason

import (
	"fmt"
	"slices"
)

// Entries are a table of reasons, such as that of photos here or that of comparisons in package compare. Codes differ,
// and refusing reasons stand first.
type Entries []Entry

// Find returns the entry of code, and false for an unknown code.
func (t Entries) Find(code Code) (Entry, bool) {
	if at := slices.IndexFunc(t, func(e Entry) bool { return e.Code == code }); at >= 0 {
		return t[at], true
	}
	return Entry{}, false
}

// Of returns the reason with the advice of the table. It panics on a code that the table lacks: a programming mistake.
func (t Entries) Of(code Code) Reason {
	e, ok := t.Find(code)
	if !ok {
		panic(fmt.Sprintf("reason: code %q is not in the table", code))
	}
	return Reason{Code: code, Advice: e.Advice + typed[code]}
}

// With returns the reason with what was found in this case put before the advice of the table.
func (t Entries) With(code Code, detail string) Reason {
	r := t.Of(code)
	r.Advice = detail + ": " + r.Advice
	return r
}

// Refuses reports whether any of the reasons refuses; those that the table lacks do not.
func (t Entries) Refuses(reasons []Reason) bool {
	return slices.ContainsFunc(reasons, func(r Reason) bool {
		e, ok := t.Find(r.Code)
		return ok && e.Refuses
	})
}
