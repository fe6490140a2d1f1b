package archive

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"valvegrade/internal/limit"
	"valvegrade/pkg/score"
)

// Look is a photo of the archive with the outlines set by hand on it: what a version of the net is asked about.
type Look struct {
	Photo int64
	Marks string // their hash, "" for none
	Shop  string
}

// Unseen returns the looks of the inspections that a filter takes which a version has not judged yet and whose photos
// are in the store, each once, in the order of the archive.
func (a *Archive) Unseen(ctx context.Context, f Filter, version string) ([]Look, error) {
	where, args := f.where(version)
	return list(ctx, a.db, func(row *sql.Rows) (l Look, err error) {
		err = row.Scan(&l.Photo, &l.Marks, &l.Shop)
		return l, err
	}, `SELECT DISTINCT s.photo, s.marks, s.shop FROM `+f.inspections()+` JOIN shot s ON s.inspection = i.id JOIN photo p ON p.id = s.photo
		WHERE p.bytes IS NOT NULL AND `+where+` AND NOT EXISTS (SELECT 1 FROM result r JOIN version w ON w.id = r.version
			WHERE r.photo = s.photo AND r.marks = s.marks AND w.name = $1)
		ORDER BY s.photo, s.marks`, args...)
}

// Taken returns the bytes of a look's photo and its outlines as YAML. The error wraps ErrForgotten when the photo was
// forgotten since.
func (a *Archive) Taken(ctx context.Context, l Look) (data []byte, yaml string, err error) {
	var hash sql.NullString
	err = a.db.QueryRowContext(ctx, `SELECT p.hash, COALESCE((SELECT m.yaml FROM marks m WHERE m.shop = p.shop AND m.hash = $2), '')
		FROM photo p WHERE p.id = $1`, l.Photo, l.Marks).
		Scan(&hash, &yaml)
	switch {
	case errors.Is(err, sql.ErrNoRows), err == nil && !hash.Valid:
		return nil, "", fmt.Errorf("photo %d: %w", l.Photo, ErrForgotten)
	case err != nil:
		return nil, "", Explain(err)
	}
	data, err = a.photoOf(ctx, l.Shop, hash.String)
	return data, yaml, err
}

// Judge writes down what a version says of a look, unless it has done so before, in one transaction with what also
// does. With adopt the results count from now on for every inspection whose photos the version has all seen.
func (a *Archive) Judge(
	ctx context.Context, l Look, version string, valves []score.Record, adopt bool, also func(*sql.Tx) error,
) error {
	return a.within(ctx, func(tx *sql.Tx) error {
		w := a.writer(ctx, tx, l.Shop)
		id, err := w.version(version)
		if err != nil {
			return err
		}
		insert := resultRows()
		if err := addResult(insert, l.Photo, id, l.Marks, valves); err != nil {
			return err
		}
		if _, err := w.insert(insert); err != nil {
			return err
		}
		if adopt {
			if err := w.adopt(l, id, version); err != nil {
				return err
			}
		}
		return also(tx)
	})
}

// adopt makes a version count for the inspections of a photo that it has seen wholly.
func (w writer) adopt(l Look, version int64, name string) error {
	of, err := w.numbers(`SELECT DISTINCT inspection FROM shot WHERE photo = $1 ORDER BY inspection`, l.Photo)
	if err != nil {
		return err
	}
	for _, id := range of {
		// Changing nothing locks the row: of two that write the last two photos, the second sees the first's.
		if err := w.do(`UPDATE inspection SET version = version WHERE id = $1`, id); err != nil {
			return err
		}
		open, err := w.number(`SELECT COUNT(*) FROM shot s WHERE s.inspection = $1 AND NOT EXISTS
			(SELECT 1 FROM result r WHERE r.photo = s.photo AND r.marks = s.marks AND r.version = $2)`, id, version)
		if err != nil {
			return err
		}
		if open > 0 {
			continue
		}
		graded, err := gradedBy(w.ctx, w.tx, id, name)
		if err != nil {
			return err
		}
		if err := w.count(id, version, graded); err != nil {
			return err
		}
		vehicle, err := w.number(`SELECT vehicle FROM inspection WHERE id = $1`, id)
		if err != nil {
			return err
		}
		if err := w.pair(vehicle); err != nil {
			return err
		}
	}
	return nil
}

// netKey is where a net lies in the store, from which every machine takes it.
func netKey(hash string) string { return "nets/" + hash[:2] + "/" + hash }

// KeepNet puts a net into the store and returns its hash.
func (a *Archive) KeepNet(ctx context.Context, onnx []byte) (string, error) {
	if a.photos == nil {
		return "", ErrNoPhotos
	}
	hash := Hash(onnx)
	return hash, a.photos.Put(ctx, netKey(hash), onnx)
}

// Net returns a net from the store, held against its hash.
func (a *Archive) Net(ctx context.Context, hash string) ([]byte, error) {
	if a.photos == nil {
		return nil, ErrNoPhotos
	}
	if !isHash(hash) {
		return nil, fmt.Errorf("archive: %q is no hash", hash)
	}
	onnx, err := a.photos.Get(ctx, netKey(hash), limit.NetBytes)
	if err == nil && Hash(onnx) != hash {
		err = fmt.Errorf("net %.12s: %w", hash, ErrSpoilt)
	}
	return onnx, err
}

// Database is the open database, for the queue that lies in it, too.
func (a *Archive) Database() *sql.DB { return a.db }

// Owns reports whether this login may change the tables: of a shared database, whether it owns them.
func (a *Archive) Owns(ctx context.Context) (owns bool, err error) {
	if !a.location.Shared() {
		return true, nil
	}
	err = a.db.QueryRowContext(ctx, `SELECT pg_has_role(tableowner, 'MEMBER') FROM pg_tables
		WHERE tablename = 'inspection' AND schemaname = ANY (current_schemas(false))`).Scan(&owns)
	return owns, Explain(err)
}
