package archive_test

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// folder makes a folder with an inspection whose photos are random noise: whatever the net says of it is a result.
func folder(t testing.TB, c car) *inspection.Inspection {
	i := c.facts(t)
	i.Dir = t.TempDir()
	for n, p := range i.Photos {
		require.NoError(t, os.WriteFile(i.Path(p), fmt.Appendf(nil, "%s %s %s %d", c.name, c.day, i.Stage, n), 0o600))
	}
	return i
}

// addFolder adds a folder with photos; they are no pictures, and each is refused.
func addFolder(t testing.TB, a *archive.Archive, c car) int64 {
	v, err := archive.FromFolder(folder(t, c))
	require.NoError(t, err)
	require.NoError(t, v.Score(context.Background(), score.BatchOptions{Options: score.Options{Program: "1.0.0"}}, nil))
	outcome, id, err := a.Add(context.Background(), v)
	require.NoError(t, err)
	require.Equal(t, archive.Added, outcome)
	return id
}

func stored(t testing.TB, o archive.Options) []string {
	var files []string
	err := filepath.WalkDir(o.Photos, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			files = append(files, path)
		}
		return nil
	})
	require.NoError(t, err)
	return files
}

func TestPhotosAreKeptOnceAndChecked(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		addFolder(t, a, wagon)
		v, err := archive.FromFolder(folder(t, wagon)) // a copy elsewhere
		require.NoError(t, err)
		outcome, err := a.Look(ctx, v)
		require.NoError(t, err)
		assert.Equal(t, archive.Known, outcome)
		files := stored(t, o)
		require.Len(t, files, 4)
		checked, err := a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
		assert.Equal(t, 4, checked.Photos)

		require.NoError(t, os.WriteFile(files[0], []byte("half"), 0o600))
		require.NoError(t, os.Remove(files[1]))
		require.NoError(
			t,
			os.WriteFile(filepath.Join(filepath.Dir(files[2]), strings.Repeat("0", 64)), []byte("loose"), 0o600),
		)
		checked, err = a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Len(t, checked.Faults, 2)
		assert.Equal(t, 1, checked.Loose)
		_, err = a.Photo(ctx, filepath.Base(files[0]))
		require.ErrorIs(t, err, archive.ErrSpoilt)

		again := wagon // what is told anew brings its photos again
		again.notes = "looked at again"
		v, err = archive.FromFolder(folder(t, again))
		require.NoError(t, err)
		require.NoError(t, v.Score(ctx, score.BatchOptions{Options: score.Options{Program: "1.0.0"}}, nil))
		outcome, _, err = a.Add(ctx, v)
		require.NoError(t, err)
		assert.Equal(t, archive.Renewed, outcome)
		checked, err = a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
	})
}

func TestOutlinesSetByHandAreKept(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		i := folder(t, wagon)
		const marks = "head: {centre: [310, 240], axes: [120, 95], angle: 10}\n"
		require.NoError(t, os.WriteFile(filepath.Join(i.Dir, "cyl1.jpg.marks.yaml"), []byte(marks), 0o600))
		v, err := archive.FromFolder(i)
		require.NoError(t, err)
		require.NoError(t, v.Score(ctx, score.BatchOptions{Options: score.Options{Program: "1.0.0"}}, nil))
		_, _, err = a.Add(ctx, v)
		require.NoError(t, err)
		looks, err := a.Unseen(ctx, archive.Filter{}, "another")
		require.NoError(t, err)
		require.Len(t, looks, 4)
		with := 0
		for _, l := range looks {
			_, yaml, err := a.Taken(ctx, l)
			require.NoError(t, err)
			if yaml == marks {
				with++
			}
		}
		assert.Equal(t, 1, with)
		plain, err := archive.FromFolder(folder(t, wagon))
		require.NoError(t, err)
		outcome, err := a.Look(ctx, plain)
		require.NoError(t, err)
		assert.Equal(t, archive.Renewed, outcome, "the outlines are gone")
	})
}

// everything is all that an archive and its photos hold, as bytes.
func everything(t *testing.T, a *archive.Archive, o archive.Options) string {
	var all bytes.Buffer
	require.NoError(t, a.Backup(context.Background(), &all, false))
	if file := o.Location.File(); file != "" {
		for _, name := range []string{file, file + "-wal"} {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			all.Write(data)
		}
	}
	return all.String()
}

