package archive

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"time"

	"valvegrade/pkg/inspection"
)

// corrected returns the inspection that the visit tells again with another day, odometer reading or stage, 0 where there
// is none: one of the same vehicle with the very same photos. A photo is one look, so that a slip that was put right
// must not stand beside the visit as a second one.
func corrected(ctx context.Context, q querier, vehicle int64, v *Visit) (int64, error) {
	photos := v.hashes()
	if photos == nil {
		return 0, nil
	}
	type shot struct {
		inspection, km int64
		day, hash      string
		stage          inspection.Stage
	}
	shots, err := list(ctx, q, func(row *sql.Rows) (s shot, err error) {
		err = row.Scan(&s.inspection, &s.day, &s.stage, &s.km, &s.hash)
		return s, err
	}, `SELECT i.id, i.day, i.stage, i.km, COALESCE(p.hash, '') FROM inspection i LEFT JOIN shot s ON s.inspection = i.id LEFT JOIN photo p ON p.id = s.photo
		WHERE i.vehicle = $1 AND i.day IS NOT NULL ORDER BY i.id`, vehicle)
	if err != nil {
		return 0, err
	}
	i := v.Inspection
	kept := map[int64][]string{}
	var order []int64
	for _, s := range shots {
		if s.day == i.Date.Format(time.DateOnly) && s.km == kilometres(i) && s.stage == i.Stage {
			return 0, nil // what is told again is this one
		}
		if kept[s.inspection] == nil {
			order = append(order, s.inspection)
		}
		kept[s.inspection] = append(kept[s.inspection], s.hash)
	}
	for _, id := range order {
		if slices.Equal(photos, sorted(kept[id])) {
			return id, nil
		}
	}
	return 0, nil
}

// hashes are those of all photos of the visit, each once, in order; nil where one is not known.
func (v *Visit) hashes() []string {
	var hashes []string
	for _, file := range v.Inspection.Files() {
		hash := v.hashOf(file)
		if hash == "" {
			return nil
		}
		hashes = append(hashes, hash)
	}
	return sorted(hashes)
}

func sorted(hashes []string) []string {
	slices.Sort(hashes)
	return slices.Compact(hashes)
}

// correct gives the inspection that the visit tells again its day, reading and stage, and reports whether there is one. What a cleaning
// took off belongs to the stage, and is found anew (pair).
func (w writer) correct(v *Visit, vehicle int64) (bool, error) {
	id, err := corrected(w.ctx, w.tx, vehicle, v)
	if err != nil || id == 0 {
		return false, err
	}
	i := v.Inspection
	return true, errors.Join(
		w.do(`UPDATE inspection SET day = $2, year = $3, km = $4, stage = $5, prior = NULL WHERE id = $1`,
			id, i.Date.Format(time.DateOnly), i.Date.Year(), kilometres(i), i.Stage),
		w.do(`DELETE FROM cleaning WHERE inspection = $1`, id),
	)
}
