package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"valvegrade/internal/truth"
	"valvegrade/pkg/measure"
)

// remarks tell which photos were treated wrongly, and of the graded valves which are furthest off.
func (t *trial) remarks(most int) []string {
	var lines, rightly []string
	for _, v := range firsts(t.asked(truth.Refuse)) {
		if v.refused {
			rightly = append(rightly, strings.Join(v.reasons, ", "))
		} else {
			lines = append(lines, fmt.Sprintf("bad, not refused   %-28s %s", v.Photo, v.Refuse))
		}
	}
	lines = append(counted("bad, refused for", rightly), lines...)
	good := t.asked(truth.Judge)
	for _, v := range firsts(good) {
		if v.refused {
			lines = append(lines, fmt.Sprintf("good, refused      %-28s %s", v.Photo, strings.Join(v.reasons, ", ")))
		}
	}
	for _, v := range good {
		if !v.refused && !(v.whole > foundFrom) {
			lines = append(
				lines,
				fmt.Sprintf("not found          %-28s valve %d, overlap %.2f", v.Photo, v.Valve, v.whole),
			)
		}
	}
	lines = append(lines, reliability(t.graded())...)
	worst := t.graded()
	slices.SortStableFunc(worst, func(a, b valve) int { return cmp.Compare(math.Abs(b.off()), math.Abs(a.off())) })
	for _, v := range worst[:min(most, len(worst))] {
		got, want := v.index()
		lines = append(lines, fmt.Sprintf("off by %5.1f       %-28s index %5.1f, truth %5.1f; head %.2f, stem %.2f; %s",
			math.Abs(v.off()), v.Photo, got, want, v.head, v.stem, v.Look))
	}
	return lines
}

// counted says how often each was said, the most frequent first.
func counted(what string, said []string) []string {
	count := map[string]int{}
	for _, one := range said {
		count[one]++
	}
	kinds := unique(said)
	slices.SortStableFunc(kinds, func(a, b string) int { return cmp.Compare(count[b], count[a]) })
	for i, kind := range kinds {
		kinds[i] = fmt.Sprintf("%-18s %-28s %d", what, kind, count[kind])
	}
	return kinds
}

// valveDetail is a valve in the file; null is what was not measured, or has no truth.
type valveDetail struct {
	Photo   string         `json:"photo"`
	Valve   int            `json:"valve"`
	Refused bool           `json:"refused"`
	Reasons []string       `json:"reasons"`
	Overlap measure.Number `json:"overlap"`
	Head    measure.Number `json:"head_iou"`
	Stem    measure.Number `json:"stem_iou"`
	Index   measure.Number `json:"index"`
	Low     measure.Number `json:"index_low"`
	High    measure.Number `json:"index_high"`
	Truth   measure.Number `json:"index_truth"`
	Dark    measure.Number `json:"dark"`
	Crust   measure.Number `json:"dark_truth"`
}

func (t *trial) details() any {
	details := make([]valveDetail, len(t.valves))
	for i, v := range t.valves {
		share := func(x float64) measure.Number { return measure.Rounded(x, measure.ShareDecimals) }
		d := valveDetail{
			Photo: v.Photo, Valve: v.Valve, Refused: v.refused, Reasons: v.reasons,
			Overlap: share(v.whole), Head: share(v.head), Stem: share(v.stem),
		}
		if v.Both != nil {
			d.Truth, d.Crust = points(v.Both.Index), points(crust(v.Both.Shares))
		}
		if v.record != nil {
			d.Index, d.Low, d.High = v.record.Index, v.record.IndexLow, v.record.IndexHigh
			d.Dark = points(crust(v.record.Shares.Shares()))
		}
		details[i] = d
	}
	return details
}
