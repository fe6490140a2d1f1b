package verify

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
)

// Compares reports whether the file is a report of what cleaning did, which Rewrite can check.
func (s *Saved) Compares() bool { return s.comparison != nil }

// absence tells whether the photos of a valve were missing before (0) and after (1).
type absence [2]bool

// guessMissing finds out which photos were missing when the report was written, so that a valve was compared by saved
// figures. The report does not tell: whatever explains the figures of a cylinder is taken.
func (s *Saved) guessMissing(maps map[sight]*unroll.Packed, wholes map[valve]bool) (map[valve]absence, error) {
	missing := map[valve]absence{}
	if len(wholes) == 0 {
		return missing, nil
	}
	layout := s.engines[0].Inspection.Engine
	for _, guess := range guesses(layout.Valves) {
		tried := map[valve]absence{}
		for v := range wholes {
			if v.number <= layout.Valves {
				tried[v] = guess[v.number-1]
			}
		}
		where, err := s.recompare(maps, tried)
		if err != nil {
			return nil, err
		}
		for v, absent := range tried {
			if _, found := missing[v]; !found && !slices.ContainsFunc(where, v.inCylinder) {
				missing[v] = absent
			}
		}
		if len(missing) == len(tried) {
			break
		}
	}
	return missing, nil
}

// guesses are all ways in which photos of the valves of a cylinder may have been missing.
func guesses(valves int) [][]absence {
	all := [][]absence{nil}
	for range valves {
		var longer [][]absence
		for _, guess := range all {
			for _, one := range []absence{{true, true}, {true, false}, {false, true}} {
				longer = append(longer, append(slices.Clip(guess), one))
			}
		}
		all = longer
	}
	return all
}

// recompare returns where the report's comparison differs from one of the photos, those that were missing standing for
// their saved figures alone.
func (s *Saved) recompare(maps map[sight]*unroll.Packed, missing map[valve]absence) ([]string, error) {
	sides := s.graded(maps, missing)
	engine, err := compare.Inspections(sides[0], sides[1], compare.Options{})
	if err != nil {
		return nil, err
	}
	where, _, err := s.against(engine)
	return where, err
}

// against returns where the report's comparison differs from another one, and what else its sentences may be: rounded
// otherwise where another processor moved a figure.
func (s *Saved) against(made *compare.Engine) (where []string, words tolerance, err error) {
	words = exact
	moved, err := differences(s.comparison, made, besidesNumbers)
	if err != nil {
		return nil, nil, err
	}
	if len(moved) > 0 {
		words = nearWords
	}
	where, err = differences(s.comparison, made, func(path string, a, b any) bool {
		return nearComparison(path, a, b) || words(path, a, b)
	})
	return where, words, err
}

// graded returns the inspections as they were graded for the report. maps are those of the valves by where they are seen.
func (s *Saved) graded(maps map[sight]*unroll.Packed, missing map[valve]absence) []*engine.Graded {
	var sides []*engine.Graded
	records := s.Photos
	for visit, e := range s.engines {
		photos := e.Inspection.Photos
		side := &engine.Graded{Engine: e, Photos: slices.Clone(records[:len(photos)])}
		for n, p := range photos {
			r := &side.Photos[n]
			r.Photo = p.File // as the report calls it
			if r.SHA256 != nil && visit < len(absence{}) && !missing[valve{p.Cylinder, p.Valve}][visit] {
				r.Map = maps[sightOf(r)]
			}
		}
		sides, records = append(sides, side), records[len(photos):]
	}
	return sides
}

// sight is a valve in a photo, by the SHA-256 of the photo and the valve's place in it.
type sight struct {
	photo string
	valve int
}

func sightOf(r *score.Record) sight { return sight{*r.SHA256, r.ValveInPhoto} }

// valve is one valve of an engine, its cylinder and its number counted from 1.
type valve struct{ cylinder, number int }

// inCylinder reports whether a path leads into what a comparison says of the valve's cylinder.
func (v valve) inCylinder(path string) bool {
	return strings.HasPrefix(path, fmt.Sprintf("cylinders[%d].", v.cylinder-1))
}

// wholesOf finds the valves of which a written comparison has figures only.
func wholesOf(comparison json.RawMessage) (map[valve]bool, error) {
	var written struct {
		Cylinders []struct {
			Valves []struct {
				Reasons []struct {
					Code string `json:"code"`
				} `json:"reasons"`
			} `json:"valves"`
		} `json:"cylinders"`
	}
	err := json.Unmarshal(comparison, &written)
	wholes := map[valve]bool{}
	for c, cylinder := range written.Cylinders {
		for v, one := range cylinder.Valves {
			for _, r := range one.Reasons {
				if r.Code == string(compare.FiguresOnly) {
					wholes[valve{c + 1, v + 1}] = true
				}
			}
		}
	}
	return wholes, err
}
