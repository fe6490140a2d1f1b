package archive_test

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"strings"
	"testing"

	_ "github.com/jackc/pgx/v5/stdlib"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/score"
)

// asShop is the archive of a database as another login sees it, and a plain connection of that login.
func asShop(t *testing.T, o archive.Options, login string) (*archive.Archive, *sql.DB) {
	database := o.Location.String()[strings.LastIndex(o.Location.String(), "/")+1:]
	database, _, _ = strings.Cut(database, "?")
	url := server.URL(login, database)
	location, err := archive.Locate(url)
	require.NoError(t, err)
	o.Location = location
	db, err := sql.Open("pgx", url)
	require.NoError(t, err)
	t.Cleanup(func() { db.Close() })
	return opened(t, o), db
}

// Two shops and the head office in one database: each shop sees its own rows, whatever it asks, and can neither write
// into the other's nor hang anything on them.
func TestShopsSeeTheirOwnAlone(t *testing.T) {
	o, ctx := emptyOn(t, "PostgreSQL"), context.Background()
	office := opened(t, o)
	_, err := queue.Put(ctx, office, queue.Order{Version: "x"}) // makes the queue's tables
	require.NoError(t, err)
	n := databases.Add(1)
	north, south := fmt.Sprint("north_", n), fmt.Sprint("south_", n)
	for _, login := range []string{north, south} {
		require.NoError(t, server.SQL("postgres", "CREATE ROLE "+login+" LOGIN IN ROLE valvegrade_shop"))
	}
	a, rawA := asShop(t, o, north)
	b, rawB := asShop(t, o, south)
	mine := addFolder(t, a, wagon)
	theirs := addFolder(t, b, wagon) // the same vehicle has been to both
	require.NotEqual(t, mine, theirs)

	found, err := b.Find(ctx, "qx417z")
	require.NoError(t, err)
	assert.Len(t, found, 1)
	_, err = b.Inspection(ctx, mine)
	require.ErrorIs(t, err, archive.ErrUnknown)
	_, err = b.Graded(ctx, mine, "")
	require.ErrorIs(t, err, archive.ErrUnknown)
	require.Error(t, b.Overrule(ctx, mine, archive.Overruled{Cylinder: 1, Valve: 1, Grade: 1, Who: "x", Why: "y"}))
	s, err := b.Statistics(ctx, archive.Filter{}, "")
	require.NoError(t, err)
	assert.Equal(t, 1, s.Inspections)
	var backup bytes.Buffer
	require.NoError(t, b.Backup(ctx, &backup, true))
	assert.NotContains(t, backup.String(), `"shop":"`+north)
	all, err := office.Statistics(ctx, archive.Filter{}, "")
	require.NoError(t, err)
	assert.Equal(t, 2, all.Inspections, "the head office sees all")
	var both bytes.Buffer
	require.NoError(t, office.Backup(ctx, &both, false))
	require.ErrorContains(t, opened(t, emptyOn(t, "SQLite")).Restore(ctx, &both), "of several shops, and a file holds one")

	// Against the database itself, past the program.
	for _, table := range []string{"vehicle", "inspection", "cylinder", "photo", "shot", "result", "word", "near", "mention"} {
		var rows int
		require.NoError(
			t,
			rawB.QueryRow("SELECT COUNT(*) FROM "+table+" WHERE shop <> current_user").Scan(&rows),
			table,
		)
		assert.Zero(t, rows, table)
		require.NoError(t, rawB.QueryRow("SELECT COUNT(*) FROM "+table).Scan(&rows), table)
		assert.NotZero(t, rows, table)
	}
	var vehicle, photo, inspection int64
	require.NoError(t, rawA.QueryRow("SELECT id FROM vehicle").Scan(&vehicle))
	require.NoError(t, rawA.QueryRow("SELECT MIN(id) FROM photo").Scan(&photo))
	require.NoError(t, rawA.QueryRow("SELECT id FROM inspection").Scan(&inspection))
	for _, attack := range []string{
		"INSERT INTO vehicle (shop, reference, plain, cylinders, valves) VALUES ('" + north + "', 'x', 'x', 4, 1)",
		"UPDATE vehicle SET shop = '" + north + "'",
		fmt.Sprintf("INSERT INTO inspection (vehicle, year, stage, odometer, unit, km, content, marked, photos, refused, seen, retaken, added) "+
			"VALUES (%d, 2025, 'routine', 1, 'km', 1, '', '', 0, 0, 0, 0, '')", vehicle),
		fmt.Sprintf("UPDATE inspection SET vehicle = %d", vehicle),
		fmt.Sprintf("INSERT INTO overruled (inspection, cylinder, valve, grade, who, why, noted) VALUES (%d, 1, 1, 1, 'x', 'y', '')", inspection),
		fmt.Sprintf("INSERT INTO result (photo, version, marks, valve, valves, status, made) VALUES (%d, 1, 'z', 1, 1, 'scored', '')", photo),
		fmt.Sprintf("INSERT INTO shot (inspection, place, photo, file, cylinder, valve, from_left) VALUES (%d, 99, %d, 'x', 1, 1, 0)", theirs, photo),
		"UPDATE result SET grade = 0",
		"UPDATE result SET record = 'forged'",
		"DELETE FROM result",
		"ALTER TABLE vehicle DISABLE ROW LEVEL SECURITY",
		"DROP POLICY own ON vehicle",
		"CREATE POLICY mine ON vehicle USING (true)",
		"SET ROLE " + north,
		"SET SESSION AUTHORIZATION " + north,
		"UPDATE version SET name = 'x'",
		"TRUNCATE vehicle CASCADE",
		"DELETE FROM kept_by",
		`INSERT INTO river_job (args, kind, max_attempts) VALUES ('{"shop": "` + north + `"}', 'score-photo', 6)`,
	} {
		_, err := rawB.Exec(attack)
		assert.Error(t, err, attack)
	}
	for _, silent := range []string{ // allowed, and hits nothing of the other's
		fmt.Sprintf("DELETE FROM vehicle WHERE id = %d", vehicle),
		fmt.Sprintf("UPDATE inspection SET notes = 'x' WHERE id = %d", inspection),
		"DELETE FROM mention WHERE shop = '" + north + "'",
		`UPDATE river_job SET state = 'cancelled' WHERE args ->> 'shop' = '` + north + `'`,
	} {
		done, err := rawB.Exec(silent)
		require.NoError(t, err, silent)
		rows, err := done.RowsAffected()
		require.NoError(t, err)
		assert.Zero(t, rows, silent)
	}
	checked, err := a.Check(ctx, archive.CheckOptions{})
	require.NoError(t, err)
	assert.Empty(t, checked.Faults)

	// Each puts in tasks of its own; the head office's workers do all, and each result is its shop's.
	put, err := queue.Put(ctx, a, queue.Order{Version: "2.0.0+net.x", Adopt: true})
	require.NoError(t, err)
	assert.Equal(t, 4, put)
	put, err = queue.Put(ctx, b, queue.Order{Version: "2.0.0+net.x"})
	require.NoError(t, err)
	assert.Equal(t, 4, put)
	p, err := queue.Look(ctx, b)
	require.NoError(t, err)
	assert.Equal(t, 4, p.Waiting)
	require.NoError(t, queue.Work(ctx, office, queue.Options{UntilEmpty: true, Grade: scored}))
	versions, err := a.Versions(ctx)
	require.NoError(t, err)
	assert.Equal(t, 4, versions["2.0.0+net.x"])
	kept, err := a.Inspection(ctx, mine)
	require.NoError(t, err)
	assert.Equal(t, "2.0.0+net.x", kept.Version)

	photos, err := a.Forget(ctx, vehicle)
	require.NoError(t, err)
	assert.Equal(t, 4, photos)
	checked, err = b.Check(ctx, archive.CheckOptions{})
	require.NoError(t, err)
	assert.Empty(t, checked.Faults, "the other shop's photos of the same bytes are still there")
	assert.Equal(t, 4, checked.Photos)
}

// scored is what a net would say that finds 50 everywhere.
func scored(task queue.Task, data []byte, _ string) ([]score.Record, error) {
	return []score.Record{record("", archive.Hash(data), task.Version, 50)}, nil
}
