package archive

import (
	"context"
	"database/sql"
	"fmt"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
)

// sameSum is how far two sums of the same numbers may differ.
const sameSum = 1e-6

// checkInspection makes the figures of an inspection again from its results.
func (a *Archive) checkInspection(ctx context.Context, c *Checked, id int64, mend bool) error {
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
		{"lower end of the deposit index", kept.Low, known(graded.Engine.Worst.Low)},
		{"upper end of the deposit index", kept.High, known(graded.Engine.Worst.High)},
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
	if err := a.checkOdds(ctx, c, id, name, graded.Engine.WorstGrades, mend); err != nil {
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

// checkOdds holds the probabilities of the grades against those of the results. That an earlier program did not write
// them is no fault: lists take them from the results.
func (a *Archive) checkOdds(ctx context.Context, c *Checked, id int64, name string, made grade.Probabilities, mend bool) error {
	var shop string
	var text *string
	if err := a.db.QueryRowContext(ctx, `SELECT shop, odds FROM inspection WHERE id = $1`, id).Scan(&shop, &text); err != nil {
		return Explain(err)
	}
	if text == nil && (!made.Known() || !mend) {
		return nil
	}
	if kept := readOdds(text); kept != nil {
		differs := false
		for value := range made {
			differs = differs || !same(&kept[value], &made[value], sameSum)
		}
		if !differs {
			return nil
		}
	}
	fault := name + ": the probabilities of its grades are not those that its results give"
	return a.amend(ctx, c, mend, shop, fault, func(w writer) error {
		return w.do(`UPDATE inspection SET odds = $2 WHERE id = $1`, id, oddsText(made))
	})
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
