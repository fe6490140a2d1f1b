package main

import (
	"image"
	"io/fs"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/truth"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
	"valvegrade/scripts/outline/drawn"
)

// result is that of a graded valve; its interval is 5 points to either side, and all its deposit is heavy.
func result(pixels, value int, index float64) score.Record {
	var r score.Record
	r.Status, r.Pixels, r.Grade = score.Scored, &pixels, &value
	r.WrittenIndex = measure.WriteIndex(measure.Figure{Value: index, Low: index - 5, High: index + 5})
	r.WrittenCoverage = measure.WriteCoverage(measure.Exactly(index))
	r.Shares = new(measure.Shares{Bare: 1 - index/100, Heavy: index / 100}.Write())
	return r
}

func known(place int, index float64) truth.Entry {
	return truth.Entry{Photo: "a.jpg", Valve: place, Demand: truth.Judge, Both: &truth.Part{
		Index: index, Coverage: index, Shares: measure.Shares{Bare: 1 - index/100, Heavy: index / 100},
	}}
}

func TestEachValveGetsTheResultThatOverlapsItMost(t *testing.T) {
	want := drawn.Mask(
		"112200330",
		"112200330",
		"000000330")
	got := drawn.Mask( // the right one is the largest here, and the left one has lost half of its stem
		"330400110",
		"330400110",
		"000000112")
	records := []score.Record{result(6, 1, 10), result(7, 3, 50)} // from left to right
	valves, err := match([]truth.Entry{known(1, 12), known(2, 60)}, records, want, got)
	require.NoError(t, err)
	require.Len(t, valves, 2)
	left, right := valves[0], valves[1]
	assert.Same(t, &records[0], left.record)
	assert.Same(t, &records[1], right.record)
	assert.Equal(t, []float64{1, 0.5}, []float64{left.head, left.stem})
	assert.InDelta(t, 6./8, left.whole, 1e-12)
	assert.Equal(t, 1.0, right.head)
	assert.True(t, math.IsNaN(right.stem), "the truth shows no stem")
	assert.InDelta(t, 6./7, right.whole, 1e-12)
	assert.Equal(t, -2.0, left.off())
}

func TestAValveThatNoResultTouchesIsNotFound(t *testing.T) {
	valves, err := match([]truth.Entry{known(1, 12)}, []score.Record{result(2, 1, 10)}, drawn.Mask("1100"), drawn.Mask("0011"))
	require.NoError(t, err)
	assert.Nil(t, valves[0].record)
	assert.Equal(t, []float64{0, 0}, []float64{valves[0].whole, valves[0].head})
	assert.False(t, valves[0].refused)
	_, err = match([]truth.Entry{known(1, 12)}, []score.Record{result(2, 1, 10)}, drawn.Mask("1100"), drawn.Mask("00110"))
	assert.ErrorContains(t, err, "a.jpg")
}

func TestARefusedPhotoTellsWhy(t *testing.T) {
	records := []score.Record{{Status: score.Refused, Reasons: []reason.Reason{{Code: reason.NoValve}}}}
	valves, err := match([]truth.Entry{known(1, 12)}, records, nil, nil)
	require.NoError(t, err)
	assert.True(t, valves[0].refused)
	assert.Equal(t, []string{"no-valve"}, valves[0].reasons)
}

// graded is a valve of the set with this true and measured index.
func graded(photo, set, group, role string, actual, index float64, value int) valve {
	v := valve{Entry: known(1, actual), head: 0.9, stem: math.NaN(), whole: 0.9, record: new(result(1, value, index))}
	v.Photo, v.Set, v.Group, v.Role = photo, set, group, role
	return v
}

