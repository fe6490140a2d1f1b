package archive

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"time"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// Outcome says what adding a visit did.
type Outcome string

// The outcomes: new to the archive; nothing new; told in other words or with other photos, which count from now on; in the
// place of an inspection with the same photos of another day, odometer reading or stage; or known, with results of another
// version, which stand beside the earlier ones.
const (
	Added     Outcome = "added"
	Known     Outcome = "known"
	Renewed   Outcome = "renewed"
	Corrected Outcome = "corrected"
	Beside    Outcome = "other results"
)

// ErrIncomplete is returned for a visit without the vehicle's name, the day or the odometer reading, by which an
// archive tells one visit from another.
var ErrIncomplete = errors.New("vehicle, date and odometer must be known to keep an inspection")

func (v *Visit) complete() error {
	if i := v.Inspection; i.Vehicle == "" || !i.Dated() || !i.Odometer.Known() {
		return ErrIncomplete
	}
	return nil
}

// Look says what adding the visit would do, as far as can be told without its results: Added, Renewed, Corrected or Known.
func (a *Archive) Look(ctx context.Context, v *Visit) (Outcome, error) {
	if err := v.complete(); err != nil {
		return "", err
	}
	var content, marked string
	i := v.Inspection
	err := a.db.QueryRowContext(ctx, `SELECT i.content, i.marked FROM inspection i JOIN vehicle v ON v.id = i.vehicle
		WHERE v.shop = $1 AND v.plain = $2 AND i.day = $3 AND i.stage = $4 AND i.km = $5`,
		a.shop, plainName(i.Vehicle), i.Date.Format(time.DateOnly), i.Stage, kilometres(i)).Scan(&content, &marked)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return a.lookAgain(ctx, v)
	case err != nil:
		return "", Explain(err)
	case content != v.content() || v.photos != nil && marked != v.marked():
		return Renewed, nil
	}
	return Known, nil
}

// lookAgain is Look for a visit of which the archive has no inspection of this day and reading.
func (a *Archive) lookAgain(ctx context.Context, v *Visit) (Outcome, error) {
	vehicles, err := list(ctx, a.db, func(row *sql.Rows) (id int64, err error) {
		err = row.Scan(&id)
		return id, err
	}, `SELECT id FROM vehicle WHERE shop = $1 AND plain = $2`, a.shop, plainName(v.Inspection.Vehicle))
	if err != nil || len(vehicles) == 0 {
		return Added, err
	}
	id, err := corrected(ctx, a.db, vehicles[0], v)
	if err != nil || id == 0 {
		return Added, err
	}
	return Corrected, nil
}

// plainName is what makes two references one vehicle: the same but for blanks and capitals, as package inspection has
// it.
func plainName(reference string) string {
	return strings.ToLower(strings.Join(strings.Fields(reference), ""))
}

func kilometres(i *inspection.Inspection) int64 {
	return int64(math.Round(i.Odometer.In(inspection.Kilometres)))
}

// Add puts a visit with its results, and its photos where it has some, into the archive: all of it or nothing. The same
// visit again changes nothing.
func (a *Archive) Add(ctx context.Context, v *Visit) (Outcome, int64, error) {
	if v.Graded == nil {
		return "", 0, errors.New("archive: a visit without results")
	}
	if err := v.complete(); err != nil {
		return "", 0, err
	}
	sizes := map[string]int{}
	for _, p := range v.photos { // before the rows, which must never speak of a photo that is not there
		data, err := v.read(p)
		if err != nil {
			return "", 0, err
		}
		if _, err := a.keep(ctx, data); err != nil {
			return "", 0, err
		}
		sizes[p.hash] = len(data)
	}
	var outcome Outcome
	var id int64
	err := a.write(ctx, func(w writer) (err error) {
		outcome, id, err = w.visit(v, sizes)
		return err
	})
	return outcome, id, err
}

