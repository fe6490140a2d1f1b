package archive

import (
	"context"
	"database/sql"
	"fmt"
	"math"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
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
	// Mend writes down again what is only derived from other rows: the words to find by, and what cleanings took off.
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
		if err := a.checkInspection(ctx, c, id); err != nil {
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

// sameSum is how far two sums of the same numbers may differ.
const sameSum = 1e-6

// checkInspection makes the figures of an inspection again from its results.
func (a *Archive) checkInspection(ctx context.Context, c *Checked, id int64) error {
	kept, err := a.Inspection(ctx, id)
	if err != nil {
		return err
	}
	name := fmt.Sprintf("inspection %d (%s, %s)", id, kept.Day, kept.Stage)
	graded, err := a.Graded(ctx, id, "")
	if err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		c.fault("%s: %v", name, err)
		return nil
	}
	c.Results += len(graded.Photos)
	s, err := sumUp(graded)
	if err != nil {
		return err
	}
	for _, figure := range []struct {
		what       string
		kept, made *float64
	}{
		{"deposit index", kept.Worst, known(graded.Engine.Worst.Value)},
		{"its lower end", kept.Low, known(graded.Engine.Worst.Low)},
		{"its upper end", kept.High, known(graded.Engine.Worst.High)},
		{"dark deposit", kept.Dark, s.dark.value()},
		{"grade", asFloat(kept.Grade), asFloat(gradeOf(graded))},
		{"number of photos", new(float64(kept.Photos)), new(float64(s.photos))},
		{"number of refused photos", new(float64(kept.Refused)), new(float64(s.refused))},
	} {
		c.compare(name, figure.what, figure.kept, figure.made)
	}
	if err := a.checkSums(ctx, c, id, name, s); err != nil {
		return err
	}
	if err := a.checkCylinders(ctx, c, id, name, graded, s); err != nil {
		return err
	}
	return a.checkColumns(ctx, c, id, name)
}

// compare holds a figure of an inspection against what its results give.
func (c *Checked) compare(name, what string, kept, made *float64) {
	if !same(kept, made, sameSum) {
		c.fault("%s: the %s is %s, and its results give %s", name, what, shown(kept), shown(made))
	}
}

// checkSums holds against the results what only the statistics ask for.
func (a *Archive) checkSums(ctx context.Context, c *Checked, id int64, name string, s sums) error {
	var seen, retaken float64
	var due *float64
	err := a.db.QueryRowContext(ctx, `SELECT seen, retaken, due FROM inspection WHERE id = $1`, id).Scan(&seen, &retaken, &due)
	if err != nil {
		return Explain(err)
	}
	c.compare(name, "number of valves", &seen, new(float64(s.seen)))
	c.compare(name, "number of valves taken again", &retaken, new(float64(s.retaken)))
	c.compare(name, "probability that cleaning is due", due, s.due)
	return nil
}

// checkCylinders holds the figures of the cylinders against the results, and those before a cleaning against the
// inspection that they were taken from.
func (a *Archive) checkCylinders(
	ctx context.Context, c *Checked, id int64, name string, graded *engine.Graded, s sums,
) error {
	type row struct {
		number                  int
		worst, dark, was, prior *float64
		wasDark, priorDark      *float64
	}
	all, err := list(ctx, a.db, func(found *sql.Rows) (r row, err error) {
		err = found.Scan(&r.number, &r.worst, &r.dark, &r.was, &r.wasDark, &r.prior, &r.priorDark)
		return r, err
	}, `SELECT c.cylinder, c.worst, c.dark, c.was, c.was_dark, b.worst, b.dark
		FROM cylinder c JOIN inspection i ON i.id = c.inspection
		LEFT JOIN cylinder b ON b.inspection = i.prior AND b.cylinder = c.cylinder WHERE c.inspection = $1`, id)
	if err != nil {
		return err
	}
	if len(all) != len(graded.Engine.Cylinders) {
		c.fault("%s: %d cylinders of %d are there", name, len(all), len(graded.Engine.Cylinders))
		return nil
	}
	for _, r := range all {
		of := fmt.Sprintf("%s cylinder %d", name, r.number)
		if r.number < 1 || r.number > len(all) {
			c.fault("%s: the engine has no such cylinder", of)
			continue
		}
		c.compare(of, "deposit index", r.worst, known(graded.Engine.Cylinders[r.number-1].Index.Value))
		c.compare(of, "dark deposit", r.dark, s.darkOf[r.number].value())
		if r.was != nil {
			c.compare(of, "deposit index before the cleaning", r.was, r.prior)
		}
		if r.wasDark != nil {
			c.compare(of, "dark deposit before the cleaning", r.wasDark, r.priorDark)
		}
	}
	return nil
}

// checkCleanings sums up again what each method took off, over all inspections, those of forgotten vehicles among them.
func (a *Archive) checkCleanings(ctx context.Context, c *Checked, mend bool) error {
	type row struct {
		inspection   int64
		shop, method string
		kept, made   [5]*float64
	}
	all, err := list(ctx, a.db, func(found *sql.Rows) (r row, err error) {
		places := []any{&r.inspection, &r.shop, &r.method}
		for n := range r.kept {
			places = append(places, &r.kept[n], &r.made[n])
		}
		return r, found.Scan(places...)
	}, `SELECT COALESCE(k.inspection, m.inspection), COALESCE(k.shop, m.shop), COALESCE(k.method, m.method), k.cylinders, m.cylinders, k.was, m.was,
			k.gone, m.gone, k.was_dark, m.was_dark, k.gone_dark, m.gone_dark
		FROM cleaning k FULL JOIN (`+cleanings+byCleaning+`) m ON m.inspection = k.inspection AND m.method = k.method
		ORDER BY 1, 3`, least)
	if err != nil {
		return err
	}
	for _, r := range all {
		for n, what := range []string{"number of cylinders", "deposit index before", "deposit index gone", "dark deposit before",
			"dark deposit gone"} {
			if same(r.kept[n], r.made[n], sameSum) {
				continue
			}
			fault := fmt.Sprintf("inspection %d, cleaned by %q: the %s is %s, and its cylinders give %s",
				r.inspection, r.method, what, shown(r.kept[n]), shown(r.made[n]))
			err := a.amend(ctx, c, mend, r.shop, fault, func(w writer) error { return w.cleaning(r.inspection) })
			if err != nil {
				return err
			}
			if mend {
				break
			}
		}
	}
	return nil
}

func gradeOf(g *engine.Graded) *int {
	if of := grade.Of(g.Engine.Worst, grade.Probabilities{}); of != nil {
		return &of.Value
	}
	return nil
}

func asFloat(n *int) *float64 {
	if n == nil {
		return nil
	}
	return new(float64(*n))
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

// checkColumns holds the columns of results against the records that they are taken from.
func (a *Archive) checkColumns(ctx context.Context, c *Checked, id int64, name string) error {
	type row struct {
		worth, dark *float64
		status      string
		packed      []byte
	}
	all, err := list(ctx, a.db, func(found *sql.Rows) (r row, err error) {
		err = found.Scan(&r.worth, &r.dark, &r.status, &r.packed)
		return r, err
	}, `SELECT worth, dark, status, record FROM result WHERE record IS NOT NULL
		AND photo IN (SELECT photo FROM shot WHERE inspection = $1)`, id)
	if err != nil {
		return err
	}
	for _, r := range all {
		record, text, err := unpackText(r.packed)
		if err != nil {
			c.fault("%s: %v", name, err)
			continue
		}
		f := figuresOf(record, text)
		if !same(r.worth, f.worth, sameSum) || !same(r.dark, f.dark, sameSum) || r.status != string(record.Status) {
			c.fault("%s: a result of %s says %s, and its row %s", name, record.Version, shown(f.worth), shown(r.worth))
		}
	}
	return nil
}
