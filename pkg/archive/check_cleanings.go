package archive

import (
	"context"
	"database/sql"
	"fmt"
)

// checkPairs finds the inspection before each cleaning again: programs before did not take a routine one for it, so that
// what cleaning removes would be told otherwise of an older archive than of a new one.
func (a *Archive) checkPairs(ctx context.Context, c *Checked, mend bool) error {
	states, err := cleanedStates(ctx, a.db, "")
	if err != nil {
		return err
	}
	for _, s := range states {
		before, err := s.before(ctx, a.db)
		if err != nil {
			return err
		}
		if before == s.prior {
			continue
		}
		fault := fmt.Sprintf("inspection %d: the one before its cleaning is %s, and %s is kept", s.id, orNone(before), orNone(s.prior))
		if err := a.amend(ctx, c, mend, s.shop, fault, func(w writer) error { return w.pair(s.vehicle) }); err != nil {
			return err
		}
	}
	return nil
}

func orNone(inspection int64) string {
	if inspection == 0 {
		return "none"
	}
	return fmt.Sprintf("inspection %d", inspection)
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
