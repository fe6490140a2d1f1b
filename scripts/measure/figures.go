package main

import (
	"math"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/internal/truth"
	"valvegrade/pkg/measure"
)

// figure is a number with its key in the file and its name for the eye. It is NaN where a set does not tell.
type figure struct {
	key, name string
	value     float64
}

// keyed returns the figures by key, null for what was not measured.
func keyed(figures []figure) map[string]*float64 {
	values := map[string]*float64{}
	for _, f := range figures {
		values[f.key] = nil
		if !math.IsNaN(f.value) {
			values[f.key] = new(math.Round(f.value*1e4) / 1e4)
		}
	}
	return values
}

// foundFrom is the overlap above which a valve counts as found, as in Everingham et al., "The PASCAL Visual Object
// Classes (VOC) Challenge", International Journal of Computer Vision 88 (2010), 303: boxes there, outlines here.
const foundFrom = 0.5

func (t *trial) figures() ([]figure, error) {
	agreeing, err := agreement(t.graded())
	if err != nil {
		return nil, err
	}
	good, graded := t.asked(truth.Judge), t.graded()
	found := func(v valve) bool { return v.whole > foundFrom }
	index, dark, coverage := missesOf(graded, valve.index), missesOf(graded, valve.dark), missesOf(graded, valve.coverage)
	figures := []figure{
		{"photos", "photos", float64(t.photos)},
		{"valves", "valves that can be judged", float64(len(good))},
		{"found_percent", "valves found, %", percent(good, found)},
		{"head_iou", "head IoU", mean(each(good, func(v valve) float64 { return v.head }))},
		{"stem_iou", "stem IoU", mean(each(good, func(v valve) float64 { return v.stem }))},
	}
	figures = append(figures, index.figures("index", "index")...)
	figures = append(figures, figure{"index_error_p95", "index error, 95th percentile", index.percentile(0.95)})
	figures = append(figures, dark.figures("dark", "dark deposit")...)
	figures = append(figures, coverage.figures("coverage", "coverage")...)
	figures = append(figures, agreeing...)
	figures = append(figures, beliefs(graded)...)
	refused := func(v valve) bool { return v.refused }
	return append(figures,
		figure{"interval_holds_percent", "intervals of the index that hold, %", percent(graded, valve.indexHolds)},
		figure{"interval_width", "their width, median", number.Median(each(graded, valve.indexWidth))},
		figure{"dark_holds_percent", "intervals of the dark deposit that hold, %", percent(graded, valve.darkHolds)},
		figure{"dark_width", "their width, median", number.Median(each(graded, valve.darkWidth))},
		figure{"reposed_sd", "one valve photographed again, SD of its error", spread(graded)},
		figure{"difference_error", "difference of before and after, mean error", mean(differences(graded))},
		figure{"bad_refused_percent", "bad photos refused, %", percent(firsts(t.asked(truth.Refuse)), refused)},
		figure{"good_refused_percent", "good photos refused, %", percent(firsts(good), refused)},
		figure{"seconds", "seconds a photo, of the whole run", t.seconds},
	), nil
}

// asked returns the valves of photos of which this is demanded.
func (t *trial) asked(demand truth.Demand) []valve {
	return slices.DeleteFunc(slices.Clone(t.valves), func(v valve) bool { return v.Demand != demand })
}

// graded returns the valves that can be judged and have a result.
func (t *trial) graded() []valve {
	return slices.DeleteFunc(t.asked(truth.Judge), func(v valve) bool { return v.record == nil })
}

// firsts returns one valve of each photo.
func firsts(valves []valve) []valve {
	return slices.CompactFunc(slices.Clone(valves), func(a, b valve) bool { return a.Photo == b.Photo })
}

// index, coverage and dark return a figure as it was measured and as it is true, in points.
func (v valve) index() (got, want float64)    { return v.record.Index.Value(), v.Both.Index }
func (v valve) coverage() (got, want float64) { return v.record.Coverage.Value(), v.Both.Coverage }
func (v valve) dark() (got, want float64) {
	return crust(v.record.Shares.Shares()), crust(v.Both.Shares)
}

// crust is the dark deposit of a valve: what is medium or heavy, in percent.
func crust(s measure.Shares) float64 { return 100 * (s.Medium + s.Heavy) }

func (v valve) off() float64 {
	got, want := v.index()
	return got - want
}

// holds reports whether an interval holds the truth; bounds are written to two decimals.
func holds(i measure.Figure, truth float64) bool {
	const rounding = 0.005
	return i.Low-rounding <= truth && truth <= i.High+rounding
}

func (v valve) indexHolds() bool { return holds(v.record.IndexFigure(), v.Both.Index) }

func (v valve) darkHolds() bool { return holds(v.record.DarkFigure(), crust(v.Both.Shares)) }

func (v valve) indexWidth() float64 { return width(v.record.IndexFigure()) }

func (v valve) darkWidth() float64 { return width(v.record.DarkFigure()) }

func width(i measure.Figure) float64 { return i.High - i.Low }
