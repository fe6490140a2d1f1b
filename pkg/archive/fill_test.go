package archive

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// Fill puts so many invented inspections into an empty archive, past Add, which would take hours for a million: of each
// vehicle a routine one, one before a cleaning and one after it, with eight photos each.
func Fill(ctx context.Context, a *Archive, inspections int) error {
	const step = 600 // a multiple of three, for a transaction
	for begin := 0; begin < inspections; begin += step {
		if err := a.fillSome(ctx, begin, min(begin+step, inspections)); err != nil {
			return err
		}
	}
	format, _, err := a.format(ctx)
	if err != nil {
		return err
	}
	return a.write(ctx, func(w writer) error {
		if format == Format {
			if err := w.do(sumCleanings+byCleaning, least); err != nil {
				return err
			}
		}
		if err := a.renumber(w); err != nil || !a.location.Shared() {
			return err
		}
		return w.do("ANALYZE")
	})
}

// fillSome writes some of the inspections in a transaction.
func (a *Archive) fillSome(ctx context.Context, begin, end int) error {
	conn, err := a.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }() // after Commit it does nothing
	w := a.writer(ctx, tx, a.shop)
	insert := func(r *rows) error {
		_, err := w.insert(r)
		return err
	}
	if a.location.Shared() {
		// The references between rows that are made together need no check, and PostgreSQL copies faster than it inserts.
		if err := w.do(`SET LOCAL session_replication_role = replica`); err != nil {
			return err
		}
		insert = func(r *rows) error { return w.copy(conn, r) }
	}
	if err := w.fill(begin, end, insert); err != nil {
		return err
	}
	return tx.Commit()
}

// copy is insert by COPY, over the connection that the writer's transaction is on.
func (w writer) copy(conn *sql.Conn, r *rows) error {
	of := len(r.columns)
	return conn.Raw(func(driver any) error {
		_, err := driver.(*stdlib.Conn).Conn().CopyFrom(w.ctx, pgx.Identifier{r.table}, append([]string{"shop"}, r.columns...),
			pgx.CopyFromSlice(len(r.values)/of, func(n int) ([]any, error) {
				return append([]any{w.shop}, r.values[n*of:(n+1)*of]...), nil
			}))
		return err
	})
}

// Multiply makes a shared archive so many times as large by copies of what Fill put into it, with other keys and words.
func Multiply(ctx context.Context, a *Archive, times int) error {
	for _, statement := range []string{
		`INSERT INTO vehicle (id, reference, plain, plate, vin, vin_check, family, cylinders, valves)
			SELECT id + k * 100000000, reference || '~' || k, plain || '~' || k, plate, vin, vin_check, family, cylinders, valves`,
		`INSERT INTO inspection (id, vehicle, day, year, stage, odometer, unit, km, technician, job, wish, notes, banks, source,
				content, marked, version, prior, worst, worst_low, worst_high, grade, dark, due, photos, refused, seen, retaken, added)
			SELECT id + k * 100000000, vehicle + k * 100000000, day, year, stage, odometer, unit, km, technician, job, wish, notes,
				banks, source, content, marked, version, prior + k * 100000000, worst, worst_low, worst_high, grade, dark, due,
				photos, refused, seen, retaken, added`,
		`INSERT INTO cylinder SELECT shop, inspection + k * 100000000, cylinder, method, worst, dark, was, was_dark`,
		`INSERT INTO cleaning SELECT shop, inspection + k * 100000000, method, cylinders, was, gone, was_dark, gone_dark`,
		`INSERT INTO photo (id, hash, bytes) SELECT id + k * 100000000, md5(hash || k) || md5(k || hash), bytes`,
		`INSERT INTO shot SELECT shop, inspection + k * 100000000, place, photo + k * 100000000, file, cylinder, valve, from_left, marks,
			left_out_by, left_out_why`,
		`INSERT INTO result SELECT shop, photo + k * 100000000, version, marks, valve, valves, status, grade, worth, worth_low, worth_high,
			dark, due, record, made`,
		`INSERT INTO word (id, word) SELECT id + k * 100000000, word || '~' || k`,
		`INSERT INTO near SELECT shop, gap + k, word + k * 100000000`,
		`INSERT INTO mention SELECT shop, word + k * 100000000, vehicle + k * 100000000,
			CASE inspection WHEN 0 THEN 0 ELSE inspection + k * 100000000 END, said`,
	} {
		table := strings.Fields(statement)[2]
		err := a.write(ctx, func(w writer) error {
			if err := w.do(`SET LOCAL session_replication_role = replica`); err != nil {
				return err
			}
			return w.do(statement+` FROM `+table+`, generate_series(1, $1::bigint - 1) k`, times)
		})
		if err != nil {
			return err
		}
	}
	return a.write(ctx, func(w writer) error { return errors.Join(a.renumber(w), w.do("ANALYZE")) })
}

