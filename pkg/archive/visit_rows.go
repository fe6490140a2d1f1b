package archive

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"errors"
	"slices"
	"time"

	"valvegrade/pkg/inspection"
)

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
