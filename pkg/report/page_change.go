package report

import (
	"fmt"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/score"
)

// sliderView is a valve in two visits on each other.
type sliderView struct {
	texts.Between
	First, Second       *Picture
	BeforeAlt, AfterAlt string
	Label               string
	// Key explains heads that are seen from one view; "" for two photos as they are.
	Key string
}

// Registered reports whether both are seen from one view.
func (s *sliderView) Registered() bool { return s.Key != "" }

// best is the scored photo with the most readable valve under the surest outline, nil when none can
// be shown.
func (s State) best() *Photo {
	var best *Photo
	most := -1.0
	for i, p := range s.Photos {
		if p.Plain == nil || p.Record.Status != score.Scored || p.LeftOut != nil {
			continue
		}
		if weight := p.weight(); weight > most {
			best, most = &s.Photos[i], weight
		}
	}
	return best
}

// weight is the readable share of the frame times the outline's confidence, 0 when either is not known.
func (p Photo) weight() float64 {
	r := p.Record
	if r.Pixels == nil || r.Width == nil || r.Height == nil || !r.Unreadable.Known() || !r.RegionConfidence.Known() {
		return 0
	}
	return float64(*r.Pixels) / float64(*r.Width**r.Height) * (1 - r.Unreadable.Value()) * r.RegionConfidence.Value()
}

// Shown is the photo to show a visit by: the one that was compared, else the best one, nil when none can be shown. A
// refused one never stands for a visit: it may show anything.
func (v Valve) Shown(visit int) *Photo {
	state := v.States[visit]
	if c := v.Comparison; c != nil {
		if p := state.of([...]string{c.BeforeSHA256, c.AfterSHA256}[visit]); p != nil {
			return p
		}
	}
	return state.best()
}

// of returns the photo of that hash, nil when it was not graded or cannot be shown.
func (s State) of(hash string) *Photo {
	for i, p := range s.Photos {
		if p.Plain != nil && p.Record.Status == score.Scored && p.Record.SHA256 != nil && *p.Record.SHA256 == hash {
			return &s.Photos[i]
		}
	}
	return nil
}

// Slider shows a valve before and after on each other, nil when one of them cannot be shown: from one view where the
// photos were laid on each other, else as they are.
func (p page) Slider(v Valve) *sliderView {
	if len(v.States) != 2 {
		return nil
	}
	before, after := v.Shown(0), v.Shown(1)
	if before == nil || after == nil {
		return nil
	}
	alt := func(visit int) string {
		return fmt.Sprintf(
			p.T.PhotoAlt,
			v.Cylinder,
			v.Number,
			p.Visits[visit].Title,
			p.GradeText(v.States[visit].Reading),
		)
	}
	s := &sliderView{
		Between: p.Between, First: before.Plain, Second: after.Plain, BeforeAlt: alt(0), AfterAlt: alt(1),
		Label: p.Between.Divider + ": " + fmt.Sprintf(p.T.ValveLine, v.Cylinder, v.Number),
	}
	if c := v.Comparison; c.BeforeHead != nil && c.AfterHead != nil {
		s.First, s.Second, s.Key = c.BeforeHead, c.AfterHead, p.T.HeadsKey
	}
	return s
}

// comparisonView is what cleaning did to a valve as the page shows it.
type comparisonView struct {
	*Comparison
	T             *texts.Texts
	Between       texts.Between
	Title, MapAlt string
	Facts, Left   []Fact
}

// ComparisonView shows what cleaning did to a valve.
func (p page) ComparisonView(v Valve) comparisonView {
	c := v.Comparison
	return comparisonView{
		Comparison: c, T: p.T, Between: p.Between, Title: p.ComparisonTitle(c), MapAlt: fmt.Sprintf(p.Between.ResidueAlt, v.Cylinder, v.Number),
		Facts: p.ComparisonFacts(c), Left: p.LeftFacts(c),
	}
}
