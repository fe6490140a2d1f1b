package archive

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

// Overruled is a grade that somebody put beside the measured one, which it never replaces.
type Overruled struct {
	Cylinder int    `json:"cylinder"`
	Valve    int    `json:"valve"`
	Measured *int   `json:"measured"`
	Grade    int    `json:"grade"`
	Who      string `json:"who"`
	Why      string `json:"why"`
	Noted    string `json:"noted"`
}

// ErrOverruling is wrapped by errors about a grade that cannot be noted, because of what is said of it.
var ErrOverruling = errors.New("nothing is noted")

// Overrule notes another grade for a valve of an inspection. Who and why must be said.
func (a *Archive) Overrule(ctx context.Context, inspection int64, o Overruled) error {
	if strings.TrimSpace(o.Who) == "" || strings.TrimSpace(o.Why) == "" {
		return fmt.Errorf("%w: who overrules a grade, and why, must be said", ErrOverruling)
	}
	if o.Grade < 0 || o.Grade >= len(grade.Names()) {
		return fmt.Errorf("%w: grade %d is none of 0 to %d", ErrOverruling, o.Grade, len(grade.Names())-1)
	}
	graded, err := a.Graded(ctx, inspection, "")
	if err != nil {
		return err
	}
	layout := graded.Engine.Inspection.Engine
	if o.Cylinder < 1 || o.Cylinder > layout.Cylinders || o.Valve < 1 || o.Valve > layout.Valves {
		return fmt.Errorf("%w: the engine has no cylinder %d valve %d", ErrOverruling, o.Cylinder, o.Valve)
	}
	var measured *int
	if of := grade.Of(graded.Engine.Cylinders[o.Cylinder-1].Valves[o.Valve-1].Index, grade.Probabilities{}); of != nil {
		measured = &of.Value
	}
	return a.write(ctx, func(w writer) error {
		row := into("overruled", "inspection", "cylinder", "valve", "measured", "grade", "who", "why", "noted")
		row.add(inspection, o.Cylinder, o.Valve, measured, o.Grade, o.Who, o.Why, now())
		_, err := w.insert(row)
		return err
	})
}

// OverruledOf returns what was overruled in an inspection, the earliest first.
func (a *Archive) OverruledOf(ctx context.Context, inspection int64) ([]Overruled, error) {
	return overruledOf(ctx, a.db, inspection)
}

func overruledOf(ctx context.Context, q querier, inspection int64) ([]Overruled, error) {
	return list(ctx, q, func(row *sql.Rows) (o Overruled, err error) {
		err = row.Scan(&o.Cylinder, &o.Valve, &o.Measured, &o.Grade, &o.Who, &o.Why, &o.Noted)
		return o, err
	}, `SELECT cylinder, valve, measured, grade, who, why, noted FROM overruled WHERE inspection = $1 ORDER BY id`, inspection)
}

// overruledBy writes down the grades that the visit's own file gives, unless they are noted already.
func (w writer) overruledBy(v *Visit, id int64) error {
	for _, o := range v.Inspection.Overruled {
		n, err := w.number(
			`SELECT COUNT(*) FROM overruled WHERE inspection = $1 AND cylinder = $2 AND valve = $3 AND grade = $4
			AND who = $5 AND why = $6`,
			id,
			o.Cylinder,
			o.Valve,
			o.Grade,
			o.By,
			o.Reason,
		)
		if err != nil {
			return err
		}
		if n > 0 {
			continue
		}
		var measured *int
		if of := grade.Of(v.Graded.Engine.Cylinders[o.Cylinder-1].Valves[o.Valve-1].Index, grade.Probabilities{}); of != nil {
			measured = &of.Value
		}
		row := into("overruled", "inspection", "cylinder", "valve", "measured", "grade", "who", "why", "noted")
		row.add(id, o.Cylinder, o.Valve, measured, o.Grade, o.By, o.Reason, now())
		if _, err := w.insert(row); err != nil {
			return err
		}
	}
	return nil
}

// lastOf returns the last grade given for each valve, in the order of the engine, as inspection.yaml has it.
func lastOf(all []Overruled) []inspection.Overruled {
	var last []inspection.Overruled
	for _, o := range all {
		last = slices.DeleteFunc(
			last,
			func(e inspection.Overruled) bool { return e.Cylinder == o.Cylinder && e.Valve == o.Valve },
		)
		last = append(
			last,
			inspection.Overruled{Cylinder: o.Cylinder, Valve: o.Valve, Grade: o.Grade, By: o.Who, Reason: o.Why},
		)
	}
	return last
}
