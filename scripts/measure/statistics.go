package main

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"valvegrade/internal/number"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// misses are differences from the truth.
type misses []float64

func missesOf(valves []valve, of func(valve) (got, want float64)) misses {
	return each(valves, func(v valve) float64 {
		got, want := of(v)
		return got - want
	})
}

func (m misses) figures(key, name string) []figure {
	return []figure{
		{key + "_error", name + ", mean absolute error", mean(m.sizes())},
		{key + "_bias", name + ", bias", mean(m)},
	}
}

func (m misses) sizes() []float64 { return each(m, math.Abs) }

func (m misses) percentile(share float64) float64 {
	if len(m) == 0 {
		return math.NaN()
	}
	return number.Quantile(slices.Sorted(slices.Values(m.sizes())), share)
}

// agreement tells how the grades agree with those of the true index, by quadratic weighted kappa (Cohen, Psychological
// Bulletin 70 (1968), 213, with the weights of Fleiss & Cohen, Educational and Psychological Measurement 33 (1973),
// 613), and the indices by the concordance of Lin (Biometrics 45 (1989), 255).
func agreement(valves []valve) ([]figure, error) {
	var got, want []int
	for _, v := range valves {
		got, want = append(got, *v.record.Grade), append(want, grade.Place(v.Both.Index))
	}
	table, err := agree.Tabulate(agree.Grades, want, got)
	if err != nil {
		return nil, err
	}
	kappa, err := agree.WeightedKappa(table, agree.Quadratic(agree.Grades))
	if err != nil {
		return nil, err
	}
	lin := agree.Concordance{Figure: measure.Unmeasured()}
	if len(valves) > 0 {
		measured := each(valves, func(v valve) float64 { got, _ := v.index(); return got })
		actual := each(valves, func(v valve) float64 { return v.Both.Index })
		if lin, err = agree.Lin(actual, measured); err != nil {
			return nil, err
		}
	}
	return []figure{
		{"grade_exact_percent", "grade exact, %", 100 * table.Within(0).Value},
		{"grade_within_one_percent", "grade within one, %", 100 * table.Within(1).Value},
		{"grade_kappa", "grade, quadratic weighted kappa", kappa.Value},
		{"index_concordance", "index, Lin's concordance", lin.Value},
	}, nil
}

// valveKey names a valve in a set.
type valveKey struct {
	group string
	place int
}

// spread is the standard deviation of the index's error over photos of one valve, pooled over the valves of the set
// (Bland & Altman, "Measurement error", British Medical Journal 312 (1996), 1654); the truth itself differs between
// photos that show other parts of a valve, therefore the error.
func spread(valves []valve) float64 {
	var keys []valveKey
	off := map[valveKey][]float64{}
	for _, v := range valves {
		if v.Set == "repeat" {
			key := valveKey{v.Group, v.Valve}
			keys = append(keys, key)
			off[key] = append(off[key], v.off())
		}
	}
	var items [][]float64
	for _, key := range unique(keys) {
		items = append(items, off[key])
	}
	return agree.Repeat(items).SD.Value
}

// differences returns, for each valve of a set photographed before and after, by how much the difference of its indices
// is off, either way.
func differences(valves []valve) []float64 {
	before := map[valveKey]float64{}
	for _, v := range valves {
		if v.Set == "pairs" && v.Role == "before" {
			before[valveKey{v.Group, v.Valve}] = v.off()
		}
	}
	var off []float64
	for _, v := range valves {
		if first, found := before[valveKey{v.Group, v.Valve}]; found && v.Set == "pairs" && v.Role == "after" {
			off = append(off, math.Abs(first-v.off()))
		}
	}
	return off
}

func unique[T comparable](values []T) []T {
	var once []T
	for _, v := range values {
		if !slices.Contains(once, v) {
			once = append(once, v)
		}
	}
	return once
}

func each[T any](of []T, value func(T) float64) []float64 {
	values := make([]float64, len(of))
	for i, v := range of {
		values[i] = value(v)
	}
	return values
}

// mean is that of the values that were measured, NaN of none.
func mean(values []float64) float64 {
	known := slices.DeleteFunc(slices.Clone(values), math.IsNaN)
	if len(known) == 0 {
		return math.NaN()
	}
	return stat.Mean(known, nil)
}

// percent is how many of them are so, NaN of none.
func percent[T any](of []T, is func(T) bool) float64 {
	return 100 * mean(each(of, func(v T) float64 {
		if is(v) {
			return 1
		}
		return 0
	}))
}

// points is a figure in points as the file has it.
func points(x float64) measure.Number { return measure.Rounded(x, measure.PointDecimals) }
