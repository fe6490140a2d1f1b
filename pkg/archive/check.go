package archive

import (
	"context"
	"database/sql"
	"fmt"
	"math"

	"valvegrade/pkg/score"
)

// CheckOptions say how far Check goes.
type CheckOptions struct {
	// Figures leaves the photos alone, which takes most of the time.
	Figures bool
	// Score grades a photo with outlines as YAML, "" for none; results of its Version are made again and compared. nil
	// makes none again.
	Score   func(data []byte, marks string) []score.Record
	Version string
	// Mend writes down again what is only derived from other rows: the words to find by, which inspection was before a
	// cleaning and what that took off, and how likely each grade is, which programs of an earlier format did not write.
	Mend bool
	// Step, when not nil, is called after each inspection.
	Step func()
}

// Checked is what Check looked at, and what is wrong.
type Checked struct {
	Inspections int `json:"inspections"`
	// Forgotten are the inspections besides, of which only figures for the statistics are left.
	Forgotten int      `json:"forgotten"`
	Photos    int      `json:"photos"`
	Results   int      `json:"results"`
	Again     int      `json:"scored_again"`
	Faults    []string `json:"faults"`
	// Mended counts what was put right (CheckOptions.Mend); it is no fault any more.
	Mended int `json:"mended"`
	// Loose are photos in the store that no row speaks of: a program was ended while it added them. They do no harm.
	Loose int `json:"loose_photos"`
}

// Check holds every photo against its hash, every inspection against its photos and results, and what was summed up, or
// is only there to find by, against what it comes from.
func (a *Archive) Check(ctx context.Context, o CheckOptions) (*Checked, error) {
	c := &Checked{Faults: []string{}}
	if err := a.checkDatabase(ctx, c); err != nil {
		return nil, err
	}
	if err := a.checkPairs(ctx, c, o.Mend); err != nil {
		return nil, err
	}
	if err := a.checkCleanings(ctx, c, o.Mend); err != nil {
		return nil, err
	}
	if err := a.checkWords(ctx, c, o.Mend); err != nil {
		return nil, err
	}
	err := a.db.QueryRowContext(ctx, `SELECT COUNT(*) FROM inspection WHERE day IS NULL`).Scan(&c.Forgotten)
	if err != nil {
		return nil, Explain(err)
	}
	ids, err := list(ctx, a.db, scanNumber, `SELECT id FROM inspection WHERE day IS NOT NULL ORDER BY id`)
	if err != nil {
		return nil, err
	}
	for _, id := range ids {
		if err := a.checkInspection(ctx, c, id, o.Mend); err != nil {
			return nil, err
		}
		c.Inspections++
		if o.Step != nil {
			o.Step()
		}
	}
	if o.Figures {
		return c, nil
	}
	return c, a.checkPhotos(ctx, c, o)
}

func scanNumber(row *sql.Rows) (n int64, err error) {
	err = row.Scan(&n)
	return n, err
}

func (c *Checked) fault(format string, args ...any) {
	c.Faults = append(c.Faults, fmt.Sprintf(format, args...))
}

// checkDatabase lets SQLite look through its file; a server checks its own.
func (a *Archive) checkDatabase(ctx context.Context, c *Checked) error {
	if a.location.Shared() {
		return nil
	}
	text := func(row *sql.Rows) (text string, err error) {
		err = row.Scan(&text)
		return text, err
	}
	found, err := list(ctx, a.db, text, `PRAGMA integrity_check(20)`)
	if err != nil {
		return err
	}
	for _, fault := range found {
		if fault != "ok" {
			c.fault("the file: %s", fault)
		}
	}
	return nil
}

func same(a, b *float64, within float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) <= within
}

func shown(v *float64) string {
	if v == nil {
		return "not measured"
	}
	return fmt.Sprintf("%.4g", *v)
}