func TestForgettingLeavesFiguresAlone(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		mine := wagon
		mine.name, mine.notes, mine.day = "Zanzibar wagon", "Quokkas in the boot", "2019-02-03"
		id := addFolder(t, a, mine)
		kept, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		require.NoError(
			t,
			a.Overrule(ctx, id, archive.Overruled{Cylinder: 1, Valve: 1, Grade: 1, Who: "Ann", Why: "Vorpal reason"}),
		)
		other := wagon
		other.name, other.card = "other", inspection.JobCard{}
		addFolder(t, a, other)
		before, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)

		photos, err := a.Forget(ctx, kept.Vehicle)
		require.NoError(t, err)
		assert.Equal(t, 4, photos)
		assert.Len(t, stored(t, o), 4, "the other vehicle's")
		all := everything(t, a, o)
		for _, personal := range []string{"Zanzibar", "zanz1bar", "Quokka", "QX 417", "qx417z", "1M8GDM9AXKP042788", "042788",
			"2019-02-03", "rough idle", "2024-0417", "20240417", "Vorpal", archive.Hash([]byte("Zanzibar wagon 2019-02-03 routine 0"))} {
			assert.False(t, strings.Contains(all, personal), personal)
		}
		after, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		assert.Equal(t, before, after)
		found, err := a.Find(ctx, "Zanzibar")
		require.NoError(t, err)
		assert.Empty(t, found)
		_, err = a.Graded(ctx, id, "")
		require.ErrorIs(t, err, archive.ErrForgotten)
		_, err = a.Forget(ctx, kept.Vehicle)
		require.ErrorIs(t, err, archive.ErrForgotten)
		checked, err := a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
	})
}

func TestBackupComesBackInEitherDatabase(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		addFolder(t, a, wagon)
		id := add(t, a, car{name: "red van", day: "2025-01-01", km: 10, index: [4]float64{1, 20, 50, 80}})
		require.NoError(
			t,
			a.Overrule(ctx, id, archive.Overruled{Cylinder: 1, Valve: 1, Grade: 1, Who: "Ann", Why: "seen"}),
		)
		want, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		var backup bytes.Buffer
		require.NoError(t, a.Backup(ctx, &backup, true))
		require.ErrorIs(t, a.Restore(ctx, bytes.NewReader(backup.Bytes())), archive.ErrNotEmpty)
		for _, engine := range engines {
			to := emptyOn(t, engine)
			b := opened(t, to)
			require.NoError(t, b.Restore(ctx, bytes.NewReader(backup.Bytes())))
			got, err := b.Statistics(ctx, archive.Filter{}, "")
			require.NoError(t, err)
			assert.Equal(t, want, got)
			checked, err := b.Check(ctx, archive.CheckOptions{})
			require.NoError(t, err)
			assert.Empty(t, checked.Faults)
			assert.Equal(t, 4, checked.Photos)
			found, err := b.Find(ctx, "qx417z")
			require.NoError(t, err)
			assert.Len(t, found, 1)
			add(t, b, car{name: "a new one", day: "2025-01-01", km: 10}) // its keys do not collide
		}
		for _, cut := range []int{0, 100, 600, backup.Len() / 2, backup.Len() - 2000} {
			to := emptyOn(t, "SQLite")
			begun := archive.Before(to)
			b := opened(t, to)
			require.Error(t, b.Restore(ctx, bytes.NewReader(backup.Bytes()[:cut])), cut)
			s, err := b.Statistics(ctx, archive.Filter{}, "")
			require.NoError(t, err)
			assert.Zero(t, s.Inspections, "all or nothing")
			require.NoError(t, b.Close())
			require.NoError(t, begun.TakeBack())
			left, err := os.ReadDir(filepath.Dir(to.Location.File()))
			require.NoError(t, err)
			assert.Empty(t, left, cut)
		}
	})
}

// meanwhile does something once, when something is written to it.
type meanwhile struct {
	bytes.Buffer
	after string
	do    func()
}

func (m *meanwhile) Write(data []byte) (int, error) {
	if m.do != nil && bytes.Contains(data, []byte(m.after)) {
		m.do()
		m.do = nil
	}
	return m.Buffer.Write(data)
}

func TestABackupLetsOthersWorkOn(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, b, ctx := opened(t, o), opened(t, o), context.Background()
		add(t, a, wagon)
		backup := &meanwhile{after: "tables/version.jsonl", do: func() {
			add(t, b, car{name: "meanwhile", day: "2025-01-01", km: 10})
		}}
		require.NoError(t, a.Backup(ctx, backup, true))
		c := opened(t, emptyOn(t, "SQLite"))
		require.NoError(t, c.Restore(ctx, &backup.Buffer))
		s, err := c.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		assert.Equal(t, 1, s.Inspections, "as it was when the backup began")
		s, err = a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		assert.Equal(t, 2, s.Inspections)
	})
}

func TestABackupOfTheFormatBeforeComesBack(t *testing.T) {
	a, ctx := opened(t, emptyOn(t, "SQLite")), context.Background()
	add(t, a, wagon)
	var backup bytes.Buffer
	require.NoError(t, a.Backup(ctx, &backup, true))
	for format, fits := range map[int]bool{1: false, 2: true, archive.Format: true, archive.Format + 1: false} {
		said := func(format int) []byte { return fmt.Appendf(nil, `"format":%d`, format) }
		old := bytes.Replace(backup.Bytes(), said(archive.Format), said(format), 1)
		err := opened(t, emptyOn(t, "SQLite")).Restore(ctx, bytes.NewReader(old))
		assert.Equal(t, fits, err == nil, "format %d: %v", format, err)
	}
}
