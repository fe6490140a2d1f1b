package archive

import (
	"context"
	"database/sql"
)

// Row is a valve in a photo of an inspection with what a version says of it, as Export hands it over. Names, plates and
// whatever else tells of the owner are not in it; Vehicle is the archive's own number.
type Row struct {
	Inspection   int64    `json:"inspection" parquet:"inspection"`
	Vehicle      int64    `json:"vehicle" parquet:"vehicle"`
	Family       string   `json:"engine_family" parquet:"engine_family"`
	Day          *string  `json:"day" parquet:"day,optional"`
	Year         int      `json:"year" parquet:"year"`
	Stage        string   `json:"stage" parquet:"stage"`
	OdometerKM   int64    `json:"odometer_km" parquet:"odometer_km"`
	Technician   string   `json:"technician" parquet:"technician"`
	Method       string   `json:"method" parquet:"method"`
	Cylinder     int      `json:"cylinder" parquet:"cylinder"`
	Valve        int      `json:"valve" parquet:"valve"`
	Photo        *string  `json:"photo_sha256" parquet:"photo_sha256,optional"`
	ValveInPhoto int      `json:"valve_in_photo" parquet:"valve_in_photo"`
	Version      string   `json:"version" parquet:"version"`
	Counts       bool     `json:"counts" parquet:"counts"`
	Status       string   `json:"status" parquet:"status"`
	Grade        *int     `json:"grade" parquet:"grade,optional"`
	Index        *float64 `json:"index" parquet:"index,optional"`
	IndexLow     *float64 `json:"index_low" parquet:"index_low,optional"`
	IndexHigh    *float64 `json:"index_high" parquet:"index_high,optional"`
	Dark         *float64 `json:"dark" parquet:"dark,optional"`
	Due          *float64 `json:"due" parquet:"due,optional"`
}

// Export calls each with every result of the inspections that a filter takes, in the order of the archive, without
// holding more than one. A photo that is listed for one valve and shows several has a row for each.
func (a *Archive) Export(ctx context.Context, f Filter, each func(Row) error) error {
	where, args := f.where()
	found, err := a.db.QueryContext(ctx, `SELECT i.id, i.vehicle, v.family, i.day, i.year, i.stage, i.km, i.technician,
			COALESCE(c.method, ''), s.cylinder, s.valve, p.hash, r.valve, w.name, r.version = i.version, r.status, r.grade,
			r.worth, r.worth_low, r.worth_high, r.dark, r.due
		FROM `+f.inspections("v")+`
		JOIN shot s ON s.inspection = i.id
		JOIN photo p ON p.id = s.photo
		JOIN result r ON r.photo = s.photo AND r.marks = s.marks AND (s.from_left = 0 OR r.valve = s.from_left OR r.valves = 1)
		JOIN version w ON w.id = r.version
		LEFT JOIN cylinder c ON c.inspection = i.id AND c.cylinder = s.cylinder
		WHERE `+where+` ORDER BY i.id, s.place, r.version, r.valve`, args...)
	if err != nil {
		return Explain(err)
	}
	defer found.Close()
	for found.Next() {
		row, err := scanRow(found)
		if err != nil {
			return err
		}
		if err := each(row); err != nil {
			return err
		}
	}
	return Explain(found.Err())
}

func scanRow(found *sql.Rows) (r Row, err error) {
	var counts sql.NullBool
	err = found.Scan(
		&r.Inspection,
		&r.Vehicle,
		&r.Family,
		&r.Day,
		&r.Year,
		&r.Stage,
		&r.OdometerKM,
		&r.Technician,
		&r.Method,
		&r.Cylinder,
		&r.Valve,
		&r.Photo,
		&r.ValveInPhoto,
		&r.Version,
		&counts,
		&r.Status,
		&r.Grade,
		&r.Index,
		&r.IndexLow,
		&r.IndexHigh,
		&r.Dark,
		&r.Due,
	)
	r.Counts = counts.Bool
	return r, err
}