func TestFigures(t *testing.T) {
	refused := valve{Entry: known(1, 30), refused: true, head: math.NaN(), stem: math.NaN(), whole: math.NaN()}
	refused.Photo = "refused"
	bad := valve{Entry: truth.Entry{Photo: "bad", Demand: truth.Refuse}}
	arguable := valve{Entry: truth.Entry{Photo: "arguable"}}
	lost := valve{Entry: known(1, 30), whole: 0, head: 0, stem: math.NaN()}
	lost.Photo = "lost"
	tried := &trial{photos: 9, run: run{"v1", 0.5}, valves: []valve{
		graded("b1", "pairs", "b", "before", 50, 60, 3), graded("b2", "pairs", "b", "after", 10, 8, 1),
		graded("r1", "repeat", "r", "", 20, 26, 2), graded("r2", "repeat", "r", "", 22, 22, 2),
		graded("s", "single", "s", "", 80, 66, 3), refused, bad, arguable, lost,
	}}
	figures, err := tried.figures()
	require.NoError(t, err)
	got := keyed(figures)
	for key, want := range map[string]float64{
		"photos": 9, "valves": 7, "found_percent": 500. / 7, "head_iou": 4.5 / 6, // 0 for the lost one
		"index_error": 32. / 5, "index_bias": 0, "index_error_p95": 10 + 0.8*4, // of 0, 2, 6, 10, 14
		"dark_error": 32. / 5, "dark_bias": 0, "coverage_error": 32. / 5, "coverage_bias": 0,
		"grade_exact_percent": 80, "grade_within_one_percent": 100, // 80 is grade 4
		"interval_holds_percent": 40, "interval_width": 10, // 10, 2, 6, 0 and 14 points off
		"reposed_sd": 6 / math.Sqrt2, "difference_error": 12,
		"bad_refused_percent": 0, "good_refused_percent": 100. / 7, "seconds": 0.5,
	} {
		require.NotNil(t, got[key], key)
		assert.InDelta(t, want, *got[key], 1e-4, key)
	}
	assert.Nil(t, got["stem_iou"], "no stem was in sight")
	// Of grades 3, 1, 2, 2, 4 and 3, 1, 2, 2, 3: the squared differences are 1 over 5, by chance 41 over 25.
	assert.InDelta(t, 1-(1./5)/(41./25), *got["grade_kappa"], 1e-4)
	assert.InDelta(
		t,
		2*2739.2/(3259.2+2555.2),
		*got["index_concordance"],
		1e-4,
		"sums of products and squares about 36.4",
	)
}

func TestFiguresOfNothingAreNotMeasured(t *testing.T) {
	figures, err := (&trial{photos: 1, valves: []valve{{Entry: truth.Entry{Demand: truth.Refuse}, refused: true}}}).figures()
	require.NoError(t, err)
	got := keyed(figures)
	assert.Equal(t, 100.0, *got["bad_refused_percent"])
	for _, key := range []string{"found_percent", "index_error", "index_error_p95", "grade_kappa", "index_concordance", "reposed_sd", "grade_brier", "decided_percent"} {
		assert.Nil(t, got[key], key)
	}
}

