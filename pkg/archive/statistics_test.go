package archive_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// cleanings puts engines into the archive whose second cylinder was blasted and whose others were left alone; before
// and after are that cylinder's index.
func cleanings(t *testing.T, a *archive.Archive, before, after []float64) {
	for n := range before {
		c := car{name: fmt.Sprint("engine ", n), day: "2025-03-01", km: 90_000, stage: inspection.Before,
			index: [4]float64{50, before[n], 50, 50}, card: inspection.JobCard{Technician: "Ann", Family: "two litre"}}
		add(t, a, c)
		c.stage, c.day, c.methods = inspection.After, "2025-03-02", map[int]string{2: "Blasting"}
		c.index[1] = after[n]
		add(t, a, c)
	}
}

// onlyMethod is what the statistics of the whole archive say of the one method in it.
func onlyMethod(t *testing.T, a *archive.Archive) archive.Method {
	t.Helper()
	s, err := a.Statistics(context.Background(), archive.Filter{}, "")
	require.NoError(t, err)
	require.Len(t, s.Methods, 1)
	return s.Methods[0]
}

func TestShareRemovedIsARatioOfSums(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		before, after := []float64{80, 60, 40, 20, 10}, []float64{8, 12, 2, 4, 0}
		cleanings(t, a, before, after)
		s, err := a.Statistics(context.Background(), archive.Filter{}, "")
		require.NoError(t, err)
		assert.Equal(t, 10, s.Inspections)
		assert.Equal(t, 5, s.Vehicles)
		require.Len(t, s.Methods, 1)
		m := s.Methods[0]
		assert.Equal(t, "Blasting", m.Name, "as it was written")
		assert.Equal(t, 4, m.Engines, "the fifth had less than grade 2: nothing was there to be removed")
		// By hand: 1 - (8+12+2+4)/(80+60+40+20) = 87 %. Residuals y - 0.87 x: 2.4, -4.2, 3.2, -1.4; sum of squares
		// 35.6; reach t(3) 3.1824 * sqrt(4/3 * 35.6) / 200.
		assert.InDelta(t, 87, m.Index.Value.Value(), 0.05)
		assert.InDelta(t, 87-100*3.1824*math.Sqrt(4.0/3*35.6)/200, m.Index.Low.Value(), 0.05)
		assert.InDelta(t, 87, m.Dark.Value.Value(), 0.05)
	})
}

// Two engines that were cleaned to the bare metal are no promise that every one will be.
func TestEnginesThatComeOutAlikePromiseNothing(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		cleanings(t, a, []float64{80, 63}, []float64{0, 0})
		m := onlyMethod(t, a)
		for _, f := range []measure.Written{m.Index, m.Dark} {
			assert.Equal(t, 100.0, f.Value.Value())
			assert.True(t, math.IsNaN(f.Low.Value()) && math.IsNaN(f.High.Value()))
		}
	})
}

func TestNoMoreThanAllIsRemoved(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		cleanings(t, a, []float64{80, 60}, []float64{0, 6})
		m := onlyMethod(t, a)
		// By hand: 134 of 140 gone, residuals 3.43 and -3.43; reach t(1) 12.706 * sqrt(2 * 23.5) / 140 = 62.2 %.
		for _, f := range []measure.Written{m.Index, m.Dark} {
			assert.InDelta(t, 95.7, f.Value.Value(), 0.05)
			assert.InDelta(t, 33.5, f.Low.Value(), 0.1)
			assert.Equal(t, 100., f.High.Value())
		}
	})
}

func TestBandsAreThoseOfTheUnit(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		for n, miles := range []float64{29_999, 30_000, 60_000, 89_999} {
			add(t, a, car{name: fmt.Sprint("car ", n), day: "2025-06-01", km: miles * inspection.KilometresPerMile, index: [4]float64{9, 9, 9, 9}})
		}
		for unit, want := range map[inspection.Unit][][3]int{
			"":                    {{0, 50_000, 2}, {50_000, 100_000, 1}, {100_000, 150_000, 1}}, // that of the readings
			inspection.Kilometres: {{0, 50_000, 2}, {50_000, 100_000, 1}, {100_000, 150_000, 1}},
			inspection.Miles:      {{0, 30_000, 1}, {30_000, 60_000, 1}, {60_000, 90_000, 2}},
		} {
			s, err := a.Statistics(ctx, archive.Filter{}, unit)
			require.NoError(t, err)
			var bands [][3]int
			for _, b := range s.Families {
				bands = append(bands, [3]int{b.From, b.To, b.Measured})
			}
			assert.Equal(t, want, bands, unit)
			assert.Equal(t, cmp.Or(unit, inspection.Kilometres), s.Unit)
		}
	})
}

