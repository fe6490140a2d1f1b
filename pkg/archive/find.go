package archive

import (
	"cmp"
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"github.com/xrash/smetrics"
)

// Vehicle is one in the archive.
type Vehicle struct {
	ID int64 `json:"id"`
	// Shop is the login that added it, "" in a file.
	Shop string `json:"shop,omitempty"`
	// Reference is the shop's own name; it is empty once forgotten, as are Plate and VIN.
	Reference string   `json:"vehicle"`
	Plate     string   `json:"plate,omitempty"`
	VIN       string   `json:"vin,omitempty"`
	VINCheck  VINCheck `json:"vin_check,omitempty"`
	Family    string   `json:"engine_family,omitempty"`
	Cylinders int      `json:"cylinders"`
	Valves    int      `json:"valves"`
}

// Found is a vehicle that fits what was looked for.
type Found struct {
	Vehicle
	// Visits counts its inspections; Last is the day of the last one, of which the grade is.
	Visits int    `json:"inspections"`
	Last   string `json:"last"`
	OfWorst
	// Inspections are those that fit by job or wish, none where the vehicle itself fits.
	Inspections []int64 `json:"fitting,omitempty"`
	// Slips is how many letters differ from what was looked for.
	Slips int `json:"slips"`

	last int64 // the key of the last inspection, 0 for none
}

// MostFound is how many vehicles are returned at most.
const MostFound = 50

// Find returns the vehicles that fit a text, the best first: by plate, VIN (or the end of it), name, job and the
// customer's wish. Every word of the text must fit one of the vehicle's, with its beginning or with one slip: a letter
// too many, too few or wrong, or two that changed places. Capitals, blanks, signs and accents do not count, and O is 0,
// I and L are 1.
func (a *Archive) Find(ctx context.Context, text string) ([]Found, error) {
	words := wordsOf(text)
	if len(words) == 0 {
		return nil, nil
	}
	fits, err := a.fitting(ctx, plain(text), len(words) == 1) // a plate with its blanks is one word
	if err != nil {
		return nil, err
	}
	if len(words) > 1 {
		each, err := a.fitting(ctx, words[0], true)
		if err != nil {
			return nil, err
		}
		for _, word := range words[1:] {
			more, err := a.fitting(ctx, word, true)
			if err != nil {
				return nil, err
			}
			each = both(each, more)
		}
		for id, f := range each {
			if better, known := fits[id]; !known || f.slips < better.slips {
				fits[id] = f
			}
		}
	}
	return a.found(ctx, fits)
}

// fit is how a vehicle fits.
type fit struct {
	slips       int
	begins      bool // it is the beginning alone that fits
	inspections []int64
}

// both keeps the vehicles that are in two sets.
func both(a, b map[int64]fit) map[int64]fit {
	kept := map[int64]fit{}
	for id, one := range a {
		if other, known := b[id]; known {
			kept[id] = fit{
				one.slips + other.slips,
				one.begins || other.begins,
				append(one.inspections, other.inspections...),
			}
		}
	}
	return kept
}

// mostWordsLike is how many words of the archive are taken for one that was looked for.
const mostWordsLike = 200

// fitting returns the vehicles that mention a word, or one like it.
func (a *Archive) fitting(ctx context.Context, word string, begins bool) (map[int64]fit, error) {
	if letters := []rune(word); len(letters) > longestWord {
		word = string(letters[:longestWord])
	}
	like, err := a.wordsLike(ctx, word, begins)
	if err != nil || len(like) == 0 {
		return map[int64]fit{}, err
	}
	ids := make([]any, 0, len(like))
	for id := range like {
		ids = append(ids, id)
	}
	type said struct{ vehicle, inspection, word int64 }
	mentions, err := list(ctx, a.db, func(row *sql.Rows) (m said, err error) {
		err = row.Scan(&m.vehicle, &m.inspection, &m.word)
		return m, err
	}, `SELECT vehicle, inspection, word FROM mention WHERE word IN `+places(1, len(ids))+` LIMIT 5000`, ids...)
	if err != nil {
		return nil, err
	}
	fits := map[int64]fit{}
	for _, m := range mentions {
		f, known := fits[m.vehicle]
		if w := like[m.word]; !known || w.slips < f.slips || w.slips == f.slips && f.begins && !w.begins {
			f.slips, f.begins = w.slips, w.begins
		}
		if m.inspection != 0 {
			f.inspections = append(f.inspections, m.inspection)
		}
		fits[m.vehicle] = f
	}
	return fits, nil
}

// shortestSlip is the length from which a slip is forgiven: one letter of three says little.
const shortestSlip = 4

