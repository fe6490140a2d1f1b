package archive_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/inspection"
)

// cleaned adds a vehicle before and after a cleaning, and returns the later inspection.
func cleaned(t *testing.T, a *archive.Archive) int64 {
	c := car{name: "blue van", day: "2025-03-01", km: 90_000, stage: inspection.Before, index: [4]float64{50, 60, 70, 80}}
	add(t, a, c)
	c.stage, c.day, c.index = inspection.After, "2025-03-02", [4]float64{5, 6, 7, 8}
	c.methods = map[int]string{1: "blasting", 2: "blasting"}
	return add(t, a, c)
}

func TestEveryFigureThatWasChangedIsFound(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		id := cleaned(t, a)
		const (
			visit    = `UPDATE inspection SET %s WHERE id = $1`
			cleaning = `UPDATE cleaning SET %s WHERE inspection = $1`
			cylinder = `UPDATE cylinder SET %s WHERE inspection = $1 AND cylinder = 2`
			last     = `result WHERE photo = (SELECT MAX(photo) FROM shot WHERE inspection = $1)`
		)
		for change, named := range map[string]string{
			fmt.Sprintf(visit, "worst = worst + 1"):                              "deposit index",
			fmt.Sprintf(visit, "worst_low = NULL"):                               "the lower end of the deposit index is",
			fmt.Sprintf(visit, "worst_high = 0"):                                 "the upper end of the deposit index is",
			fmt.Sprintf(visit, "grade = 4"):                                      "grade",
			fmt.Sprintf(visit, "dark = dark / 2"):                                "dark deposit",
			fmt.Sprintf(visit, "due = 0.5"):                                      "cleaning is due",
			fmt.Sprintf(visit, "odds = '[1, 0, 0, 0, 0]'"):                       "the probabilities of its grades are not those",
			fmt.Sprintf(visit, "odds = 'likely'"):                                "the probabilities of its grades are not those",
			fmt.Sprintf(visit, "photos = 5"):                                     "number of photos",
			fmt.Sprintf(visit, "refused = 1"):                                    "refused photos",
			fmt.Sprintf(visit, "seen = 3"):                                       "number of valves",
			fmt.Sprintf(visit, "retaken = 2"):                                    "taken again",
			fmt.Sprintf(cylinder, "worst = 9"):                                   "cylinder 2: the deposit index",
			fmt.Sprintf(cylinder, "dark = NULL"):                                 "cylinder 2: the dark deposit",
			fmt.Sprintf(cylinder, "was = 99"):                                    "cylinder 2: the deposit index before",
			fmt.Sprintf(cylinder, "was_dark = 1"):                                "cylinder 2: the dark deposit before",
			fmt.Sprintf(cylinder, "cylinder = 9"):                                "cylinder 9: the engine has no such cylinder",
			fmt.Sprintf(cleaning, "cylinders = 3"):                               `cleaned by "blasting": the number of cylinders`,
			fmt.Sprintf(cleaning, "was = was + 1"):                               "the deposit index before",
			fmt.Sprintf(cleaning, "gone = 0"):                                    "the deposit index gone",
			fmt.Sprintf(cleaning, "was_dark = NULL"):                             "the dark deposit before",
			fmt.Sprintf(cleaning, "gone_dark = 1"):                               "the dark deposit gone",
			fmt.Sprintf(cleaning, "method = 'soaking'"):                          `cleaned by "soaking": the number of cylinders is 2, and its cylinders give not measured`,
			`DELETE FROM cleaning WHERE inspection = $1`:                         "cylinders is not measured, and its cylinders give 2",
			`DELETE FROM cylinder WHERE inspection = $1 AND cylinder = 2`:        "3 cylinders of 4",
			`UPDATE ` + strings.Replace(last, "WHERE", "SET worth = 1 WHERE", 1): "a result of",
			`DELETE FROM ` + last:                                                "not in the archive",
		} {
			var whole bytes.Buffer
			require.NoError(t, a.Backup(ctx, &whole, false))
			b := opened(t, emptyOn(t, "SQLite"))
			require.NoError(t, b.Restore(ctx, &whole))
			_, err := b.Database().Exec(change, id)
			require.NoError(t, err)
			checked, err := b.Check(ctx, archive.CheckOptions{Figures: true})
			require.NoError(t, err)
			assert.Contains(t, strings.Join(checked.Faults, "\n"), named, change)
		}
		checked, err := a.Check(ctx, archive.CheckOptions{Figures: true})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
	})
}