// visit writes a visit and returns the key of its inspection.
func (w writer) visit(v *Visit, sizes map[string]int) (Outcome, int64, error) {
	vehicle, err := w.vehicle(v.Inspection)
	if err != nil {
		return "", 0, err
	}
	version, err := w.version(v.Graded.Version)
	if err != nil {
		return "", 0, err
	}
	id, outcome, err := w.inspection(v, vehicle, version)
	if err != nil {
		return "", 0, err
	}
	photos, err := w.photos(v, sizes)
	if err != nil {
		return "", 0, err
	}
	if outcome != Known {
		if err := errors.Join(w.shots(v, id, photos), w.overruledBy(v, id)); err != nil {
			return "", 0, err
		}
	}
	written, err := w.results(v, photos, version)
	if err != nil {
		return "", 0, err
	}
	if outcome == Known {
		if written > 0 {
			outcome = Beside
		}
		return outcome, id, nil
	}
	if outcome == Renewed || outcome == Corrected {
		if err := w.count(id, version, v.Graded); err != nil {
			return "", 0, err
		}
	}
	if err := w.mention(vehicle, id, ofVisit(v.Inspection.Card.Job, v.Inspection.Card.Wish)); err != nil {
		return "", 0, err
	}
	return outcome, id, w.pair(vehicle)
}

// vehicle returns the key of the visit's vehicle. What the visit says of it and is not empty holds from now on.
func (w writer) vehicle(i *inspection.Inspection) (int64, error) {
	name, card := plainName(i.Vehicle), i.Card
	var id int64
	var plate, vin string
	err := w.tx.QueryRowContext(w.ctx, `INSERT INTO vehicle (reference, plain, plate, vin, vin_check, family, cylinders, valves)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
		ON CONFLICT (shop, plain) DO UPDATE SET
			plate = CASE WHEN excluded.plate = '' THEN vehicle.plate ELSE excluded.plate END,
			vin = CASE WHEN excluded.vin = '' THEN vehicle.vin ELSE excluded.vin END,
			vin_check = CASE WHEN excluded.vin = '' THEN vehicle.vin_check ELSE excluded.vin_check END,
			family = CASE WHEN excluded.family = '' THEN vehicle.family ELSE excluded.family END
		RETURNING id, plate, vin`,
		i.Vehicle, name, card.Plate, card.VIN, CheckVIN(card.VIN), card.Family, i.Engine.Cylinders, i.Engine.Valves).
		Scan(&id, &plate, &vin)
	if err != nil {
		return 0, err
	}
	return id, w.mention(id, 0, ofVehicle(i.Vehicle, plate, vin))
}

// version returns the key of a version of program and net.
func (w writer) version(name string) (int64, error) {
	id, err := w.number(`SELECT id FROM version WHERE name = $1`, name)
	if !errors.Is(err, sql.ErrNoRows) {
		return id, err
	}
	if err := w.do(`INSERT INTO version (name) VALUES ($1) ON CONFLICT (name) DO NOTHING`, name); err != nil {
		return 0, err
	}
	return w.number(`SELECT id FROM version WHERE name = $1`, name)
}

