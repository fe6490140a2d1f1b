package verify

import (
	"fmt"
	"path/filepath"
	"reflect"

	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// Verdict is how a saved result stands to its photo. Words are printed as they are.
type Verdict string

// The verdicts.
const (
	// Same: bytes, version and every figure.
	Same Verdict = "same"
	// SameWithin: bytes and version, and every figure within what another processor changes (see score.ProcessorPoints).
	SameWithin Verdict = "same within 0.05 points"
	// OtherVersion: the bytes are the same, but another version scored them; Why says whether the grade is the same all the same.
	OtherVersion Verdict = "other version"
	// OtherFigures: bytes and version are the same, the figures are not.
	OtherFigures Verdict = "other figures"
	// OtherBytes: a photo of that name was given, but it is not the one that was scored.
	OtherBytes Verdict = "other bytes"
	// NotGiven: no photo of these bytes or this name was given.
	NotGiven Verdict = "not given"
	// NotInReport: a photo was given that no saved result speaks of.
	NotInReport Verdict = "not in the report"
)

// Check is the verdict on one photo. Saved is nil for a photo that is not in the report, Again for one that was not given.
type Check struct {
	Saved, Again *score.Record
	Verdict      Verdict
	// Why is one sentence, "" for Same.
	Why string
}

// Matches reports whether photo and report are the same, but for what another processor changes.
func (c Check) Matches() bool { return c.Verdict == Same || c.Verdict == SameWithin }

// Compare holds saved results against the results of scoring the photos again, in the order of saved; photos that are not in the
// report follow. Photos are matched by their bytes, so renamed ones are found; those left over by their names.
func Compare(saved, again []score.Record) []Check {
	m := matching{saved: saved, again: again, of: make([]int, len(saved)), used: make([]bool, len(again))}
	m.match(sameBytes)
	m.match(sameName)
	checks := make([]Check, 0, len(saved))
	for n, found := range m.of {
		c := Check{Saved: &saved[n], Verdict: NotGiven, Why: "no photo with these bytes or this name was given"}
		if found > 0 {
			c.Again = &again[found-1]
			c.Verdict, c.Why = judge(c.Saved, c.Again)
		}
		checks = append(checks, c)
	}
	for n := range again {
		if !m.used[n] {
			checks = append(checks, Check{Again: &again[n], Verdict: NotInReport, Why: "the report has no result of these bytes"})
		}
	}
	return checks
}

// matching pairs saved results with new ones. of holds places in again counted from 1, 0 where none was found.
type matching struct {
	saved, again []score.Record
	of           []int
	used         []bool
}

// match pairs what is not paired yet and agrees.
func (m *matching) match(agree func(saved, again *score.Record) bool) {
	for n := range m.saved {
		for k := range m.again {
			if m.of[n] == 0 && !m.used[k] && agree(&m.saved[n], &m.again[k]) {
				m.of[n], m.used[k] = k+1, true
			}
		}
	}
}

func sameBytes(saved, again *score.Record) bool {
	return saved.SHA256 != nil && equal(saved.SHA256, again.SHA256)
}

func sameName(saved, again *score.Record) bool {
	return filepath.Base(filepath.ToSlash(saved.Photo)) == filepath.Base(again.Photo)
}

// judge compares a saved result with a new one of the photo that was found for it.
func judge(saved, again *score.Record) (Verdict, string) {
	switch {
	case !equal(saved.SHA256, again.SHA256):
		return OtherBytes, "the file is not the one that was scored: it was changed, or another photo took its name"
	case saved.Version != again.Version && sameFigures(saved, again):
		return OtherVersion, fmt.Sprintf("scored by %s, now by %s: every figure is the same", saved.Version, again.Version)
	case saved.Version != again.Version && equal(saved.Grade, again.Grade):
		return OtherVersion, fmt.Sprintf("scored by %s, now by %s: same grade, other figures", saved.Version, again.Version)
	case saved.Version != again.Version:
		return OtherVersion, fmt.Sprintf("scored by %s, now by %s: %s then, %s now; use that version to tell a better program from a changed report",
			saved.Version, again.Version, gradeOf(saved), gradeOf(again))
	case !equal(saved.RegionSource, again.RegionSource):
		return OtherFigures, fmt.Sprintf("the outlines came from %s, now from %s: put the marks file %s beside the photo as it was",
			sourceOf(saved), sourceOf(again), region.MarksPath(filepath.Base(saved.Photo)))
	case sameFigures(saved, again):
		return Same, ""
	case sameWithin(saved, again):
		return SameWithin, fmt.Sprintf("grade and reasons are the same, figures within %v points: another processor adds in another order", score.ProcessorPoints)
	default:
		return OtherFigures, fmt.Sprintf("%s in the report, %s by measurement, from the same bytes with the same version: the report or the marks beside the photo were changed",
			gradeOf(saved), gradeOf(again))
	}
}

// sameFigures reports whether everything that was measured is the same.
func sameFigures(saved, again *score.Record) bool {
	return reflect.DeepEqual(measuredPart(*saved), measuredPart(*again))
}

// measuredPart is a record without what depends on where the photo lies and who measured.
func measuredPart(r score.Record) score.Record {
	r.Photo, r.Label, r.Version, r.Map = "", "", "", nil // of the map only figures are told
	return r
}

// equal compares what two pointers point at; nil equals nil only.
func equal[T comparable](a, b *T) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return *a == *b
}

func gradeOf(r *score.Record) string {
	if r.Grade == nil {
		return "not graded"
	}
	return fmt.Sprintf("grade %d with index %.2f", *r.Grade, r.Index.Value())
}

func sourceOf(r *score.Record) string {
	if r.RegionSource == nil {
		return "nowhere"
	}
	return string(*r.RegionSource)
}
