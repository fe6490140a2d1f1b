package archive

import (
	"context"
	"database/sql"
)

// Change is what another version says of one photo.
type Change struct {
	Photo     string   `json:"photo_sha256"`
	Valve     int      `json:"valve_in_photo"`
	Before    *float64 `json:"index_before"`
	After     *float64 `json:"index_after"`
	GradeWas  *int     `json:"grade_before"`
	GradeIs   *int     `json:"grade_after"`
	StatusWas string   `json:"status_before"`
	StatusIs  string   `json:"status_after"`
}

// Changes sums up how a version differs from another on the valves that both have seen.
type Changes struct {
	Valves int `json:"valves"`
	// Index is the mean change of the deposit index, Apart the mean distance; nil when nothing was scored by both.
	Index *float64 `json:"index_change_mean"`
	Apart *float64 `json:"index_distance_mean"`
	// Grades counts the valves with another grade, Refused those that only the later refuses, Judged those that only
	// the earlier refuses.
	Grades  int      `json:"other_grade"`
	Refused int      `json:"refused_now"`
	Judged  int      `json:"judged_now"`
	Most    []Change `json:"largest"`
}

// mostChanges is how many of the largest changes are told.
const mostChanges = 20

const bothVersions = ` FROM result a JOIN version an ON an.id = a.version JOIN result b ON b.photo = a.photo AND b.marks = a.marks
	AND b.valve = a.valve JOIN version bn ON bn.id = b.version WHERE an.name = $1 AND bn.name = $2`

// Compare says what a later version says otherwise than an earlier one.
func (a *Archive) Compare(ctx context.Context, earlier, later string) (*Changes, error) {
	c := &Changes{}
	err := a.db.QueryRowContext(ctx, `SELECT COUNT(*), AVG(b.worth - a.worth), AVG(ABS(b.worth - a.worth)),
			COALESCE(SUM(CASE WHEN a.grade <> b.grade THEN 1 ELSE 0 END), 0),
			COALESCE(SUM(CASE WHEN a.status = 'scored' AND b.status = 'refused' THEN 1 ELSE 0 END), 0),
			COALESCE(SUM(CASE WHEN a.status = 'refused' AND b.status = 'scored' THEN 1 ELSE 0 END), 0)`+bothVersions,
		earlier, later).Scan(&c.Valves, &c.Index, &c.Apart, &c.Grades, &c.Refused, &c.Judged)
	if err != nil {
		return nil, Explain(err)
	}
	c.Most, err = list(ctx, a.db, func(row *sql.Rows) (one Change, err error) {
		err = row.Scan(
			&one.Photo,
			&one.Valve,
			&one.Before,
			&one.After,
			&one.GradeWas,
			&one.GradeIs,
			&one.StatusWas,
			&one.StatusIs,
		)
		return one, err
	}, `SELECT COALESCE((SELECT hash FROM photo p WHERE p.id = a.photo), ''), a.valve, a.worth, b.worth, a.grade, b.grade,
			a.status, b.status`+bothVersions+` AND a.worth IS NOT NULL AND b.worth IS NOT NULL
		ORDER BY ABS(b.worth - a.worth) DESC, a.photo, a.valve LIMIT $3`, earlier, later, mostChanges)
	return c, err
}

// Versions returns the versions of program and net that have results, with how many.
func (a *Archive) Versions(ctx context.Context) (map[string]int, error) {
	type one struct {
		name string
		n    int
	}
	all, err := list(ctx, a.db, func(row *sql.Rows) (v one, err error) {
		err = row.Scan(&v.name, &v.n)
		return v, err
	}, `SELECT n.name, COUNT(*) FROM result r JOIN version n ON n.id = r.version GROUP BY n.name`)
	counts := map[string]int{}
	for _, v := range all {
		counts[v.name] = v.n
	}
	return counts, err
}
