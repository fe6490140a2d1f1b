package score

import (
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"valvegrade/internal/plainjson"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// SchemaVersion is the version of the written form. It changes only when a key is removed or changes its meaning.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of a Document.
//
//go:embed schema.json
var Schema []byte

// ErrDocument is wrapped by every error of ReadDocument about content that is no saved result.
var ErrDocument = errors.New("not a result of valvegrade score")

// Document is the file that a run writes.
type Document struct {
	Schema int `json:"schema"`
	// Version is that of program and net.
	Version string `json:"version"`
	// Photos are one record for each valve, the photos in the order of the input and the valves of one from left to
	// right; never null.
	Photos []Record `json:"photos"`
}

// NewDocument returns an empty document of this schema.
func NewDocument(version string) *Document {
	return &Document{Schema: SchemaVersion, Version: version, Photos: []Record{}}
}

// Write writes the document as indented JSON with a final newline. Equal documents give equal bytes.
func (d *Document) Write(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false) // file names are for reading, not for web pages
	encoder.SetIndent("", "  ")
	return encoder.Encode(d)
}

// ReadDocument loads a document that Write wrote, by this program or by a later one that kept the schema: unknown keys
// are ignored. It checks what every reader relies on, names the photo where a check fails, and the command that wrote
// the file where it was another.
func ReadDocument(r io.Reader) (*Document, error) {
	text, err := plainjson.Read(r)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDocument, err)
	}
	var d Document
	switch err := json.Unmarshal(text, &d); {
	case d.Photos == nil:
		return nil, fmt.Errorf("%w: %s", ErrDocument, origin(text))
	case err != nil:
		return nil, fmt.Errorf("%w: %w", ErrDocument, plainjson.Error(err))
	case d.Schema != SchemaVersion:
		return nil, fmt.Errorf("%w: schema is %d, this program reads schema %d", ErrDocument, d.Schema, SchemaVersion)
	}
	for i := range d.Photos {
		d.Photos[i].standAlone()
		if err := d.Photos[i].check(); err != nil {
			return nil, fmt.Errorf("%w: photo %d (%s): %v", ErrDocument, i+1, d.Photos[i].Photo, err)
		}
	}
	return &d, nil
}

// PerPhoto groups the records of valves, which stand as a batch hands them over, by their photos.
func PerPhoto(valves []Record) [][]Record {
	var photos [][]Record
	for n := range valves {
		if valves[n].ValveInPhoto > 1 && len(photos) > 0 {
			last := &photos[len(photos)-1]
			*last = append(*last, valves[n])
		} else {
			photos = append(photos, valves[n:n+1:n+1])
		}
	}
	return photos
}

// standAlone fills in the place in the photo that records of earlier versions lack: they knew one valve in each.
func (rec *Record) standAlone() {
	if rec.ValveInPhoto == 0 && rec.ValvesInPhoto == 0 {
		rec.ValveInPhoto, rec.ValvesInPhoto = 1, 1
	}
}

// check finds what would make a record unusable: an unknown status, a place outside its photo, a photo without a size, a
// scored valve without its figures, or a refused one with some.
func (rec *Record) check() error {
	if rec.ValveInPhoto < 1 || rec.ValveInPhoto > rec.ValvesInPhoto {
		return fmt.Errorf("valve %d of %d in the photo", rec.ValveInPhoto, rec.ValvesInPhoto)
	}
	for _, side := range []*int{rec.Width, rec.Height} {
		if side != nil && *side < 1 {
			return fmt.Errorf("a photo with a size of %d", *side)
		}
	}
	switch rec.Status {
	case Refused:
		if rec.Index.Known() || rec.Dark.Known() {
			return errors.New("refused with figures")
		}
		return nil
	case Scored:
		return rec.checkFigures()
	default:
		return fmt.Errorf("status %q", rec.Status)
	}
}

