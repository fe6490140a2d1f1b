// Package reason is the one table of everything that can be wrong, or doubtful, with a photo, and the form of such
// tables.
//
// JSON, terminal, overlay, report, help and documentation all read this table, so a code means the same and advises the
// same everywhere. Values are plain data and safe for concurrent use.
package reason

import "strings"

// Code names one reason. It is stable: results written by one version are read by the next.
type Code string

// The reasons, from those that end the work early to mere warnings. Refusing reasons stand first.
const (
	NotAnImage       Code = "not-an-image"
	Unsupported      Code = "unsupported"
	Truncated        Code = "truncated"
	TooLarge         Code = "too-large"
	TooManyPixels    Code = "too-many-pixels"
	TooSmall         Code = "too-small"
	TooSlow          Code = "too-slow"
	Unreachable      Code = "unreachable"
	BadMarks         Code = "bad-marks"
	NoValve          Code = "no-valve"
	FewerValves      Code = "fewer-valves"
	TooDark          Code = "too-dark"
	TooBright        Code = "too-bright"
	Blurred          Code = "blurred"
	Moving           Code = "moving"
	ValveTooSmall    Code = "valve-too-small"
	MostlyUnreadable Code = "mostly-unreadable"
	MostlyShadow     Code = "mostly-shadow"
	MostlyAside      Code = "mostly-aside"
	Failed           Code = "failed"

	LowConfidence Code = "low-confidence"
	Glare         Code = "glare"
	SoftFocus     Code = "soft-focus"
	Unsteady      Code = "unsteady"
	Dim           Code = "dim"
	FarAway       Code = "far-away"
	CutOff        Code = "cut-off"
	OtherValve    Code = "other-valve"
	StemHidden    Code = "stem-hidden"
	PaintBeside   Code = "paint-beside"
)

// Entry is one row of the table.
type Entry struct {
	Code Code
	// Refuses is true when the reason alone makes the photo impossible to judge.
	Refuses bool
	// Short is a label of at most five words for tables and captions.
	Short string
	// Told is what a customer is told: a sentence on the photo, without advice; "" for what is the workshop's business
	// alone.
	Told string
	// Advice is one sentence that tells the technician what to do.
	Advice string
}

// Reason is a Code as found in one photo, with a sentence that may carry that photo's figures.
type Reason struct {
	Code   Code   `json:"code"`
	Advice string `json:"advice"`
}

// WithoutTyping is the advice for who has no command line.
func (r Reason) WithoutTyping() string { return strings.TrimSuffix(r.Advice, typed[r.Code]) }

// Table returns every reason with a photo in a fixed order. The caller owns the slice.
func Table() Entries { return append(Entries(nil), table...) }

// Find returns the entry of a photo's reason, and false for an unknown code.
func Find(code Code) (Entry, bool) { return table.Find(code) }

// Of returns the reason with the advice of the table. It panics on a code that the table lacks: a programming mistake.
func Of(code Code) Reason { return table.Of(code) }

// With returns the reason with the measured detail put before the advice of the table:
// With(ValveTooSmall, "the valve fills 2 % of the frame") reads "the valve fills 2 % of the frame: come closer ...".
func With(code Code, detail string) Reason { return table.With(code, detail) }

// Refuses reports whether any of the reasons makes the photo impossible to judge.
func Refuses(reasons []Reason) bool { return table.Refuses(reasons) }
