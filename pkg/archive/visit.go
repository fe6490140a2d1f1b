package archive

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"time"

	"valvegrade/internal/limit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// Visit is an inspection on its way into the archive. Its Inspection.Card counts, too.
type Visit struct {
	Inspection *inspection.Inspection
	// Source is where it comes from, for people to read.
	Source string
	// Graded are the results; nil until a folder has been scored.
	Graded *engine.Graded
	// valves are the records of all valves of each picture, by its file name.
	valves map[string][]score.Record
	// photos are the pictures of a folder, nil for a saved result, which has none.
	photos []picture
}

// picture is a photo of a folder: its file name in the inspection, its hash, and the outlines set by hand.
type picture struct {
	file, hash, marks string
}

// FromFolder reads the photos of an inspection's folder, to compare them with what the archive has.
func FromFolder(i *inspection.Inspection) (*Visit, error) {
	v := &Visit{Inspection: i, Source: i.Dir, photos: []picture{}}
	for _, file := range i.Files() {
		path := i.Path(inspection.Photo{File: file})
		data, err := limit.ReadFile(path, limit.PhotoBytes)
		if err != nil {
			return nil, fmt.Errorf("photo %q: %w", file, cause(err))
		}
		p := picture{file: file, hash: Hash(data)}
		if sidecar := region.FindMarks(path); sidecar != "" {
			text, err := limit.ReadFile(sidecar, limit.MarksBytes)
			if err != nil {
				return nil, fmt.Errorf("marks of %q: %w", file, cause(err))
			}
			p.marks = string(text)
		}
		v.photos = append(v.photos, p)
	}
	return v, nil
}

// cause is what is wrong with a file, without its name, which may be a customer's.
func cause(err error) error {
	var fault *fs.PathError
	if errors.As(err, &fault) {
		return fault.Err
	}
	return err
}

// Score grades a visit that comes from a folder, with the maps of its valves, so that it can be compared when its photos
// are gone. each, when not nil, is called with every valve's result.
func (v *Visit) Score(ctx context.Context, o score.BatchOptions, each func(*score.Result)) error {
	o.Map = true
	photos := score.NewDocument(o.Version())
	err := score.Batch(ctx, v.Inspection.Paths(), o, func(r *score.Result) error {
		photos.Photos = append(photos.Photos, r.Record())
		if each != nil {
			each(r)
		}
		return nil
	})
	if err != nil {
		return err
	}
	v.valves = map[string][]score.Record{}
	files := v.Inspection.Files()
	for n, valves := range score.PerPhoto(photos.Photos) {
		v.valves[files[n]] = valves
	}
	v.Graded, err = engine.Of(v.Inspection, photos)
	return err
}

// FromSaved is the visit of a saved result, whose photos may be gone.
func FromSaved(saved *engine.Graded, source string) *Visit {
	v := &Visit{Inspection: saved.Engine.Inspection, Source: source, Graded: saved, valves: map[string][]score.Record{}}
	for n, p := range v.Inspection.Photos {
		known := func(r score.Record) bool { return r.ValveInPhoto == saved.Photos[n].ValveInPhoto }
		if !slices.ContainsFunc(
			v.valves[p.File],
			known,
		) { // a refused photo stands once for each valve it is listed for
			v.valves[p.File] = append(v.valves[p.File], saved.Photos[n])
		}
	}
	return v
}

// hashOf is the hash of a photo, "" where it is not known.
func (v *Visit) hashOf(file string) string {
	for _, p := range v.photos {
		if p.file == file {
			return p.hash
		}
	}
	if records := v.valves[file]; len(records) > 0 && records[0].SHA256 != nil {
		return *records[0].SHA256
	}
	return ""
}

// marksOf are the hash and the text of the outlines set by hand, "" where there are none or they are not known.
func (v *Visit) marksOf(file string) (hash, text string) {
	for _, p := range v.photos {
		if p.file == file && p.marks != "" {
			return Hash([]byte(p.marks)), p.marks
		}
	}
	return "", ""
}

// content is the hash of facts and photos: what has the same is the same inspection, told again.
func (v *Visit) content() string {
	i := v.Inspection
	facts := []any{
		i.Vehicle, i.Engine, i.Date.Format(time.DateOnly), i.Odometer, i.Stage, i.Notes, i.Card, i.Banks, i.Overruled,
		len(i.Methods),
	}
	for _, c := range slices.Sorted(maps.Keys(i.Methods)) {
		facts = append(facts, c, i.Methods[c])
	}
	for _, p := range i.Photos {
		facts = append(facts, p, v.hashOf(p.File))
	}
	return hashOfAll(facts)
}

// marked is the hash of the outlines set by hand, "" for a saved result, which has none.
func (v *Visit) marked() string {
	var all []any
	for _, p := range v.photos {
		if p.marks != "" {
			all = append(all, p.file, p.marks)
		}
	}
	if all == nil {
		return ""
	}
	return hashOfAll(all)
}

func hashOfAll(facts []any) string {
	text, err := json.Marshal(facts)
	if err != nil { // strings and numbers only
		panic(err)
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}

// read is the photo of a visit from a folder. It must still be the one that was looked at.
func (v *Visit) read(p picture) ([]byte, error) {
	data, err := limit.ReadFile(v.Inspection.Path(inspection.Photo{File: p.file}), limit.PhotoBytes)
	switch {
	case errors.Is(err, os.ErrNotExist), err == nil && Hash(data) != p.hash:
		return nil, fmt.Errorf("photo %q has changed while it was added: add the inspection again", p.file)
	case err != nil:
		return nil, fmt.Errorf("photo %q: %w", p.file, cause(err))
	}
	return data, nil
}
