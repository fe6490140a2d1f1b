package pdf

import (
	"valvegrade/pkg/trend"
)

// history is the index over the odometer: chart and table of the engine, then of each cylinder, smaller.
func (r *writer) history() ([]block, error) {
	if r.Trend == nil {
		return nil, nil
	}
	var out []block
	above := stack{r.heading(chapter, 0, r.Texts.History), gap(2)}
	for n, s := range r.SeriesShown() {
		drawn, err := r.SeriesChart(s)
		if err != nil {
			return nil, err
		}
		drawn.Title.Text = "" // the heading says it
		shown := chart{drawn, trend.ChartWidth, trend.ChartHeight, 90}
		above = append(above, r.heading(section, 1, r.SeriesName(s)), gap(1))
		if n == 0 {
			above = append(above, shown, gap(1), r.paragraphs(body, r.SeriesSentences(s)), gap(1), r.readings(s, true))
		} else {
			above = append(above, columns{photoGap, []block{shown, r.readings(s, false)}, []float64{0.54, 0.46}}, gap(1), r.paragraphs(body, r.SeriesSentences(s)))
		}
		out, above = append(out, above, gap(6)), nil
	}
	return append(out, r.notes(r.Texts.Notes, r.Trend.Notes)...), nil
}

// readings of a series, one a row: with days and stages, or, beside a chart, by their odometer readings alone.
func (r *writer) readings(s trend.Series, dated bool) table {
	t := table{head: []sized{
		r.right(caption, r.Texts.Odometer), r.right(caption, r.Texts.Index), r.right(caption, r.Texts.Interval),
	}}
	if dated {
		t.head = append(append([]sized{r.words(caption, r.Texts.Date)}, t.head...), r.words(caption, r.Texts.Stage))
	}
	for _, l := range s.Lines {
		for _, reading := range l.Readings {
			row := []sized{
				r.right(cell, r.Locale.Far(reading.Odometer)),
				r.right(cell, r.Locale.Number(reading.Index.Value, 1)), r.right(cell, r.Locale.Range(reading.Index, 1)),
			}
			if dated {
				row = append(append([]sized{r.words(cell, r.Locale.Date(reading.Date))}, row...), r.words(cell, r.StageName(reading.Stage)))
			}
			t.rows = append(t.rows, row)
		}
	}
	return t
}