// An archive of a program before, which took no routine inspection for the one before a cleaning, tells of the cleaning once
// it is mended.
func TestACleaningThatWasNotPairedIsFound(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		c := car{name: "blue van", day: "2025-03-01", km: 90_000, stage: inspection.Routine, index: [4]float64{50, 60, 70, 80}}
		add(t, a, c)
		c.stage, c.day, c.index = inspection.After, "2025-03-02", [4]float64{5, 6, 7, 8}
		id := add(t, a, c)
		want, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		require.Len(t, want.Methods, 1)
		for _, change := range []string{
			`UPDATE inspection SET prior = NULL WHERE id = $1`, `UPDATE cylinder SET was = NULL, was_dark = NULL WHERE inspection = $1`,
			`DELETE FROM cleaning WHERE inspection = $1`,
		} {
			_, err := a.Database().Exec(change, id)
			require.NoError(t, err)
		}
		checked, err := a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Equal(t, []string{
			"inspection 2: the one before its cleaning is inspection 1, and none is kept: archive check --mend puts that right",
		}, checked.Faults)
		checked, err = a.Check(ctx, archive.CheckOptions{Mend: true})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)
		got, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		assert.Equal(t, want, got)
	})
}

// Words to find by that are missing, spoilt or too many, whatever left them so, are found and mended; so is what
// cleanings took off.
func TestWhatIsOnlyDerivedIsMended(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		for change, named := range map[string]string{
			`DELETE FROM mention WHERE inspection = 0`:                              "vehicle 1 is not found by all of its words",
			`DELETE FROM mention WHERE said = 'wish'`:                               "inspection 1 is not found by all of its words",
			`UPDATE mention SET said = 'job' WHERE said = 'wish'`:                   "inspection 1 is not found by all of its words",
			`DELETE FROM near WHERE word = (SELECT MAX(id) FROM word)`:              "is not found with a slip in it",
			`UPDATE near SET gap = gap + 1 WHERE word = (SELECT MIN(id) FROM word)`: "is not found with a slip in it",
			`DELETE FROM near`: "is not found with a slip in it",
			`INSERT INTO near (gap, word) SELECT 1, MIN(id) FROM word`:         "is not found with a slip in it",
			`UPDATE cleaning SET gone = gone + 1`:                              "deposit index gone",
			`DELETE FROM cleaning`:                                             "and its cylinders give 2",
			`UPDATE cleaning SET method = 'soaking' WHERE method = 'blasting'`: `cleaned by "soaking"`,
		} {
			a, ctx := opened(t, emptyOn(t, map[bool]string{false: "SQLite", true: "PostgreSQL"}[o.Location.Shared()])), context.Background()
			add(t, a, wagon)
			cleaned(t, a)
			want, err := a.Statistics(ctx, archive.Filter{}, "")
			require.NoError(t, err)
			_, err = a.Database().Exec(change)
			require.NoError(t, err, change)
			checked, err := a.Check(ctx, archive.CheckOptions{})
			require.NoError(t, err, change)
			assert.Contains(t, strings.Join(checked.Faults, "\n"), named, change)
			checked, err = a.Check(ctx, archive.CheckOptions{Mend: true})
			require.NoError(t, err, change)
			assert.Empty(t, checked.Faults, change)
			assert.NotZero(t, checked.Mended, change)
			checked, err = a.Check(ctx, archive.CheckOptions{})
			require.NoError(t, err)
			assert.Empty(t, checked.Faults, change)
			for _, text := range []string{"qx417z", "qx471z", "rough idle", "bleu van"} {
				found, err := a.Find(ctx, text)
				require.NoError(t, err)
				assert.Len(t, found, 1, "%s: %s", change, text)
			}
			got, err := a.Statistics(ctx, archive.Filter{}, "")
			require.NoError(t, err)
			assert.Equal(t, want, got, change)
		}
	})
}
