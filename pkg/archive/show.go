package archive

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// ErrUnknown is returned for a vehicle or an inspection that the archive does not have.
var ErrUnknown = errors.New("not in the archive")

// ErrForgotten is returned for what was forgotten: figures are left of it, and nothing else.
var ErrForgotten = errors.New("it was forgotten: only figures are kept, for the statistics")

// Kept is an inspection in the archive.
type Kept struct {
	ID         int64           `json:"id"`
	Vehicle    int64           `json:"vehicle_id"`
	Day        string          `json:"day"`
	Stage      string          `json:"stage"`
	Odometer   float64         `json:"odometer"`
	Unit       inspection.Unit `json:"odometer_unit"`
	Technician string          `json:"technician,omitempty"`
	Job        string          `json:"job,omitempty"`
	Wish       string          `json:"wish,omitempty"`
	Notes      string          `json:"notes,omitempty"`
	Source     string          `json:"source,omitempty"`
	// Version is that of program and net whose results count; Low and High are the interval of the index of the worst
	// cylinder. Dark is the mean over the photos, see WorstDark.
	Version string `json:"version"`
	OfWorst
	Low     *float64 `json:"index_low"`
	High    *float64 `json:"index_high"`
	Dark    *float64 `json:"dark"`
	Photos  int      `json:"photos"`
	Refused int      `json:"refused"`

	banks string
}

const keptColumns = `SELECT i.id, i.vehicle, COALESCE(i.day, ''), i.stage, i.odometer, i.unit, i.technician, i.job, i.wish, i.notes,
	i.source, COALESCE(n.name, ''), (SELECT COUNT(c.worst) FROM cylinder c WHERE c.inspection = i.id), i.grade, i.odds, i.worst,
	i.worst_low, i.worst_high, i.dark, i.photos, i.refused, i.banks
	FROM inspection i LEFT JOIN version n ON n.id = i.version`

func scanKept(row *sql.Rows) (k Kept, err error) {
	var odds *string
	err = row.Scan(&k.ID, &k.Vehicle, &k.Day, &k.Stage, &k.Odometer, &k.Unit, &k.Technician, &k.Job, &k.Wish, &k.Notes,
		&k.Source, &k.Version, &k.CylindersGraded, &k.Grade, &odds, &k.Worst, &k.Low, &k.High, &k.Dark, &k.Photos, &k.Refused,
		&k.banks)
	k.Odds = readOdds(odds)
	return k, err
}

// stageOrder is how the stages of one day and odometer reading follow each other.
const stageOrder = `CASE i.stage WHEN 'routine' THEN 0 WHEN 'before' THEN 1 ELSE 2 END`

// Inspections returns those of a vehicle, the earliest first; the last one is the one that Find tells of.
func (a *Archive) Inspections(ctx context.Context, vehicle int64) ([]Kept, error) {
	all, err := list(ctx, a.db, scanKept, keptColumns+` WHERE i.vehicle = $1 ORDER BY i.day, i.km, `+stageOrder+`, i.id`, vehicle)
	for n := range all {
		if err := all[n].complete(ctx, a, all[n].ID); err != nil {
			return nil, err
		}
	}
	return all, err
}

// Inspection returns one by its key.
func (a *Archive) Inspection(ctx context.Context, id int64) (*Kept, error) {
	all, err := list(ctx, a.db, scanKept, keptColumns+` WHERE i.id = $1`, id)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("inspection %d: %w", id, ErrUnknown)
	}
	return &all[0], all[0].complete(ctx, a, id)
}

// WorstDark is the dark deposit of the worst cylinder of an inspection, whose index Kept.Worst is; nil where none was
// measured and where the inspection was forgotten.
func (a *Archive) WorstDark(ctx context.Context, id int64) (*float64, error) {
	g, err := a.Graded(ctx, id, "")
	switch {
	case errors.Is(err, ErrForgotten):
		return nil, nil
	case err != nil:
		return nil, err
	case g.Engine.WorstOne() == nil:
		return nil, nil
	}
	return known(g.Engine.WorstOne().Dark.Value), nil
}

// VehicleOf returns a vehicle by its key.
func (a *Archive) VehicleOf(ctx context.Context, id int64) (*Found, error) {
	all, err := list(ctx, a.db, scanFound, foundColumns+` WHERE v.id = $1`, id)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("vehicle %d: %w", id, ErrUnknown)
	}
	return &all[0], all[0].complete(ctx, a, all[0].last)
}

// shot is a photo as an inspection lists it.
type shot struct {
	inspection.Photo
	photo int64
	marks string
}

// Graded returns an inspection with the results of a version, "" for the one that counts, as if its folder had been
// scored by it. Photos that the version has not seen make it wrap ErrUnknown.
func (a *Archive) Graded(ctx context.Context, id int64, version string) (*engine.Graded, error) {
	return gradedBy(ctx, a.db, id, version)
}