func TestThePackagesAreRunWithTheNetsOfTheProgram(t *testing.T) {
	builtIn, err := program{}.scorer(score.Options{})
	require.NoError(t, err)
	defer builtIn.Close()
	other := program{}
	require.NoError(t, other.addNet("../../internal/net/testdata/painted.onnx"))
	scorer, err := other.scorer(score.Options{})
	require.NoError(t, err)
	defer scorer.Close()
	photo := "../../testdata/series/repeat-1-a.jpg"
	assert.NotEqual(t, builtIn.Score(photo)[0].Record().Version, scorer.Score(photo)[0].Record().Version)

	require.NoError(t, other.addNet("nowhere.onnx"))
	_, err = other.scorer(score.Options{})
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestCropsHoldTheValve(t *testing.T) {
	frame := image.Rect(0, 0, 640, 480)
	for _, of := range []image.Rectangle{
		image.Rect(300, 200, 400, 300), image.Rect(0, 0, 200, 100), image.Rect(600, 470, 640, 480), image.Rect(0, 0, 640, 300), frame,
	} {
		crops := cropsAround(of, frame)
		assert.Equal(t, frame, crops[0])
		for _, crop := range crops {
			assert.True(t, of.In(crop) && crop.In(frame), "%v in %v", of, crop)
			assert.GreaterOrEqual(t, min(crop.Dx(), crop.Dy()), 160, "a photo may not be smaller")
		}
		assert.Len(t, unique(crops), len(crops))
	}
	assert.Len(t, cropsAround(image.Rect(300, 200, 500, 400), frame), 8)
	assert.Len(t, cropsAround(frame, frame), 1, "nothing can be cropped")
}

func TestSeriesShowOneValveInOneState(t *testing.T) {
	photo := func(group string, change func(*truth.Entry)) truth.Entry {
		e := known(1, 20)
		e.Group = group
		if change != nil {
			change(&e)
		}
		return e
	}
	worked := func(e *truth.Entry) { e.Worked = true }
	groups := untouched([]truth.Entry{
		photo("a", nil), photo("b", nil), photo("a", nil), photo("b", worked), photo("", nil),
		photo("a", func(e *truth.Entry) { e.Demand = truth.Refuse }), photo("c", nil), photo("c", worked), photo("c", nil),
		photo("a", func(e *truth.Entry) { e.Valve = 2 }),
	})
	require.Len(t, groups, 2)
	assert.Equal(t, []int{2, 2}, []int{len(groups[0]), len(groups[1])})
	assert.Equal(t, []string{"a", "c"}, []string{groups[0][0].Group, groups[1][0].Group})
}

func TestCombinedFiguresAreHeldAgainstTheMeanTruth(t *testing.T) {
	of := func(index float64) engine.Shot {
		r := result(100, 2, index)
		return engine.ShotOf(inspection.Photo{}, &r)
	}
	figure := measure.Figure{Value: 24, Low: 21, High: 27}
	c := combination{name: "a", photos: []truth.Entry{known(1, 20), known(1, 30)}}
	c.Used, c.Shots, c.BuildUp = 2, []engine.Shot{of(20), of(30)}, deposit.Thin
	c.Index, c.Dark = figure, measure.Figure{Value: 34, Low: 31, High: 37}
	found, err := combinations{all: []combination{c}}.figures()
	require.NoError(t, err)
	told := map[string]float64{}
	for _, f := range found {
		told[f.key] = f.value
	}
	assert.Equal(t, 1.0, told["index_error"])
	assert.Equal(t, 100.0, told["index_combined_holds_percent"])
	assert.Equal(t, 0.0, told["dark_combined_holds_percent"], "true is 25")
	assert.Equal(t, []float64{6, 10, 100}, []float64{told["index_combined_width"], told["index_single_width"], told["index_narrower_percent"]})
	assert.Equal(t, []float64{100, 0}, []float64{told["build_up_told_percent"], told["build_up_right_percent"]}, "all of it is heavy")
	assert.Len(t, combinations{all: []combination{c}}.remarks(3), 1)
}

func TestEnginesHaveOnePairOfEachValve(t *testing.T) {
	compared := func(group, before, after string, verdict compare.Verdict) pair {
		first, second := known(1, 20), known(1, 30)
		first.Group, first.Photo, second.Photo = group, before, after
		return pair{first, second, false, &compare.Comparison{Compared: verdict != "", Verdict: verdict}}
	}
	e := enginesOf([]pair{
		compared("a", "1", "2", compare.Changed), compared("a", "1", "3", compare.Changed), compared("a", "2", "3", compare.Changed),
		compared("b", "1", "2", ""), compared("b", "2", "3", compare.NotDistinguishable), compared("c", "1", "2", compare.NoClaim),
		compared("d", "1", "2", compare.Changed), compared("e", "1", "2", compare.Changed), compared("f", "1", "2", compare.Changed),
	})
	require.Len(t, e.all, 5)
	assert.Equal(t, []string{"1", "3"}, []string{e.all[0].before.Photo, e.all[0].after.Photo})
	assert.Equal(t, "2", e.all[1].before.Photo)
	assert.Len(t, e.fours, 5)
	assert.Equal(t, e.all[0].before, e.fours[4][1].before, "the last go on with the first")
}
