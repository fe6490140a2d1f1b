package main

import (
	"fmt"
	"os"
	"path/filepath"

	"valvegrade/internal/truth"
	"valvegrade/pkg/score"
)

// trial is the program held against a set: what it made of each valve, photo by photo.
type trial struct {
	run
	photos int
	valves []valve
}

func accuracy(p program, dir string) (findings, error) {
	known, err := truth.Read(dir)
	if err != nil {
		return nil, err
	}
	return try(p, dir, known)
}

// try scores the photos of a folder and matches what is known of their valves.
func try(p program, dir string, known []truth.Entry) (*trial, error) {
	var paths []string
	inPhoto := map[string][]truth.Entry{}
	for _, t := range known {
		path := filepath.Join(dir, t.Photo)
		if len(inPhoto[path]) == 0 {
			if _, err := os.Stat(path); err != nil { // the program would refuse it, and that is no merit or fault of its
				return nil, err
			}
			paths = append(paths, path)
		}
		inPhoto[path] = append(inPhoto[path], t)
	}
	found := &trial{photos: len(paths)}
	err := p.score(paths, func(s scored) error {
		found.run = s.run
		for _, records := range s.photos {
			valves, err := s.held(records, inPhoto[records[0].Photo], dir)
			if err != nil {
				return err
			}
			found.valves = append(found.valves, valves...)
		}
		return nil
	})
	if err == nil && len(found.valves) != len(known) {
		err = fmt.Errorf(
			"%s: the program tells of %d valves that the truth knows, of %d",
			dir,
			len(found.valves),
			len(known),
		)
	}
	return found, err
}

// held matches the valves of one photo; only the masks of photos that are to be judged are looked at.
func (s scored) held(records []score.Record, known []truth.Entry, dir string) ([]valve, error) {
	if len(bySize(records)) == 0 || known[0].Demand != truth.Judge {
		return match(known, records, nil, nil)
	}
	got, err := score.ReadMask(filepath.Join(s.masks, records[0].Label+score.RegionSuffix))
	if err != nil {
		return nil, err
	}
	want, err := score.ReadMask(known[0].Path(dir, score.RegionSuffix))
	if err != nil {
		return nil, err
	}
	return match(known, records, want, got)
}
