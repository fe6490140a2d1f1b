package archive

import (
	"context"
	"database/sql"
	"fmt"
)

// Forget takes away everything that tells whose vehicle it was: its name, plate and VIN, the days, jobs, wishes and
// notes of its inspections, its photos and what only they say. Left are figures without them, for the statistics: year,
// whole thousands of kilometres, engine family, method, technician and grades. It cannot be undone, and backups made
// before still have it all.
//
// The photos go first: when it ends half way, the vehicle is still there to be forgotten again.
func (a *Archive) Forget(ctx context.Context, vehicle int64) (photos int, err error) {
	found, err := a.VehicleOf(ctx, vehicle)
	if err != nil {
		return 0, err
	}
	if found.Reference == "" {
		return 0, fmt.Errorf("vehicle %d: %w", vehicle, ErrForgotten)
	}
	type picture struct {
		hash string
		kept bool
	}
	pictures, err := list(ctx, a.db, func(row *sql.Rows) (p picture, err error) {
		err = row.Scan(&p.hash, &p.kept)
		return p, err
	}, `SELECT p.hash, p.bytes IS NOT NULL FROM photo p WHERE p.hash IS NOT NULL AND `+onlyOf, vehicle)
	if err != nil {
		return 0, err
	}
	for _, p := range pictures {
		if !p.kept {
			continue
		}
		if a.photos == nil {
			return 0, ErrNoPhotos
		}
		if err := a.photos.Delete(ctx, key(found.Shop, p.hash)); err != nil {
			return 0, err
		}
		photos++
	}
	err = a.write(ctx, func(w writer) error { return w.forget(vehicle) })
	if err != nil {
		return photos, err
	}
	return photos, a.scrub(ctx)
}

// onlyOf are the photos that no other vehicle's inspection lists.
const onlyOf = `EXISTS (SELECT 1 FROM shot s JOIN inspection i ON i.id = s.inspection WHERE s.photo = p.id AND i.vehicle = $1)
	AND NOT EXISTS (SELECT 1 FROM shot s JOIN inspection i ON i.id = s.inspection WHERE s.photo = p.id AND i.vehicle <> $1)`

func (w writer) forget(vehicle int64) error {
	const its = `(SELECT id FROM inspection WHERE vehicle = $1)`
	for _, statement := range []string{
		`UPDATE result SET record = NULL WHERE photo IN (SELECT p.id FROM photo p WHERE ` + onlyOf + `)`,
		`UPDATE photo SET hash = NULL, bytes = NULL WHERE id IN (SELECT p.id FROM photo p WHERE ` + onlyOf + `)`,
		`DELETE FROM shot WHERE inspection IN ` + its,
		`DELETE FROM marks WHERE hash NOT IN (SELECT marks FROM shot) AND shop = (SELECT shop FROM vehicle WHERE id = $1)`,
		`UPDATE overruled SET why = '' WHERE inspection IN ` + its,
		`UPDATE inspection SET day = NULL, km = (km + 500) / 1000 * 1000, odometer = (km + 500) / 1000 * 1000, unit = 'km',
			job = '', wish = '', notes = '', source = '', content = '', marked = '' WHERE vehicle = $1`,
		`UPDATE vehicle SET reference = NULL, plain = NULL, plate = NULL, vin = NULL, vin_check = '' WHERE id = $1`,
	} {
		if err := w.do(statement, vehicle); err != nil {
			return err
		}
	}
	return w.unmention(vehicle)
}

// scrub takes what was deleted out of the file of SQLite, too; secure_delete has overwritten it in place. A server
// reuses the room of deleted rows in its own time.
func (a *Archive) scrub(ctx context.Context) error {
	if a.location.Shared() {
		return nil
	}
	_, err := a.db.ExecContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`)
	return Explain(err)
}
