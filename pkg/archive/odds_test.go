package archive_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/grade"
)

// leaning is a car whose index is grade 3, where grade 4 is likelier.
var leaning = car{
	name: "grey van", day: "2025-04-01", km: 70_000, index: [4]float64{60, 61, 62, 63},
	odds: &grade.Probabilities{0, 0, 0.1, 0.4, 0.5},
}

// listed are the grades of one inspection as each list of the archive has them.
func listed(t *testing.T, a *archive.Archive, vehicle, inspection int64) []archive.OfWorst {
	ctx := context.Background()
	found, err := a.Find(ctx, leaning.name)
	require.NoError(t, err)
	require.Len(t, found, 1)
	of, err := a.VehicleOf(ctx, vehicle)
	require.NoError(t, err)
	all, err := a.Inspections(ctx, vehicle)
	require.NoError(t, err)
	require.Len(t, all, 1)
	one, err := a.Inspection(ctx, inspection)
	require.NoError(t, err)
	return []archive.OfWorst{found[0].OfWorst, of.OfWorst, all[0].OfWorst, one.OfWorst}
}

// Lists name the grade that is likelier than that of the index, those of a program before, which wrote none, among them.
func TestListsNameTheLikelierGrade(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		id := add(t, a, leaning)
		kept, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		graded, err := a.Graded(ctx, id, "")
		require.NoError(t, err)
		check := func() {
			for n, list := range listed(t, a, kept.Vehicle, id) {
				require.NotNil(t, list.Odds, n)
				assert.InDeltaSlice(t, graded.Engine.WorstGrades[:], list.Odds[:], 1e-9, n)
				assert.Equal(t, 3, list.Judged().Value, n)
				run, another := list.Judged().Perhaps()
				assert.True(t, another, n)
				assert.Equal(t, grade.Run{From: 4, To: 4}, run, n)
			}
		}
		check()
		written := func() (odds *string) {
			require.NoError(t, a.Database().QueryRow(`SELECT odds FROM inspection WHERE id = $1`, id).Scan(&odds))
			return odds
		}
		require.NotNil(t, written())

		_, err = a.Database().Exec(`UPDATE inspection SET odds = NULL`)
		require.NoError(t, err)
		check()
		checked, err := a.Check(ctx, archive.CheckOptions{Figures: true})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults, "a program before wrote none")
		for _, mended := range []int{1, 0} {
			checked, err = a.Check(ctx, archive.CheckOptions{Figures: true, Mend: true})
			require.NoError(t, err)
			assert.Equal(t, mended, checked.Mended)
			require.NotNil(t, written())
		}
		check()

		_, err = a.Forget(ctx, kept.Vehicle)
		require.NoError(t, err)
		_, err = a.Database().Exec(`UPDATE inspection SET odds = NULL`)
		require.NoError(t, err)
		forgotten, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		assert.Nil(t, forgotten.Odds, "nothing is left to take them from")
		assert.Equal(t, 3, forgotten.Judged().Value)
	})
}

// An archive of the format before has no probabilities; opened, its lists have them.
func TestListsOfAnOlderArchive(t *testing.T) {
	for _, engine := range engines {
		t.Run(engine, func(t *testing.T) {
			a, ctx := opened(t, older(t, engine, 5)), context.Background()
			all, err := a.Inspections(ctx, 1)
			require.NoError(t, err)
			require.Len(t, all, 3)
			for _, kept := range all {
				graded, err := a.Graded(ctx, kept.ID, "")
				require.NoError(t, err)
				require.NotNil(t, kept.Odds)
				assert.Equal(t, graded.Engine.WorstGrades, *kept.Odds)
			}
		})
	}
}

func TestNothingMeasuredIsNoGrade(t *testing.T) {
	assert.Nil(t, archive.OfWorst{}.Judged())
	assert.Equal(t, 2, archive.OfWorst{Worst: new(20.0)}.Judged().Value)
}
