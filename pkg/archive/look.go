package archive

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

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