func TestACleaningIsHeldAgainstItsOwnInspectionBefore(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		c := car{
			name:  "van",
			day:   "2024-01-01",
			km:    50_000,
			stage: inspection.Before,
			index: [4]float64{90, 90, 90, 90},
		}
		add(t, a, c) // half a year earlier: another job
		c.stage, c.day = inspection.After, "2024-07-02"
		c.index = [4]float64{10, 10, 10, 10}
		add(t, a, c)
		s, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		assert.Empty(t, s.Methods)
		c.stage, c.day = inspection.Routine, "2024-07-02" // what was found at a service, and cleaned
		c.index = [4]float64{20, 20, 20, 20}
		add(t, a, c)
		s, err = a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		require.Len(t, s.Methods, 1)
		assert.InDelta(t, 50, s.Methods[0].Index.Value.Value(), 0.05)
		c.stage, c.day = inspection.Before, "2024-07-01" // told after the one that it belongs to
		c.index = [4]float64{40, 40, 40, 40}
		add(t, a, c)
		s, err = a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		require.Len(t, s.Methods, 1)
		assert.InDelta(t, 75, s.Methods[0].Index.Value.Value(), 0.05)
		assert.Equal(t, 4, s.Methods[0].Cylinders)
	})
}

func TestFamiliesYearsTechnicians(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		for n, index := range []float64{1, 10, 30, 60, 90} {
			add(
				t,
				a,
				car{name: fmt.Sprint("car ", n), day: fmt.Sprintf("202%d-06-01", n), km: 40_000 + 20_000*float64(n),
					index: [4]float64{
						index,
						math.NaN(),
						index,
						index,
					}, card: inspection.JobCard{Family: "two litre", Technician: "Bo"}},
			)
		}
		s, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		require.Len(t, s.Families, 3) // 40, then 60 and 80, then 100 and 120 thousand km
		assert.Equal(t, archive.Band{Family: "two litre", From: 50_000, To: 100_000, Grades: [5]int{0, 1, 1, 0, 0}, Measured: 2,
			Index: s.Families[1].Index, Dark: s.Families[1].Dark}, s.Families[1])
		assert.InDelta(t, 20, *s.Families[1].Index, 1e-9)
		assert.Len(t, s.Years, 5)
		assert.Equal(t, 1, s.Years[2].Refused)
		require.Len(t, s.Technicians, 1)
		bo := s.Technicians[0]
		assert.Equal(t, 20, bo.Photos)
		assert.InDelta(t, 25, bo.Refused.Value.Value(), 0.05)
		// Wilson's interval of 5 in 20, as tables of it have it: 0.1119 to 0.4687.
		assert.InDelta(t, 11.2, bo.Refused.Low.Value(), 0.05)
		assert.InDelta(t, 46.9, bo.Refused.High.Value(), 0.05)

		f, err := archive.ParseFilter([]string{"year>=2022", "grade!=4"})
		require.NoError(t, err)
		s, err = a.Statistics(ctx, f, "")
		require.NoError(t, err)
		assert.Equal(t, 2, s.Inspections)
	})
}

func TestOverruledGradesStandBesideTheMeasured(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		id := add(t, a, wagon)
		require.Error(
			t,
			a.Overrule(ctx, id, archive.Overruled{Cylinder: 3, Valve: 1, Grade: 2, Who: "Ann"}),
			"no reason",
		)
		require.Error(t, a.Overrule(ctx, id, archive.Overruled{Cylinder: 5, Valve: 1, Grade: 2, Who: "Ann", Why: "x"}))
		require.NoError(
			t,
			a.Overrule(ctx, id, archive.Overruled{Cylinder: 3, Valve: 1, Grade: 2, Who: "Ann", Why: "soot, wiped off"}),
		)
		all, err := a.OverruledOf(ctx, id)
		require.NoError(t, err)
		require.Len(t, all, 1)
		assert.Equal(t, 3, *all[0].Measured)
		kept, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		assert.Equal(t, 3, *kept.Grade)
		s, err := a.Statistics(ctx, archive.Filter{}, "")
		require.NoError(t, err)
		assert.Equal(t, 1, s.Technicians[0].Overruled)
		assert.InDelta(t, -1, *s.Technicians[0].Difference, 1e-9)
	})
}

func TestFiltersAreReadStrictly(t *testing.T) {
	for _, text := range []string{"", "year", "year=", "year=x", "colour=red", "method>blasting", "year=1 OR 1=1", "=5"} {
		_, err := archive.ParseFilter([]string{text})
		assert.Error(t, err, text)
	}
}
