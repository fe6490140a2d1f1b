package verify

import (
	"cmp"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// Verdict is how a saved result stands to its photo. Words are printed as they are.
type Verdict string

// The verdicts.
const (
	// Same: bytes, version and every figure.
	Same Verdict = "same"
	// SameWithin: bytes and version, and every figure within what another processor changes (see
	// score.ProcessorPoints).
	SameWithin Verdict = "same within 0.05 points"
	// OtherVersion: the bytes are the same, but another version scored them; Why says whether the grade is the same all
	// the same.
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

// Check is the verdict on one valve of a photo. Saved is nil for a photo that is not in the report, Again for one that
// was not given.
type Check struct {
	Saved, Again *score.Record
	Verdict      Verdict
	// Why is one sentence, "" for Same.
	Why string
}

// Matches reports whether photo and report are the same, but for what another processor changes.
func (c Check) Matches() bool { return c.Verdict == Same || c.Verdict == SameWithin }

// Compare holds saved results against the results of scoring the photos again, in the order of saved; photos that are
// not in the report follow. Photos are matched by their bytes, so renamed ones are found; those left over by their
// names. Of a photo that shows more valves than the report speaks of the largest are taken, as for an inspection.
func Compare(saved, again []score.Record) []Check {
	m := matching{saved: byPhoto(saved), again: score.PerPhoto(again)}
	m.of, m.used = make([]int, len(m.saved)), make([]bool, len(m.again))
	m.match(sameBytes)
	m.match(sameName)
	checks := make([]Check, len(saved))
	for k, valves := range m.saved {
		for n, place := range valves {
			checks[place.at] = Check{
				Saved:   place.record,
				Verdict: NotGiven,
				Why:     "no photo with these bytes or this name was given",
			}
			if found := m.of[k]; found > 0 {
				now := engine.Listed(len(valves), m.again[found-1])[n]
				verdict, why := judge(place.record, &now)
				checks[place.at] = Check{place.record, &now, verdict, why}
			}
		}
	}
	for k, photo := range m.again {
		for n := range photo {
			if !m.used[k] {
				checks = append(
					checks,
					Check{Again: &photo[n], Verdict: NotInReport, Why: "the report has no result of these bytes"},
				)
			}
		}
	}
	return checks
}

// placed is a saved result and its place among all.
type placed struct {
	record *score.Record
	at     int
}

// byPhoto groups saved results by their photos, and puts the valves of each from left to right.
func byPhoto(saved []score.Record) [][]placed {
	var photos [][]placed
	place := map[[2]string]int{}
	for n := range saved {
		key := [2]string{saved[n].Photo} // before and after may have namesakes
		if saved[n].SHA256 != nil {
			key[1] = *saved[n].SHA256
		}
		k, known := place[key]
		if !known {
			k = len(photos)
			place[key], photos = k, append(photos, nil)
		}
		photos[k] = append(photos[k], placed{&saved[n], n})
	}
	for _, valves := range photos {
		slices.SortStableFunc(
			valves,
			func(a, b placed) int { return cmp.Compare(a.record.ValveInPhoto, b.record.ValveInPhoto) },
		)
	}
	return photos
}

// matching pairs photos of saved results with new ones. of holds places in again counted from 1, 0 where none was
// found.
type matching struct {
	saved [][]placed
	again [][]score.Record
	of    []int
	used  []bool
}

// match pairs what is not paired yet and agrees.
func (m *matching) match(agree func(saved, again *score.Record) bool) {
	for n := range m.saved {
		for k := range m.again {
			if m.of[n] == 0 && !m.used[k] && agree(m.saved[n][0].record, &m.again[k][0]) {
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
		return OtherVersion, fmt.Sprintf(
			"scored by %s, now by %s: every figure is the same",
			saved.Version,
			again.Version,
		)
	case saved.Version != again.Version && equal(saved.Grade, again.Grade):
		return OtherVersion, fmt.Sprintf(
			"scored by %s, now by %s: same grade, other figures",
			saved.Version,
			again.Version,
		)
	case saved.Version != again.Version:
		return OtherVersion, fmt.Sprintf(
			"scored by %s, now by %s: %s then, %s now; use that version to tell a better program from a changed report",
			saved.Version,
			again.Version,
			gradeOf(saved),
			gradeOf(again),
		)
	case !equal(saved.RegionSource, again.RegionSource):
		return OtherFigures, fmt.Sprintf(
			"the outlines came from %s, now from %s: put the marks file %s beside the photo as it was",
			sourceOf(saved),
			sourceOf(again),
			region.MarksPath(filepath.Base(saved.Photo)),
		)
	case sameFigures(saved, again):
		return Same, ""
	case sameWithin(saved, again):
		return SameWithin, fmt.Sprintf(
			"grade and reasons are the same, figures within %v points: another processor adds in another order",
			score.ProcessorPoints,
		)
	default:
		return OtherFigures, fmt.Sprintf(
			"%s in the report, %s by measurement, from the same bytes with the same version: the report or the marks beside the photo were changed",
			gradeOf(saved),
			gradeOf(again),
		)
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