// Connect opens the database of an archive, as it is.
var Connect = connect

// Make makes an empty archive of an earlier format, and FormatOf returns an archive's, 0 where it has no tables yet.
func Make(ctx context.Context, l Location, format int) error {
	db, err := connect(l)
	if err != nil {
		return err
	}
	defer db.Close()
	a := &Archive{db: db, location: l, program: "0.9.0"}
	return a.migrate(ctx, format)
}

func FormatOf(ctx context.Context, l Location) (int, error) {
	db, err := connect(l)
	if err != nil {
		return 0, err
	}
	defer db.Close()
	format, _, err := (&Archive{db: db, location: l}).format(ctx)
	return format, err
}

// FillOld fills an archive of an earlier format, whose rows are those of today.
func FillOld(ctx context.Context, l Location, inspections int) error {
	db, err := connect(l)
	if err != nil {
		return err
	}
	defer db.Close()
	return Fill(ctx, &Archive{db: db, location: l, program: "0.9.0"}, inspections)
}

// Invented data of vehicle n.
func Plate(n int) string {
	return fmt.Sprintf("%c%c %d %c", 'A'+n%26, 'A'+n/26%26, 100+n/676%900, 'A'+n/7%26)
}
func VIN(n int) string {
	return fmt.Sprintf("1M8GDM9A%c%c%c%06d", 'A'+n%8, 'A'+n/8%8, 'A'+n/64%8, n%1_000_000)
}
func Job(n int) string { return fmt.Sprintf("J%d", 1_000_000+n) }

var (
	makes  = []string{"blue", "red", "green", "white", "black", "silver", "grey", "brown"}
	bodies = []string{"wagon", "van", "saloon", "coupe", "pickup"}
	wishes = []string{
		"rough idle when cold",
		"misfire under load",
		"regular service",
		"loss of power",
		"check engine light",
	}
	methods = []string{"blasting", "soaking", "hand tools", "whip"}
	people  = []string{"Ann", "Bo", "Cid", "Dee", "Eli"}
)

func (w writer) fill(begin, end int, insert func(*rows) error) error {
	random := rand.New(rand.NewPCG(uint64(begin), 1))
	version, err := w.version("1.0.0+net.0123456789ab")
	if err != nil {
		return err
	}
	vehicles := into(
		"vehicle",
		"id",
		"reference",
		"plain",
		"plate",
		"vin",
		"vin_check",
		"family",
		"cylinders",
		"valves",
	)
	visits := into(
		"inspection",
		"id",
		"vehicle",
		"day",
		"year",
		"stage",
		"odometer",
		"unit",
		"km",
		"technician",
		"job",
		"wish",
		"source",
		"content",
		"marked",
		"version",
		"prior",
		"worst",
		"worst_low",
		"worst_high",
		"grade",
		"dark",
		"due",
		"photos",
		"refused",
		"seen",
		"retaken",
		"added",
	)
	cylinders := into("cylinder", "inspection", "cylinder", "method", "worst", "dark", "was", "was_dark")
	photos := into("photo", "id", "hash", "bytes")
	shots := into("shot", "inspection", "place", "photo", "file", "cylinder", "valve", "from_left")
	results := into("result", resultColumns...)
	said := map[[2]int64]mentioned{}
	for n := begin; n < end; n++ {
		vehicle, stage := n/3, []string{"routine", "before", "after"}[n%3]
		if n%3 == 0 {
			name := makes[vehicle%len(makes)] + " " + bodies[vehicle/8%len(bodies)] + fmt.Sprint(" ", vehicle)
			vehicles.add(
				vehicle+1,
				name,
				plainName(name),
				Plate(vehicle),
				VIN(vehicle),
				"wrong",
				fmt.Sprintf("family %d", vehicle%12),
				4,
				2,
			)
			said[[2]int64{int64(vehicle + 1), 0}] = ofVehicle(name, Plate(vehicle), VIN(vehicle))
		}
		said[[2]int64{int64(vehicle + 1), int64(n + 1)}] = ofVisit(Job(n), wishes[n%len(wishes)])
		year := 2015 + vehicle%10
		dirty := 20 + 70*random.Float64()
		km := 20_000 + vehicle%300*1000 + n%3/1*5
		var prior any
		if stage == "after" {
			prior = n
		}
		index := dirty
		if stage == "after" {
			index = dirty * 0.15
		}
		figure := measure.Figure{Value: index, Low: max(0, index-12), High: min(100, index+12)}
		visits.add(
			n+1,
			vehicle+1,
			fmt.Sprintf("%d-%02d-%02d", year, 1+vehicle%12, 1+n%3),
			year,
			stage,
			km,
			"km",
			km,
			people[vehicle%len(people)],
			Job(
				n,
			),
			wishes[n%len(wishes)],
			"",
			"",
			"",
			version,
			prior,
			index,
			figure.Low,
			figure.High,
			grade.Of(figure, grade.Probabilities{}).Value,
			index,
			0.5,
			8,
			random.IntN(2),
			8,
			random.IntN(2),
			now(),
		)
		for c := range 4 {
			var was any
			method := ""
			if stage == "after" {
				was, method = dirty, methods[vehicle%len(methods)]
			}
			cylinders.add(n+1, c+1, method, index, index, was, was)
		}
		packed, err := filledRecord(figure)
		if err != nil {
			return err
		}
		for p := range 8 {
			id := n*8 + p + 1
			photos.add(id, Hash(fmt.Append(nil, id)), 60_000)
			shots.add(n+1, p+1, id, fmt.Sprintf("cyl%d-valve%d.jpg", p/2+1, p%2+1), p/2+1, p%2+1, 0)
			results.add(
				id,
				version,
				"",
				1,
				1,
				"scored",
				grade.Of(figure, grade.Probabilities{}).Value,
				index,
				figure.Low,
				figure.High,
				index,
				0.5,
				packed,
				now(),
			)
		}
	}
	for _, r := range []*rows{vehicles, visits, cylinders, photos, shots, results} {
		if err := insert(r); err != nil {
			return err
		}
	}
	return w.fillWords(said, insert)
}

