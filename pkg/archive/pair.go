package archive

import (
	"database/sql"
	"time"
)

// How far apart an inspection before a cleaning and one after it may lie to belong together: a job is done within a
// month, and a test drive is short.
const (
	pairDays = 31
	pairKM   = 200
)

// pair finds, for each cleaned state of a vehicle, the inspection before the cleaning, and writes its figures beside
// the cylinders that were cleaned. Without methods every cylinder counts as cleaned.
func (w writer) pair(vehicle int64) error {
	cleaned, err := w.cleanedStates(vehicle)
	if err != nil {
		return err
	}
	for _, state := range cleaned {
		id := state.id
		prior, err := w.numbers(`SELECT b.id FROM inspection b JOIN inspection a ON a.vehicle = b.vehicle
			WHERE a.id = $1 AND b.stage = 'before' AND b.day <= a.day AND ABS(b.km - a.km) <= $2 AND b.day >= $3
			ORDER BY b.day DESC, b.id DESC LIMIT 1`, id, pairKM, state.earliest)
		if err != nil {
			return err
		}
		var of any
		if len(prior) > 0 {
			of = prior[0]
		}
		if err := w.do(`UPDATE inspection SET prior = $2 WHERE id = $1`, id, of); err != nil {
			return err
		}
		err = w.do(`UPDATE cylinder SET
			was = (SELECT b.worst FROM cylinder b WHERE b.inspection = $2 AND b.cylinder = cylinder.cylinder),
			was_dark = (SELECT b.dark FROM cylinder b WHERE b.inspection = $2 AND b.cylinder = cylinder.cylinder)
			WHERE inspection = $1 AND (method <> '' OR NOT EXISTS
				(SELECT 1 FROM cylinder o WHERE o.inspection = $1 AND o.method <> ''))`, id, of)
		if err != nil {
			return err
		}
		if err := w.cleaning(id); err != nil {
			return err
		}
	}
	return nil
}

// cleaning sums up what each method took off, in place of what was summed up before.
func (w writer) cleaning(inspection int64) error {
	if err := w.do(`DELETE FROM cleaning WHERE inspection = $1`, inspection); err != nil {
		return err
	}
	return w.do(sumCleanings+` AND inspection = $2`+byCleaning, least, inspection)
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

// cleanedState is an inspection after a cleaning, and the first day on which the one before may have been.
type cleanedState struct {
	id       int64
	earliest string
}

func (w writer) cleanedStates(vehicle int64) ([]cleanedState, error) {
	return list(w.ctx, w.tx, func(row *sql.Rows) (state cleanedState, err error) {
		var text string
		if err := row.Scan(&state.id, &text); err != nil {
			return state, err
		}
		day, err := time.Parse(time.DateOnly, text)
		state.earliest = day.AddDate(0, 0, -pairDays).Format(time.DateOnly)
		return state, err
	}, `SELECT id, day FROM inspection WHERE vehicle = $1 AND stage = 'after' AND day IS NOT NULL ORDER BY id`, vehicle)
}
