package archive

import (
	"context"
	"database/sql"
	"math"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Statistics are what all inspections that a filter takes say together. Intervals are of 95 %.
type Statistics struct {
	Inspections int `json:"inspections"`
	Vehicles    int `json:"vehicles"`
	// Unit is that of the bands.
	Unit        inspection.Unit `json:"odometer_unit"`
	Methods     []Method        `json:"methods"`
	Families    []Band          `json:"families"`
	Years       []Year          `json:"years"`
	Technicians []Technician    `json:"technicians"`
}

// Method is what a way of cleaning removed: the share of dark deposit, as the mean of a cylinder's photos, and of the
// deposit index of its worst valve, that was gone after it, in percent, over the cylinders that had grade 2 or more before.
//
// It is a ratio of sums, and its interval that of a ratio estimator over engines (Cochran, Sampling Techniques, 3rd
// edition 1977, section 6.4), with Student's t: cylinders of one engine are cleaned by one pair of hands. It ends at 100 %,
// for more than there was cannot be gone; it has no lower bound, for there may be more than before. One
// engine has none, nor have several that come out alike, all bare perhaps: the next one may not.
type Method struct {
	// Name is as it was written last; capitals and small letters make no other method.
	Name      string          `json:"method"`
	Engines   int             `json:"engines"`
	Cylinders int             `json:"cylinders"`
	Index     measure.Written `json:"index_removed_percent"`
	Dark      measure.Written `json:"dark_removed_percent"`
}

// Band are the inspections of an engine family within 50 000 km of odometer, or 30 000 mi, those of cleaned engines left out.
type Band struct {
	Family string `json:"engine_family"`
	// From and To are its ends in Statistics.Unit, the latter in the next band.
	From int `json:"from"`
	To   int `json:"to"`
	// Grades counts the inspections by the grade of the worst cylinder, 0 to 4. Index is the mean of the worst cylinders of
	// so many (Measured), Dark that of all photos.
	Grades   [5]int   `json:"grades"`
	Measured int      `json:"inspections_measured"`
	Index    *float64 `json:"index_mean"`
	Dark     *float64 `json:"dark_mean"`
}

// bandwidths are the widths of a Band, and how a statement counts the bands below an inspection. Readings are kept in whole
// kilometres: half a kilometre more lets one at the very beginning of a band of miles be in it.
var bandwidths = map[inspection.Unit]struct {
	width int
	bands string
}{
	inspection.Kilometres: {50_000, "i.km / 50000"},
	inspection.Miles:      {30_000, "(i.km * 1000 + 500) / 48280320"}, // 30 000 mi in metres
}

// Year are the inspections of a year. The means are of those Measured, cleaned engines left out: Index of their worst
// cylinders, Dark of all their photos.
type Year struct {
	Year        int      `json:"year"`
	Inspections int      `json:"inspections"`
	Photos      int      `json:"photos"`
	Refused     int      `json:"refused"`
	Measured    int      `json:"inspections_measured"`
	Index       *float64 `json:"index_mean"`
	Dark        *float64 `json:"dark_mean"`
}

// Technician is somebody against the net: of all photos those that the net refused, of all valves those taken more than
// once, and the grades that were overruled, with the mean of grade by hand less grade measured.
//
// The intervals of shares are those of measure.Wilson.
type Technician struct {
	Name        string          `json:"technician"`
	Inspections int             `json:"inspections"`
	Photos      int             `json:"photos"`
	Refused     measure.Written `json:"refused_percent"`
	Valves      int             `json:"valves"`
	Retaken     measure.Written `json:"retaken_percent"`
	Overruled   int             `json:"overruled"`
	Difference  *float64        `json:"overruled_grades_mean"`
}

// least is the deposit index from which something is there to be removed: that of grade 2.
const least = 15

// Statistics sums up the inspections that a filter takes, as they are at one moment. Distances are in the unit, or where
// it is "" in that of the inspection added last.
func (a *Archive) Statistics(ctx context.Context, f Filter, unit inspection.Unit) (*Statistics, error) {
	s := Statistics{Unit: unit}
	err := a.atOneMoment(ctx, func(tx *sql.Tx) (err error) {
		if s.Unit == "" {
			if s.Unit, err = lastUnit(ctx, tx); err != nil {
				return err
			}
		}
		if s.Methods, err = methodsOf(ctx, tx, f); err != nil {
			return err
		}
		if s.Families, err = familiesOf(ctx, tx, f, s.Unit); err != nil {
			return err
		}
		if s.Years, err = yearsOf(ctx, tx, f); err != nil {
			return err
		}
		if err = s.count(ctx, tx, f); err != nil {
			return err
		}
		s.Technicians, err = techniciansOf(ctx, tx, f)
		return err
	})
	if err != nil {
		return nil, err
	}
	return &s, nil
}

// lastUnit is the unit of the inspection added last, kilometres where there is none.
func lastUnit(ctx context.Context, tx *sql.Tx) (inspection.Unit, error) {
	units, err := list(ctx, tx, func(row *sql.Rows) (unit inspection.Unit, err error) {
		err = row.Scan(&unit)
		return unit, err
	}, `SELECT unit FROM inspection WHERE day IS NOT NULL ORDER BY id DESC LIMIT 1`)
	if err != nil || len(units) == 0 {
		return inspection.Kilometres, err
	}
	return units[0], nil
}

// count counts the vehicles; those of all inspections are all. The years have the inspections already.
func (s *Statistics) count(ctx context.Context, tx *sql.Tx, f Filter) error {
	for _, year := range s.Years {
		s.Inspections += year.Inspections
	}
	where, args := f.where()
	statement := `SELECT COUNT(*) FROM (SELECT 1 FROM ` + f.inspections() + ` WHERE ` + where + ` GROUP BY i.vehicle) s`
	if len(f.conditions) == 0 {
		statement = `SELECT COUNT(*) FROM vehicle`
	}
	return tx.QueryRowContext(ctx, statement, args...).Scan(&s.Vehicles)
}

// ratio are the sums over engines that a ratio and its interval need: of x, y and their products.
type ratio struct{ n, x, y, xx, xy, yy sql.Null[float64] }

// percent is 100 y/x with its interval.
func (r ratio) percent() measure.Figure {
	n, x := r.n.V, r.x.V
	if n < 1 || x <= 0 {
		return measure.Unmeasured()
	}
	share := r.y.V / x
	figure := measure.Figure{Value: 100 * share, Low: math.NaN(), High: math.NaN()}
	squares := r.yy.V - 2*share*r.xy.V + share*share*r.xx.V
	const rounding = 1e-9
	if n > 1 && squares > rounding*r.xx.V {
		reach := 100 * measure.Student975(n-1) * math.Sqrt(n/(n-1)*squares) / x
		figure.Low, figure.High = figure.Value-reach, math.Min(figure.Value+reach, 100)
	}
	return figure
}

func methodsOf(ctx context.Context, tx *sql.Tx, f Filter) ([]Method, error) {
	where, args := f.whereCleaned()
	var last []int64 // the inspection that speaks of each last
	methods, err := list(ctx, tx, func(row *sql.Rows) (m Method, err error) {
		var index, dark ratio
		var inspection int64
		err = row.Scan(
			&m.Name,
			&inspection,
			&m.Engines,
			&m.Cylinders,
			&index.x,
			&index.y,
			&index.xx,
			&index.xy,
			&index.yy,
			&dark.n,
			&dark.x,
			&dark.y,
			&dark.xx,
			&dark.xy,
			&dark.yy,
		)
		index.n.V = float64(m.Engines)
		m.Index, m.Dark = index.percent().Write(1), dark.percent().Write(1)
		last = append(last, inspection)
		return m, err
	}, `SELECT c.method, MAX(c.inspection), COUNT(*), SUM(c.cylinders), SUM(c.was), SUM(c.gone), SUM(c.was * c.was), SUM(c.was * c.gone),
			SUM(c.gone * c.gone), COUNT(c.was_dark), SUM(c.was_dark), SUM(c.gone_dark), SUM(c.was_dark * c.was_dark),
			SUM(c.was_dark * c.gone_dark), SUM(c.gone_dark * c.gone_dark)
		FROM `+f.cleanings()+` WHERE `+where+` GROUP BY c.method ORDER BY c.method`, args...)
	if err != nil {
		return nil, err
	}
	for n := range methods {
		const asWritten = `SELECT COALESCE(MAX(method), $2) FROM cylinder WHERE inspection = $1 AND LOWER(method) = $2`
		if err := tx.QueryRowContext(ctx, asWritten, last[n], methods[n].Name).Scan(&methods[n].Name); err != nil {
			return nil, err
		}
	}
	return methods, nil
}

func familiesOf(ctx context.Context, tx *sql.Tx, f Filter, unit inspection.Unit) ([]Band, error) {
	where, args := f.where()
	of := bandwidths[unit]
	type part struct {
		family         string
		band, grade, n int
		index, dark    sql.Null[float64]
		withDark       int
	}
	parts, err := list(ctx, tx, func(row *sql.Rows) (p part, err error) {
		err = row.Scan(&p.family, &p.band, &p.grade, &p.n, &p.index, &p.dark, &p.withDark)
		return p, err
	}, `SELECT v.family, `+of.bands+`, i.grade, COUNT(*), SUM(i.worst), SUM(i.dark), COUNT(i.dark)
		FROM `+f.inspections("v")+` WHERE i.stage <> 'after' AND i.grade IS NOT NULL AND `+where+`
		GROUP BY 1, 2, 3 ORDER BY 1, 2, 3`, args...)
	if err != nil {
		return nil, err
	}
	var bands []Band
	var index, dark mean
	for n, p := range parts {
		if n == 0 || p.family != parts[n-1].family || p.band != parts[n-1].band {
			bands = append(bands, Band{Family: p.family, From: p.band * of.width, To: (p.band + 1) * of.width})
			index, dark = mean{}, mean{}
		}
		b := &bands[len(bands)-1]
		b.Grades[p.grade], b.Measured = p.n, b.Measured+p.n
		index, dark = mean{index.sum + p.index.V, index.n + p.n}, mean{dark.sum + p.dark.V, dark.n + p.withDark}
		b.Index, b.Dark = index.value(), dark.value()
	}
	return bands, nil
}

func yearsOf(ctx context.Context, tx *sql.Tx, f Filter) ([]Year, error) {
	where, args := f.where()
	return list(ctx, tx, func(row *sql.Rows) (y Year, err error) {
		err = row.Scan(&y.Year, &y.Inspections, &y.Photos, &y.Refused, &y.Measured, &y.Index, &y.Dark)
		return y, err
	}, `SELECT i.year, COUNT(*), SUM(i.photos), SUM(i.refused),
			COUNT(CASE WHEN i.stage <> 'after' THEN i.dark END), AVG(CASE WHEN i.stage <> 'after' THEN i.worst END),
			AVG(CASE WHEN i.stage <> 'after' THEN i.dark END)
		FROM `+f.inspections()+` WHERE `+where+` GROUP BY i.year ORDER BY i.year`, args...)
}

func techniciansOf(ctx context.Context, tx *sql.Tx, f Filter) ([]Technician, error) {
	where, args := f.where()
	all, err := list(ctx, tx, func(row *sql.Rows) (t Technician, err error) {
		var refused, retaken int
		err = row.Scan(&t.Name, &t.Inspections, &t.Photos, &refused, &t.Valves, &retaken)
		t.Refused, t.Retaken = percentOf(refused, t.Photos), percentOf(retaken, t.Valves)
		return t, err
	}, `SELECT i.technician, COUNT(*), SUM(i.photos), SUM(i.refused), SUM(i.seen), SUM(i.retaken)
		FROM `+f.inspections()+` WHERE `+where+` GROUP BY i.technician ORDER BY i.technician`, args...)
	if err != nil {
		return nil, err
	}
	type hand struct {
		name       string
		n          int
		difference *float64
	}
	hands, err := list(ctx, tx, func(row *sql.Rows) (h hand, err error) {
		err = row.Scan(&h.name, &h.n, &h.difference)
		return h, err
	}, `SELECT i.technician, COUNT(*), AVG(CAST(o.grade - o.measured AS DOUBLE PRECISION))
		FROM `+f.inspections()+` JOIN overruled o ON o.inspection = i.id WHERE `+where+` GROUP BY i.technician`, args...)
	for _, h := range hands {
		for n := range all {
			if all[n].Name == h.name {
				all[n].Overruled, all[n].Difference = h.n, h.difference
			}
		}
	}
	return all, err
}

func percentOf(some, of int) measure.Written { return measure.Wilson(some, of).Scaled(100).Write(1) }