// filledRecord is about as long as a real one, and no two have the same numbers.
func filledRecord(index measure.Figure) ([]byte, error) {
	r := score.Record{
		Photo:         "cyl1-valve1.jpg",
		Label:         "cyl1-valve1",
		ValveInPhoto:  1,
		ValvesInPhoto: 1,
		Status:        score.Scored,
		Scale:         grade.Scale,
		Version:       "1.0.0+net.0123456789ab",
		Written:       grade.Of(index, grade.Probabilities{}).Write(),
		Width:         new(640),
		Height:        new(480),
		Pixels:        new(41_327),
	}
	figures := score.Figures{WrittenReading: measure.Reading{Index: index, Coverage: index}.Write(),
		Shares: new(
			measure.SharesOf([4]float64{100 - index.Value, index.Value / 3, index.Value / 4, index.Value / 2}).Write(),
		)}
	r.Figures = figures
	r.Head = &score.RegionFigures{Figures: figures, Pixels: 30_000}
	r.Stem = &score.RegionFigures{Figures: figures, Pixels: 11_327}
	noise := func() measure.Number { return measure.Rounded(100*rand.Float64(), 4) }
	r.Colour = &score.Colour{
		DepositL:       noise(),
		DepositA:       noise(),
		DepositB:       noise(),
		BareL:          noise(),
		BareA:          noise(),
		BareB:          noise(),
		DifferenceDE00: noise(),
		DarknessL:      noise(),
	}
	r.Texture = &score.Texture{
		Contrast:     noise(),
		Entropy:      noise(),
		Correlation:  noise(),
		Homogeneity:  noise(),
		LBPEntropy:   noise(),
		ReliefFine:   noise(),
		ReliefCoarse: noise(),
	}
	r.Quality = &score.Quality{
		ValveShare:     noise(),
		ValveRadius:    noise(),
		Luminance:      noise(),
		FrameLuminance: noise(),
		Signal:         noise(),
		Black:          noise(),
		Glare:          noise(),
		BlurSigma:      noise(),
		Motion:         noise(),
	}
	r.HeadEllipse = &score.HeadEllipse{X: noise(), Y: noise(), A: noise(), B: noise(), Angle: noise()}
	text, err := json.Marshal(r)
	if err != nil {
		return nil, err
	}
	return pack(text)
}

// fillWords is what mention does, for many at once.
func (w writer) fillWords(said map[[2]int64]mentioned, insert func(*rows) error) error {
	var all []string
	for _, words := range said {
		for word := range words {
			all = append(all, word)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	words := into("word", "word")
	words.end = "ON CONFLICT DO NOTHING"
	for _, word := range all {
		words.add(word)
	}
	if _, err := w.insert(words); err != nil {
		return err
	}
	ids := map[string]int64{}
	if err := w.wordIDs(all, ids); err != nil {
		return err
	}
	near := into("near", "gap", "word")
	near.end = "ON CONFLICT DO NOTHING"
	for word, id := range ids {
		for _, gap := range gaps(word) {
			near.add(gap, id)
		}
	}
	mentions := into("mention", "word", "vehicle", "inspection", "said")
	for of, words := range said {
		for word, roles := range words {
			for role := range roles {
				mentions.add(ids[word], of[0], of[1], role)
			}
		}
	}
	if _, err := w.insert(near); err != nil {
		return err
	}
	return insert(mentions)
}