// inspection writes the facts of an inspection, unless they are there already.
func (w writer) inspection(v *Visit, vehicle, version int64) (int64, Outcome, error) {
	i := v.Inspection
	day, content, marked := i.Date.Format(time.DateOnly), v.content(), v.marked()
	facts := []any{
		vehicle,
		day,
		i.Date.Year(),
		i.Stage,
		i.Odometer.Value,
		i.Odometer.Unit,
		kilometres(i),
		i.Card.Technician,
		i.Card.Job,
		i.Card.Wish,
		i.Notes,
		banksText(i.Banks),
		v.Source,
		content,
		marked,
		now(),
	}
	s, err := sumUp(v.Graded)
	if err != nil {
		return 0, "", err
	}
	facts = append(facts, s.counting(version, v.Graded)...)
	change := Renewed
	if corrected, err := w.correct(v, vehicle); err != nil {
		return 0, "", err
	} else if corrected {
		change = Corrected
	}
	id, err := w.number(
		`INSERT INTO inspection (vehicle, day, year, stage, odometer, unit, km, technician, job, wish, notes, banks, source,
		content, marked, added, `+countedColumns+`) VALUES `+places(1, len(facts))+`
		ON CONFLICT (shop, vehicle, day, stage, km) DO NOTHING RETURNING id`,
		facts...)
	if err == nil {
		return id, Added, w.cylinders(id, v.Graded, s)
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return id, Added, err
	}
	var had, hadMarked string
	err = w.tx.QueryRowContext(w.ctx, `SELECT id, content, marked FROM inspection
		WHERE vehicle = $1 AND day = $2 AND stage = $3 AND km = $4`, vehicle, day, i.Stage, kilometres(i)).Scan(&id, &had, &hadMarked)
	if err != nil || had == content && (v.photos == nil || hadMarked == marked) {
		return id, Known, err
	}
	return id, change, w.do(
		`UPDATE inspection SET odometer = $2, unit = $3, technician = $4, job = $5, wish = $6, notes = $7,
		source = $8, content = $9, marked = $10, banks = $11 WHERE id = $1`,
		id,
		i.Odometer.Value,
		i.Odometer.Unit,
		i.Card.Technician,
		i.Card.Job,
		i.Card.Wish,
		i.Notes,
		v.Source,
		content,
		marked,
		banksText(i.Banks),
	)
}

// banksText is how the rows of cylinders are kept, "" for one row.
func banksText(banks [][]int) string {
	if len(banks) == 0 {
		return ""
	}
	text, err := json.Marshal(banks)
	if err != nil { // numbers only
		panic(err)
	}
	return string(text)
}

// now is the moment for people to read; no order is taken from it, for clocks jump.
func now() string { return time.Now().UTC().Format(time.RFC3339) }

// photos returns the keys of the visit's pictures by file name, and writes down those that are new.
func (w writer) photos(v *Visit, sizes map[string]int) (map[string]int64, error) {
	keys, of := map[string]int64{}, map[string]int64{}
	files := v.Inspection.Files()
	slices.SortFunc(files, func(a, b string) int { return cmp.Compare(v.hashOf(a), v.hashOf(b)) })
	insert := into("photo", "hash", "bytes")
	insert.end = `ON CONFLICT (shop, hash) DO UPDATE SET bytes = COALESCE(excluded.bytes, photo.bytes) RETURNING id, hash`
	for n, file := range files {
		hash := v.hashOf(file)
		if hash == "" || n > 0 && hash == v.hashOf(files[n-1]) { // a picture under two names is one
			continue
		}
		var size any
		if bytes, kept := sizes[hash]; kept {
			size = bytes
		}
		insert.add(hash, size)
	}
	if err := w.keys(insert, of); err != nil {
		return nil, err
	}
	for _, file := range files {
		id, known := of[v.hashOf(file)]
		if !known { // the hash is not
			var err error
			if id, err = w.number(`INSERT INTO photo (hash) VALUES (NULL) RETURNING id`); err != nil {
				return nil, err
			}
		}
		keys[file] = id
	}
	return keys, nil
}

// shots writes what the photos were listed for, in place of what was before.
func (w writer) shots(v *Visit, id int64, photos map[string]int64) error {
	if err := w.do(`DELETE FROM shot WHERE inspection = $1`, id); err != nil {
		return err
	}
	insert := into("shot", "inspection", "place", "photo", "file", "cylinder", "valve", "from_left", "marks",
		"left_out_by", "left_out_why")
	for n, p := range v.Inspection.Photos {
		hash, text := v.marksOf(p.File)
		if hash != "" {
			err := w.do(
				`INSERT INTO marks (hash, yaml) VALUES ($1, $2) ON CONFLICT (shop, hash) DO NOTHING`,
				hash,
				text,
			)
			if err != nil {
				return err
			}
		}
		out := inspection.LeftOut{}
		if p.LeftOut != nil {
			out = *p.LeftOut
		}
		insert.add(id, n+1, photos[p.File], p.File, p.Cylinder, p.Valve, p.FromLeft, hash, out.By, out.Reason)
	}
	_, err := w.insert(insert)
	return err
}

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
