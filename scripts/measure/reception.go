package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// received is what became of a photo of which no truth is known.
type received struct {
	Photo   string           `json:"photo"`
	Index   []measure.Number `json:"index"` // of its graded valves, from left to right
	Reasons []string         `json:"reasons"`
}

// receptions are what became of the photos of a folder.
type receptions struct {
	run
	photos []received
}

// reception scores the photos of a folder.
func reception(p program, dir string) (findings, error) {
	var found receptions
	if _, err := os.Stat(dir); err != nil {
		return nil, err
	}
	err := p.score([]string{dir}, func(s scored) error {
		found.run = s.run
		for _, records := range s.photos {
			name, err := filepath.Rel(dir, records[0].Photo)
			if err != nil {
				return err
			}
			one := received{Photo: name, Reasons: reasons(records)}
			for _, record := range records {
				if record.Status == score.Scored {
					one.Index = append(one.Index, record.Index)
				}
			}
			found.photos = append(found.photos, one)
		}
		return nil
	})
	return found, err
}

func (r received) graded() bool { return len(r.Index) > 0 }

func (r receptions) figures() ([]figure, error) {
	graded := slices.DeleteFunc(slices.Clone(r.photos), func(one received) bool { return !one.graded() })
	valves := 0
	for _, one := range graded {
		valves += len(one.Index)
	}
	return []figure{
		{"photos", "photos", float64(len(r.photos))},
		{"graded", "graded", float64(len(graded))},
		{"refused", "refused", float64(len(r.photos) - len(graded))},
		{"refused_percent", "refused, %", percent(r.photos, func(one received) bool { return !one.graded() })},
		{"valves", "valves graded", float64(valves)},
		{"seconds", "seconds a photo, of the whole run", r.seconds},
	}, nil
}

// remarks count the reasons of what was refused, and name the photos, the most of each kind.
func (r receptions) remarks(most int) []string {
	var graded, refused, why []string
	for _, one := range r.photos {
		if one.graded() {
			graded = append(graded, fmt.Sprintf("graded             %-28s index %v", one.Photo, one.Index))
			continue
		}
		said := strings.Join(one.Reasons, ", ")
		why = append(why, said)
		refused = append(refused, fmt.Sprintf("refused            %-28s %s", one.Photo, said))
	}
	return slices.Concat(
		counted("refused for", why),
		graded[:min(most, len(graded))],
		refused[:min(most, len(refused))],
	)
}

func (r receptions) details() any { return r.photos }