// wordsLike returns the words of the archive that are the same, begin so, or differ by a slip.
func (a *Archive) wordsLike(ctx context.Context, word string, begins bool) (map[int64]fit, error) {
	type known struct {
		id   int64
		text string
	}
	read := func(row *sql.Rows) (k known, err error) {
		err = row.Scan(&k.id, &k.text)
		return k, err
	}
	like := map[int64]fit{}
	keys := []any{}
	for _, gap := range gaps(word) {
		keys = append(keys, gap)
	}
	if len([]rune(word)) < shortestSlip {
		keys = keys[:1]
	}
	near, err := list(ctx, a.db, read, `SELECT DISTINCT w.id, w.word FROM near n JOIN word w ON w.id = n.word
		WHERE n.gap IN `+places(1, len(keys))+` LIMIT 2000`, keys...)
	if err != nil {
		return nil, err
	}
	for _, k := range near {
		slips := slipsBetween(word, k.text)
		if slips == 0 || slips == 1 && len([]rune(word)) >= shortestSlip {
			like[k.id] = fit{slips: slips}
		}
	}
	if !begins || len([]rune(word)) < 2 {
		return like, nil
	}
	longer, err := list(
		ctx,
		a.db,
		read,
		fmt.Sprintf(`SELECT id, word FROM word WHERE word > $1 AND word < $2 ORDER BY word LIMIT %d`,
			mostWordsLike),
		word,
		word+"\U0010ffff",
	)
	for _, k := range longer {
		like[k.id] = fit{begins: true}
	}
	return like, err
}

// slipsBetween counts the letters that differ; two neighbours that changed places are one.
func slipsBetween(a, b string) int {
	if slips := smetrics.WagnerFischer(a, b, 1, 1, 1); slips != 2 || len(a) != len(b) {
		return slips
	}
	for n := 0; n+1 < len(a); n++ {
		if a[n] != b[n] && a[:n]+string(a[n+1])+string(a[n])+a[n+2:] == b {
			return 1
		}
	}
	return 2
}

// found looks the vehicles up, the best first: fewer slips, whole words before beginnings, later visits before earlier.
func (a *Archive) found(ctx context.Context, fits map[int64]fit) ([]Found, error) {
	ids := make([]int64, 0, len(fits))
	for id := range fits {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(x, y int64) int {
		return cmp.Or(cmp.Compare(rank(fits[x]), rank(fits[y])), cmp.Compare(y, x))
	})
	ids = ids[:min(MostFound, len(ids))]
	if len(ids) == 0 {
		return nil, nil
	}
	args := make([]any, len(ids))
	for n, id := range ids {
		args[n] = id
	}
	all, err := list(ctx, a.db, scanFound, foundColumns+` WHERE v.id IN `+places(1, len(args)), args...)
	if err != nil {
		return nil, err
	}
	for n := range all {
		if err := all[n].complete(ctx, a, all[n].last); err != nil {
			return nil, err
		}
		f := fits[all[n].ID]
		slices.Sort(f.inspections)
		all[n].Slips, all[n].Inspections = f.slips, slices.Compact(f.inspections)
	}
	slices.SortFunc(all, func(x, y Found) int {
		return cmp.Or(
			cmp.Compare(rank(fits[x.ID]), rank(fits[y.ID])),
			strings.Compare(y.Last, x.Last),
			cmp.Compare(x.ID, y.ID),
		)
	})
	return all, nil
}

func rank(f fit) int {
	if f.begins {
		return 2*f.slips + 1
	}
	return 2 * f.slips
}

const foundColumns = `SELECT v.id, v.shop, COALESCE(v.reference, ''), COALESCE(v.plate, ''), COALESCE(v.vin, ''), v.vin_check,
	v.family, v.cylinders, v.valves,
	(SELECT COUNT(*) FROM inspection i WHERE i.vehicle = v.id), COALESCE(l.day, ''),
	(SELECT COUNT(c.worst) FROM cylinder c WHERE c.inspection = l.id), l.grade, l.odds, l.worst, COALESCE(l.id, 0)
	FROM vehicle v LEFT JOIN inspection l ON l.id = (SELECT i.id FROM inspection i WHERE i.vehicle = v.id
		ORDER BY i.day DESC, i.km DESC, ` + stageOrder + ` DESC, i.id DESC LIMIT 1)`

func scanFound(row *sql.Rows) (f Found, err error) {
	var odds *string
	err = row.Scan(&f.ID, &f.Shop, &f.Reference, &f.Plate, &f.VIN, &f.VINCheck, &f.Family, &f.Cylinders, &f.Valves,
		&f.Visits, &f.Last, &f.CylindersGraded, &f.Grade, &odds, &f.Worst, &f.last)
	f.Odds = readOdds(odds)
	return f, err
}