func gradedBy(ctx context.Context, q querier, id int64, version string) (*engine.Graded, error) {
	all, err := list(ctx, q, scanKept, keptColumns+` WHERE i.id = $1`, id)
	switch {
	case err != nil:
		return nil, err
	case len(all) == 0:
		return nil, fmt.Errorf("inspection %d: %w", id, ErrUnknown)
	case all[0].Day == "":
		return nil, fmt.Errorf("inspection %d: %w", id, ErrForgotten)
	}
	kept := all[0]
	if version == "" {
		version = kept.Version
	}
	i, shots, err := factsOf(ctx, q, kept)
	if err != nil {
		return nil, err
	}
	records, err := recordsOf(ctx, q, id, version)
	if err != nil {
		return nil, err
	}
	places := map[string]int{} // by file: one picture under two names is listed by each of them
	for _, s := range shots {
		places[s.File]++
	}
	document := score.NewDocument(version)
	for _, s := range shots {
		seen := records[look{s.photo, s.marks}]
		if len(seen) == 0 {
			return nil, fmt.Errorf("photo %q by %s: %w", s.File, version, ErrUnknown)
		}
		record := engine.Listed(places[s.File], seen)[max(0, s.FromLeft-1)]
		record.Photo = s.File
		document.Photos = append(document.Photos, record)
	}
	return engine.Together(i, document)
}

// factsOf reads what is known of an inspection without its results.
func factsOf(ctx context.Context, q querier, kept Kept) (*inspection.Inspection, []shot, error) {
	i := &inspection.Inspection{Stage: inspection.Stage(kept.Stage), Notes: kept.Notes, Methods: map[int]string{},
		Odometer: inspection.Odometer{Value: kept.Odometer, Unit: kept.Unit},
		Card:     inspection.JobCard{Job: kept.Job, Technician: kept.Technician, Wish: kept.Wish},
	}
	var err error
	if i.Date, err = time.Parse(time.DateOnly, kept.Day); err != nil {
		return nil, nil, err
	}
	vehicles, err := list(ctx, q, scanFound, foundColumns+` WHERE v.id = $1`, kept.Vehicle)
	switch {
	case err != nil:
		return nil, nil, err
	case len(vehicles) == 0:
		return nil, nil, ErrUnknown
	}
	v := vehicles[0]
	i.Vehicle, i.Engine = v.Reference, inspection.Layout{Cylinders: v.Cylinders, Valves: v.Valves}
	i.Card.Plate, i.Card.VIN, i.Card.Family = v.Plate, v.VIN, v.Family
	type method struct {
		cylinder int
		text     string
	}
	methods, err := list(ctx, q, func(row *sql.Rows) (m method, err error) {
		err = row.Scan(&m.cylinder, &m.text)
		return m, err
	}, `SELECT cylinder, method FROM cylinder WHERE inspection = $1 AND method <> ''`, kept.ID)
	if err != nil {
		return nil, nil, err
	}
	for _, m := range methods {
		i.Methods[m.cylinder] = m.text
	}
	overruled, err := overruledOf(ctx, q, kept.ID)
	if err != nil {
		return nil, nil, err
	}
	i.Overruled = lastOf(overruled)
	if kept.banks != "" {
		if err := json.Unmarshal([]byte(kept.banks), &i.Banks); err != nil {
			return nil, nil, err
		}
	}
	shots, err := shotsOf(ctx, q, kept.ID)
	for _, s := range shots {
		i.Photos = append(i.Photos, s.Photo)
	}
	return i, shots, err
}

func shotsOf(ctx context.Context, q querier, id int64) ([]shot, error) {
	return list(ctx, q, func(row *sql.Rows) (s shot, err error) {
		var out inspection.LeftOut
		err = row.Scan(&s.File, &s.Cylinder, &s.Valve, &s.FromLeft, &s.marks, &s.photo, &out.By, &out.Reason)
		if out.By != "" {
			s.LeftOut = &out
		}
		return s, err
	}, `SELECT s.file, s.cylinder, s.valve, s.from_left, s.marks, p.id, s.left_out_by, s.left_out_why FROM shot s JOIN photo p ON p.id = s.photo
		WHERE s.inspection = $1 ORDER BY s.place`, id)
}

// look is a photo with the outlines set by hand on it.
type look struct {
	photo int64
	marks string
}

// recordsOf returns what a version says of the photos of an inspection, the valves of each from left to right.
func recordsOf(ctx context.Context, q querier, id int64, version string) (map[look][]score.Record, error) {
	type row struct {
		of     look
		packed []byte
	}
	all, err := list(ctx, q, func(found *sql.Rows) (r row, err error) {
		err = found.Scan(&r.of.photo, &r.of.marks, &r.packed)
		return r, err
	}, `SELECT r.photo, r.marks, r.record FROM result r JOIN version n ON n.id = r.version
		WHERE n.name = $2 AND r.record IS NOT NULL AND r.photo IN (SELECT photo FROM shot WHERE inspection = $1)
		ORDER BY r.photo, r.valve`, id, version)
	if err != nil {
		return nil, err
	}
	records := map[look][]score.Record{}
	for _, r := range all {
		record, err := unpack(r.packed)
		if err != nil {
			return nil, err
		}
		records[r.of] = append(records[r.of], *record)
	}
	return records, nil
}
