package report

import (
	"fmt"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// stateView is a valve in one visit as the page shows it.
type stateView struct {
	T *texts.Texts
	// Title is "" with a single visit.
	Title string
	Plate Plate
	Known bool
	// Dark is the dark deposit with its interval, "" in results of versions that had none.
	Dark         string
	Index, Range string
	// Bands are the grades on a ruler of 100 units; the interval is Span wide from Low, the index at Mark.
	Bands           []segment
	Low, Span, Mark float64
	// Steps are bars of how likely each grade is, StepsAlt the same in words.
	Steps     []bar
	StepsAlt  string
	BuildUp   string
	Photos    []photoView
	Overruled string
}

// bar is one of a row of bars that stand on a line.
type bar struct {
	Class        string
	X, Y, Height float64
}

// segment is a piece of a bar of 100 units.
type segment struct {
	Class, Words string
	X, Width     float64
}

// photoView is a photo as the page shows it.
type photoView struct {
	Photo
	T                   *texts.Texts
	PlainAlt, MarkedAlt string
	Refused             bool
	Shares              []segment
	Figures             string
	Remarks             []string
	LeftOut, Painted    string
}

// StateView shows a valve in one visit.
func (p page) StateView(v Valve, visit int) stateView {
	state := v.States[visit]
	s := stateView{T: p.T, Plate: p.Plate(state.Reading), Known: state.Index.Known(), Overruled: p.OverruledLine(state)}
	if len(p.Visits) > 1 {
		s.Title = p.Visits[visit].Title
	}
	if s.Known {
		if state.Dark.Known() {
			s.Dark = p.Percentage(state.Dark)
		}
		s.Index, s.Range = p.IndexValue(state.Index.Value), p.Locale.Range(state.Index, 0)
		s.Bands = gradeBands()
		// Two decimals place a mark on a bar finer than any screen.
		s.Low, s.Span = round(state.Index.Low), round(state.Index.High-state.Index.Low)
		s.Mark = round(min(99.2, state.Index.Value))
	}
	s.Steps, s.BuildUp = p.steps(state.Reading), p.BuildUpLine(state)
	if s.Steps != nil {
		s.StepsAlt = p.StepsAlt(state.Reading)
	}
	slider := p.Slider(v)
	inSlider := slider != nil && !slider.Registered()
	for _, photo := range state.Photos {
		shown := p.photoView(v, visit, photo)
		if inSlider && shown.Marked != nil && photo.File == v.Shown(visit).File {
			shown.Plain, shown.PlainAlt = shown.Marked, shown.MarkedAlt // the plain photo is in the slider already
			shown.Marked = nil
		}
		s.Photos = append(s.Photos, shown)
	}
	return s
}

// steps stand on a line 24 units below the top, 12 units apart; the least likely is still seen.
func (p page) steps(r Reading) []bar {
	const apart, base, least = 12, 24, 1.5
	var bars []bar
	for n, step := range p.Steps(r) {
		high := round(max(least, base*step.Share))
		bars = append(bars, bar{step.Class, float64(apart * n), base - high, high})
	}
	return bars
}

func round(v float64) float64 { return measure.Rounded(v, 2).Value() }

// gradeBands are the grades along the index.
func gradeBands() []segment {
	limits := append(append([]float64{0}, grade.Limits()...), 100)
	var bands []segment
	for value := range grade.Names() {
		bands = append(
			bands,
			segment{Class: fmt.Sprint(value), X: limits[value], Width: limits[value+1] - limits[value]},
		)
	}
	return bands
}

func (p page) photoView(v Valve, visit int, photo Photo) photoView {
	record := photo.Record
	shown := photoView{
		Photo: photo, T: p.T, Refused: record.Status != score.Scored,
		LeftOut: p.LeftOutLine(photo), Painted: p.PaintedLine(record),
		MarkedAlt: fmt.Sprintf(p.T.MarkedAlt, v.Cylinder, v.Number),
	}
	said := p.T.NotGraded
	if !shown.Refused {
		said = p.T.GradeName(&grade.Grade{Value: *record.Grade, Borderline: *record.Borderline, Probabilities: record.Odds()})
		shown.Shares = p.shares(record.Shares)
		if p.Workshop {
			shown.Figures = p.PhotoFigures(record)
		}
	}
	shown.PlainAlt = fmt.Sprintf(p.T.PhotoAlt, v.Cylinder, v.Number, p.Visits[visit].Title, said)
	for _, remark := range p.Remarks(record) {
		shown.Remarks = append(shown.Remarks, sentence(remark)+".")
	}
	return shown
}

// shares lays the classes side by side.
func (p page) shares(s *measure.WrittenShares) []segment {
	var bar []segment
	x := 0.0
	for _, share := range p.ClassShares(s) {
		width := 100 * share.Value
		bar = append(bar, segment{share.Class, share.Words, round(x), round(width)})
		x += width
	}
	return bar
}
