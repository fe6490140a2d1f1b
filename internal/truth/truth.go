// Package truth reads what is known of the photos of a set: a folder with truth.json, and beside each photo the mask
// NAME.region.png (0 background, 1 head and 2 stem of the principal valve, 3 and 4 of a second, and so on).
package truth

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"valvegrade/pkg/measure"
)

// File is the name of the list of photos in the folder of a set.
const File = "truth.json"

// Demand is what a program must do with a photo.
type Demand int

// The demands. Of an arguable photo nothing is asked: people would not agree whether it can be judged.
const (
	Arguable Demand = iota
	Judge
	Refuse
)

// Entry is what is known of a photo and the valve in it; a photo in which several valves are known has an entry for
// each.
type Entry struct {
	// Photo is the file name within the folder.
	Photo string
	// Valve is the valve's place in the mask, 1 for codes 1 and 2, 2 for codes 3 and 4; 1 where the file tells none.
	Valve int
	// Demand is what must be done with the photo, and Refuse why it must be refused, "" where the set tells no reason.
	Demand Demand
	Refuse string
	// Set tells what the photo is for: single, pairs, mileage, repeat or negatives; Group is the same for photos of one
	// valve, and Role before or after. All are "" where the set knows none.
	Set, Group, Role string
	// Worked is true where the valve was cleaned, or crust grew on it, since the first photo of its group.
	Worked bool
	// Look describes the scene in a few words.
	Look string
	// Head, Stem and Both are the figures of the visible pixels, nil where hardly any is in sight; a set may know those
	// of the whole valve only, and then Parts is false.
	Head, Stem, Both *Part
	Parts            bool
}

// Part are the figures of a valve, or of its head or stem.
type Part struct {
	Pixels          int
	Index, Coverage float64
	measure.Shares
}

// Path is that of the file of a photo in the set's folder whose name ends in suffix instead of .jpg.
func (e Entry) Path(dir, suffix string) string {
	return filepath.Join(dir, strings.TrimSuffix(e.Photo, filepath.Ext(e.Photo))+suffix)
}

// Read returns the entries of the set in a folder, in the order of its list.
func Read(dir string) ([]Entry, error) {
	path := filepath.Join(dir, File)
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var entries []Entry
	if err := json.Unmarshal(text, &entries); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if len(entries) == 0 {
		return nil, fmt.Errorf("%s lists no photo", path)
	}
	return entries, nil
}

// written is a photo as sets write it: those of scripts/scenes and their like tell refuse, those of
// scripts/train/held_back.py judgeable, which is null where that is arguable.
type written struct {
	Photo, Set, Group, Role string
	Method                  string
	Growth                  float64
	Valve                   int
	Refuse                  *string
	Judgeable               json.RawMessage
	View, Metal, Look       any
	Head, Stem, Both        *Part
}

// UnmarshalJSON reads an entry of either kind of set.
func (e *Entry) UnmarshalJSON(text []byte) error {
	var w written
	if err := json.Unmarshal(text, &w); err != nil {
		return err
	}
	if w.Photo == "" || !filepath.IsLocal(w.Photo) {
		return fmt.Errorf("photo is %q, no file of the folder", w.Photo)
	}
	if w.Valve < 0 || w.Valve > 127 {
		return fmt.Errorf("%s: valve %d", w.Photo, w.Valve)
	}
	*e = Entry{
		Photo: w.Photo, Valve: max(1, w.Valve), Demand: w.demand(), Set: w.Set, Group: w.Group, Role: w.Role,
		Worked: w.Growth > 0 || w.Method != "" && w.Method != "none",
		Look:   words(w.View, w.Metal, w.Look), Head: w.Head, Stem: w.Stem, Both: w.Both, Parts: w.Head != nil || w.Stem != nil,
	}
	if w.Refuse != nil {
		e.Refuse = *w.Refuse
	}
	return nil
}

func (w written) demand() Demand {
	switch judgeable := string(w.Judgeable); {
	case w.Refuse != nil, judgeable == "false":
		return Refuse
	case w.Both == nil, judgeable == "null":
		return Arguable
	default:
		return Judge
	}
}

func words(facts ...any) string {
	var known []string
	for _, fact := range facts {
		if fact != nil {
			known = append(known, fmt.Sprint(fact))
		}
	}
	return strings.Join(known, " ")
}

// UnmarshalJSON reads shares as keys, bare to heavy, or as a list in that order.
func (p *Part) UnmarshalJSON(text []byte) error {
	var w struct {
		Pixels          int
		Index, Coverage float64
		measure.Shares
		List []float64 `json:"shares"`
	}
	if err := json.Unmarshal(text, &w); err != nil {
		return err
	}
	*p = Part{Pixels: w.Pixels, Index: w.Index, Coverage: w.Coverage, Shares: w.Shares}
	switch len(w.List) {
	case 0:
	case 4:
		p.Shares = measure.SharesOf([4]float64(w.List))
	default:
		return errors.New("shares are not four")
	}
	return nil
}
