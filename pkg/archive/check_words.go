package archive

import (
	"context"
	"database/sql"
	"fmt"
	"maps"
	"slices"
)

// namedRow is what is found by words: a vehicle, or an inspection of it (0 for the vehicle itself).
type namedRow struct {
	vehicle, inspection int64
	shop, name          string
	words               mentioned
}

// checkWords holds the words to find by against the names, plates, jobs and wishes that they come from, and each word
// against its gaps. With mend what is missing is written down again.
func (a *Archive) checkWords(ctx context.Context, c *Checked, mend bool) error {
	named, err := list(ctx, a.db, func(row *sql.Rows) (r namedRow, err error) {
		var reference, plate, vin string
		err = row.Scan(&r.vehicle, &r.shop, &reference, &plate, &vin)
		r.words, r.name = ofVehicle(reference, plate, vin), fmt.Sprintf("vehicle %d", r.vehicle)
		return r, err
	}, `SELECT id, shop, reference, COALESCE(plate, ''), COALESCE(vin, '') FROM vehicle WHERE reference IS NOT NULL ORDER BY id`)
	if err != nil {
		return err
	}
	visits, err := list(ctx, a.db, func(row *sql.Rows) (r namedRow, err error) {
		var job, wish string
		err = row.Scan(&r.vehicle, &r.inspection, &r.shop, &job, &wish)
		r.words, r.name = ofVisit(job, wish), fmt.Sprintf("inspection %d", r.inspection)
		return r, err
	}, `SELECT vehicle, id, shop, job, wish FROM inspection WHERE day IS NOT NULL ORDER BY id`)
	if err != nil {
		return err
	}
	for _, r := range append(named, visits...) {
		if err := a.checkMentions(ctx, c, r, mend); err != nil {
			return err
		}
	}
	return a.checkGaps(ctx, c, mend)
}

func (a *Archive) checkMentions(ctx context.Context, c *Checked, r namedRow, mend bool) error {
	type mention struct{ word, said string }
	kept, err := list(ctx, a.db, func(row *sql.Rows) (m mention, err error) {
		err = row.Scan(&m.word, &m.said)
		return m, err
	}, `SELECT w.word, m.said FROM mention m JOIN word w ON w.id = m.word WHERE m.vehicle = $1 AND m.inspection = $2`,
		r.vehicle, r.inspection)
	if err != nil {
		return err
	}
	found := mentioned{}
	for _, m := range kept {
		found.add(m.said, m.word)
	}
	if maps.EqualFunc(found, r.words, maps.Equal) {
		return nil
	}
	return a.amend(ctx, c, mend, r.shop, fmt.Sprintf("%s is not found by all of its words", r.name), func(w writer) error {
		return w.mention(r.vehicle, r.inspection, r.words)
	})
}

// checkGaps reads each word with its gaps, one after the other, for there are many.
func (a *Archive) checkGaps(ctx context.Context, c *Checked, mend bool) error {
	type word struct {
		id         int64
		shop, text string
	}
	var incomplete []word
	var last word
	var kept []int64
	end := func() {
		if last.id != 0 && !slices.Equal(slices.Sorted(slices.Values(kept)), slices.Compact(slices.Sorted(slices.Values(gaps(last.text))))) {
			incomplete = append(incomplete, last)
		}
		kept = kept[:0]
	}
	rows, err := a.db.QueryContext(ctx, `SELECT w.id, w.shop, w.word, n.gap FROM word w LEFT JOIN near n ON n.word = w.id ORDER BY w.id`)
	if err != nil {
		return Explain(err)
	}
	defer rows.Close()
	for rows.Next() {
		var at word
		var gap sql.Null[int64]
		if err := rows.Scan(&at.id, &at.shop, &at.text, &gap); err != nil {
			return err
		}
		if at != last {
			end()
			last = at
		}
		if gap.Valid {
			kept = append(kept, gap.V)
		}
	}
	if err := rows.Err(); err != nil {
		return Explain(err)
	}
	end()
	rows.Close() // before writing: SQLite has one connection
	for _, one := range incomplete {
		fault := fmt.Sprintf("word %d is not found with a slip in it", one.id)
		err := a.amend(ctx, c, mend, one.shop, fault, func(w writer) error {
			if err := w.do(`DELETE FROM near WHERE word = $1`, one.id); err != nil {
				return err
			}
			return w.near(map[string]int64{one.text: one.id})
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// amend mends a fault of what is only derived from other rows, or names it.
func (a *Archive) amend(ctx context.Context, c *Checked, mend bool, shop, fault string, work func(writer) error) error {
	if !mend {
		c.fault("%s: archive check --mend puts that right", fault)
		return nil
	}
	c.Mended++
	return a.within(ctx, func(tx *sql.Tx) error { return work(a.writer(ctx, tx, shop)) })
}
