package archive

import (
	"encoding/json"

	"valvegrade/pkg/score"
)

// results writes what a version says of the photos, where it has not said so before, and returns how many are new.
func (w writer) results(v *Visit, photos map[string]int64, version int64) (int64, error) {
	insert := resultRows()
	for _, file := range v.Inspection.Files() {
		marks, _ := v.marksOf(file)
		if err := addResult(insert, photos[file], version, marks, v.valves[file]); err != nil {
			return 0, err
		}
	}
	return w.insert(insert)
}

// resultColumns are what is written of a valve's result, in this order.
var resultColumns = []string{
	"photo", "version", "marks", "valve", "valves", "status", "grade", "worth", "worth_low", "worth_high", "dark", "due",
	"record", "made",
}

// resultRows are results to be written: the first one of a version stands.
func resultRows() *rows {
	insert := into("result", resultColumns...)
	insert.end = "ON CONFLICT (photo, version, marks, valve) DO NOTHING"
	return insert
}

// addResult adds what a version says of the valves of a photo.
func addResult(to *rows, photo, version int64, marks string, valves []score.Record) error {
	for n := range valves {
		r := valves[n]
		text, err := json.Marshal(r)
		if err != nil {
			return err
		}
		packed, err := pack(text)
		if err != nil {
			return err
		}
		f := figuresOf(&r, text)
		to.add(
			photo,
			version,
			marks,
			r.ValveInPhoto,
			r.ValvesInPhoto,
			string(r.Status),
			f.grade,
			f.worth,
			f.low,
			f.high,
			f.dark,
			f.due,
			packed,
			now(),
		)
	}
	return nil
}
