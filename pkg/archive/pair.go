package archive

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"valvegrade/pkg/inspection"
)

// How far apart an inspection before a cleaning and one after it may lie to belong together: a job is done within a
// month, and a test drive is short.
const (
	pairDays = 31
	pairKM   = 200
)

// pair finds, for each cleaned state of a vehicle, the inspection before the cleaning, and writes its figures beside
// the cylinders that were cleaned (inspection.Cleaned). Where none is of stage before, a routine one is it: who finds dirt
// there cleans it, and compare takes the two for a cleaning, too.
func (w writer) pair(vehicle int64) error {
	cleaned, err := cleanedStates(w.ctx, w.tx, ` AND vehicle = $1`, vehicle)
	if err != nil {
		return err
	}
	for _, state := range cleaned {
		id := state.id
		prior, err := state.before(w.ctx, w.tx)
		if err != nil {
			return err
		}
		var of any
		if prior > 0 {
			of = prior
		}
		if err := w.do(`UPDATE inspection SET prior = $2 WHERE id = $1`, id, of); err != nil {
			return err
		}
		if err := w.before(id, of); err != nil {
			return err
		}
		if err := w.cleaning(id); err != nil {
			return err
		}
	}
	return nil
}

// before writes the figures of an inspection before a cleaning, NULL for none, beside the cylinders that one after it shows
// just cleaned.
func (w writer) before(after int64, of any) error {
	cylinders, err := w.cleanedCylinders(after)
	if err != nil || len(cylinders) == 0 {
		return err
	}
	n := len(cylinders)
	return w.do(fmt.Sprintf(`UPDATE cylinder SET
		was = (SELECT b.worst FROM cylinder b WHERE b.inspection = $%[2]d AND b.cylinder = cylinder.cylinder),
		was_dark = (SELECT b.dark FROM cylinder b WHERE b.inspection = $%[2]d AND b.cylinder = cylinder.cylinder)
		WHERE inspection = $%[1]d AND cylinder IN %[3]s`, n+1, n+2, places(1, n)), append(cylinders, after, of)...)
}

// cleanedCylinders are the numbers of the cylinders that an inspection after a cleaning shows just cleaned.
func (w writer) cleanedCylinders(id int64) ([]any, error) {
	state := &inspection.Inspection{Stage: inspection.After, Methods: map[int]string{}}
	numbers, err := list(w.ctx, w.tx, func(row *sql.Rows) (n int, err error) {
		var method string
		err = row.Scan(&n, &method)
		state.Methods[n] = method
		return n, err
	}, `SELECT cylinder, method FROM cylinder WHERE inspection = $1`, id)
	var cleaned []any
	for _, n := range numbers {
		if state.Cleaned(n) {
			cleaned = append(cleaned, n)
		}
	}
	return cleaned, err
}

// cleaning sums up what each method took off, in place of what was summed up before.
func (w writer) cleaning(id int64) error {
	if err := w.do(`DELETE FROM cleaning WHERE inspection = $1`, id); err != nil {
		return err
	}
	return w.do(sumCleanings+` AND inspection = $2`+byCleaning, least, id)
}

// cleanings are what each method took off an engine, summed up over its cylinders whose index was $1 or more before, and
// sumCleanings writes them down. A condition may stand before byCleaning.
const (
	cleanings = `SELECT shop, inspection, LOWER(method) AS method, COUNT(*) AS cylinders, SUM(was) AS was, SUM(was - worst) AS gone,
		SUM(CASE WHEN dark IS NOT NULL THEN was_dark END) AS was_dark, SUM(was_dark - dark) AS gone_dark
		FROM cylinder WHERE was >= $1 AND worst IS NOT NULL`
	byCleaning   = ` GROUP BY shop, inspection, LOWER(method)`
	sumCleanings = `INSERT INTO cleaning (shop, inspection, method, cylinders, was, gone, was_dark, gone_dark) ` + cleanings
)

// cleanedState is an inspection after a cleaning, the one that it was paired with, 0 for none, and the first day on which
// the one before may have been.
type cleanedState struct {
	id, vehicle, prior int64
	shop, earliest     string
}

// cleanedStates are those of which a condition holds, "" for all.
func cleanedStates(ctx context.Context, q querier, condition string, args ...any) ([]cleanedState, error) {
	return list(ctx, q, func(row *sql.Rows) (state cleanedState, err error) {
		var text string
		if err := row.Scan(&state.id, &state.vehicle, &state.prior, &state.shop, &text); err != nil {
			return state, err
		}
		day, err := time.Parse(time.DateOnly, text)
		state.earliest = day.AddDate(0, 0, -pairDays).Format(time.DateOnly)
		return state, err
	}, `SELECT id, vehicle, COALESCE(prior, 0), shop, day FROM inspection WHERE stage = 'after' AND day IS NOT NULL`+
		condition+` ORDER BY id`, args...)
}

// before is the inspection before the cleaning, 0 for none.
func (s cleanedState) before(ctx context.Context, q querier) (int64, error) {
	found, err := list(ctx, q, scanNumber, `SELECT b.id FROM inspection b JOIN inspection a ON a.vehicle = b.vehicle
		WHERE a.id = $1 AND b.stage <> 'after' AND b.day <= a.day AND ABS(b.km - a.km) <= $2 AND b.day >= $3
		ORDER BY CASE b.stage WHEN 'before' THEN 0 ELSE 1 END, b.day DESC, b.id DESC LIMIT 1`, s.id, pairKM, s.earliest)
	if err != nil || len(found) == 0 {
		return 0, err
	}
	return found[0], nil
}