// checkFigures checks those of a scored valve. What earlier versions did not write may be missing.
func (rec *Record) checkFigures() error {
	if rec.Grade == nil || rec.GradeName == nil || rec.Borderline == nil || rec.Shares == nil {
		return errors.New("scored without grade or shares")
	}
	if *rec.Grade < 0 || *rec.Grade >= len(grade.Names()) {
		return fmt.Errorf("grade %d is none of 0 to %d", *rec.Grade, len(grade.Names())-1)
	}
	shares := []measure.Number{rec.Shares.Bare, rec.Shares.Film, rec.Shares.Medium, rec.Shares.Heavy}
	known := func(most float64) func(measure.Number) bool {
		return func(n measure.Number) bool { return n.Value() >= 0 && n.Value() <= most } // false for NaN
	}
	ifKnown := func(most float64) func(measure.Number) bool {
		return func(n measure.Number) bool { return !n.Known() || known(most)(n) }
	}
	for _, one := range []struct {
		right   func(measure.Number) bool
		words   string
		numbers []measure.Number
	}{
		{
			known(100), "index or coverage is missing or outside 0 to 100",
			[]measure.Number{rec.Index, rec.IndexLow, rec.IndexHigh, rec.Coverage, rec.CoverageLow, rec.CoverageHigh},
		},
		{ifKnown(100), "dark deposit is outside 0 to 100", []measure.Number{rec.Dark, rec.DarkLow, rec.DarkHigh}},
		{known(1), "a probability is missing or outside 0 to 1", rec.Probabilities},
		{ifKnown(1), "a share is outside 0 to 1", shares},
		{ifKnown(100), "the heavy share of the dark deposit is outside 0 to 100", []measure.Number{rec.Thick, rec.ThickLow, rec.ThickHigh}},
		{
			ifKnown(1), "confidence, or what was set aside, is outside 0 to 1",
			[]measure.Number{rec.RegionConfidence, rec.Unreadable, rec.ThickChance},
		},
	} {
		for _, n := range one.numbers {
			if !one.right(n) {
				return errors.New(one.words)
			}
		}
	}
	if dark := rec.Dark.Known(); rec.DarkLow.Known() != dark || rec.DarkHigh.Known() != dark {
		return errors.New("dark deposit without its interval")
	}
	for _, f := range rec.figures() {
		if f.Turned() {
			return errors.New("the ends of an interval are turned round")
		}
		if f.Low > f.Value || f.Value > f.High { // false for NaN
			return errors.New("a value lies outside its interval")
		}
	}
	if beyondWhole(rec.Probabilities) || beyondWhole(shares) {
		return errors.New("probabilities or shares add up to more than 1")
	}
	return nil
}

// figures are all that have an interval: those of the valve, of its head and of its stem.
func (rec *Record) figures() []measure.Figure {
	all := []measure.Figure{rec.IndexFigure(), rec.DarkFigure(), rec.CoverageFigure(), rec.Heavy().Share}
	for _, part := range []*RegionFigures{rec.Head, rec.Stem} {
		if part != nil {
			all = append(all, part.IndexFigure(), part.DarkFigure(), part.CoverageFigure())
		}
	}
	return all
}

// beyondWhole reports whether parts of one whole are more than that, rounding aside.
func beyondWhole(parts []measure.Number) bool {
	const rounding = 0.01
	sum := 0.0
	for _, part := range parts {
		sum += part.Value()
	}
	return sum > 1+rounding
}

// telltales are keys at the top of what other commands write; a Document has none of them.
var telltales = []struct{ key, command string }{
	{"verdict", "compare"},
	{"growth_per", "trend"},
	{"raters", "agree"},
	{"cautions", "report"},
}

// origin says of a text without a list of photos where it comes from, as far as a key tells.
func origin(text []byte) string {
	var keys map[string]json.RawMessage
	_ = json.Unmarshal(text, &keys) // what is no object has no keys
	for _, t := range telltales {
		if _, found := keys[t.key]; found {
			return "valvegrade " + t.command + " wrote it"
		}
	}
	return "it has no list of photos"
}
