package report

import (
	"fmt"
	"html/template"

	"gonum.org/v1/plot"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

// SeriesShown are the series of the history that the report shows: the engine's worst cylinder, where it has several, then
// each cylinder that was measured more than once.
func (m *Model) SeriesShown() []trend.Series {
	var shown []trend.Series
	for _, s := range m.Trend.Series {
		readings := 0
		for _, l := range s.Lines {
			readings += len(l.Readings)
		}
		if s.Kind == trend.EngineWorst && m.Layout.Cylinders > 1 || s.Kind == trend.OfCylinder && (readings > 1 || m.Layout.Cylinders == 1) {
			shown = append(shown, s)
		}
	}
	return shown
}

// SeriesName is how a series is called.
func (m *Model) SeriesName(s trend.Series) string {
	if s.Kind == trend.EngineWorst {
		return m.Texts.Worst
	}
	return fmt.Sprintf("%s %d", m.Texts.Cylinder, s.Cylinder)
}

// SeriesSentences tell growth and forecast of the line that is still growing, the last one.
func (m *Model) SeriesSentences(s trend.Series) []string {
	if len(s.Lines) == 0 {
		return nil
	}
	last := s.Lines[len(s.Lines)-1]
	var sentences []string
	if growth := m.growthText(last); growth != "" {
		sentences = append(sentences, m.Texts.Growth+": "+growth)
	}
	return append(sentences, m.forecastText(last))
}

// growthText says how fast a line grows, "" when it does not say.
func (m *Model) growthText(l trend.Line) string {
	if l.Growth == nil {
		return ""
	}
	g := l.Growth
	return fmt.Sprintf(m.Texts.GrowthLine, m.Locale.Number(g.Value, 1),
		fmt.Sprintf(m.Texts.Range, m.Locale.Number(g.Low, 1), m.Locale.Number(g.High, 1)), m.Locale.Far(trend.Per))
}

// forecastText is the forecast of a line, to a thousand as the terminal shows it, or what is missing for one.
func (m *Model) forecastText(l trend.Line) string {
	f := l.Forecast
	if f == nil {
		return fmt.Sprintf(m.Texts.NoForecast, m.Texts.Say(l.Missing))
	}
	about := func(distance float64) string { return m.Locale.Far(wholeThousand(distance)) }
	return fmt.Sprintf(
		m.Texts.ForecastLine,
		fmt.Sprintf(m.Texts.GradeOf, f.Grade, m.Texts.Grades[f.Grade].Name),
		about(f.Odometer.Value),
		about(f.Odometer.Low),
		about(f.Odometer.High),
	)
}

// SeriesChart shows a series over the odometer.
func (m *Model) SeriesChart(s trend.Series) (*plot.Plot, error) {
	return s.Chart(m.Locale.ChartWords(m.SeriesName(s)))
}

// ChartWords are those of a chart over the odometer.
func (l Locale) ChartWords(title string) trend.ChartWords {
	return trend.ChartWords{
		Title: title, Odometer: l.texts.Odometer + ", " + string(l.Unit), Index: l.texts.Index, Cleaned: l.texts.Cleaned,
		Estimate: l.texts.Estimate, Grades: l.texts.GradeNames(), Number: func(v float64) string { return l.Number(v, 0) },
	}
}

// seriesView is one index over the odometer as the page shows it.
type seriesView struct {
	Name, Alt string
	Chart     template.URL
	Sentences []string
	Readings  []trend.Reading
}

// SeriesShown are those of the model, with their charts.
func (p page) SeriesShown() ([]seriesView, error) {
	var shown []seriesView
	for _, s := range p.Model.SeriesShown() {
		drawn, err := p.SeriesChart(s)
		if err != nil {
			return nil, err
		}
		chart, err := chartURL(drawn, trend.ChartWidth, trend.ChartHeight)
		if err != nil {
			return nil, err
		}
		view := seriesView{Name: p.SeriesName(s), Alt: fmt.Sprintf(p.T.ChartAlt, p.SeriesName(s)), Chart: chart}
		for _, l := range s.Lines {
			view.Readings = append(view.Readings, l.Readings...)
		}
		view.Sentences = p.SeriesSentences(s)
		shown = append(shown, view)
	}
	return shown, nil
}

// StageName is the word for a stage.
func (m *Model) StageName(s inspection.Stage) string {
	switch s {
	case inspection.Before:
		return m.Texts.Cleaning.Before
	case inspection.After:
		return m.Texts.Cleaning.After
	default:
		return m.Texts.Routine
	}
}
