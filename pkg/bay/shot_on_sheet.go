package bay

import (
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Shot is one photo.
type Shot struct {
	File string `json:"file"`
	// State is arriving, reading, good or refused.
	State string `json:"state"`
	// Picture changes when the photo's pictures do.
	Picture  string   `json:"picture"`
	Width    int      `json:"width"`
	Height   int      `json:"height"`
	Taken    string   `json:"taken"`
	Cylinder int      `json:"cylinder"`
	Valves   []int    `json:"valves"`
	LeftOut  *Signed  `json:"left_out"`
	Seen     []InShot `json:"seen"`
	// Arrived is true for a photo that came while the inspection was open; Waited is how long it took to its grade, in
	// milliseconds.
	Arrived bool `json:"arrived"`
	Waited  int  `json:"waited_ms"`
	// Marks says what was set by hand.
	Marks string `json:"marks"`
}

// Signed says who decided something, and why.
type Signed struct {
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// InShot is a valve as a photo shows it, or why it could not be judged.
type InShot struct {
	Figure
	Coverage   measure.Number   `json:"coverage"`
	Shares     []measure.Number `json:"shares"`
	Confidence measure.Number   `json:"confidence"`
	ByHand     bool             `json:"by_hand"`
	OutlinedBy string           `json:"outlined_by"`
	Unreadable measure.Number   `json:"unreadable"`
	// Painted is the share of the valve whose classes somebody painted, PaintedBy who.
	Painted   *measure.Number    `json:"painted"`
	PaintedBy string             `json:"painted_by"`
	Head      *score.HeadEllipse `json:"head"`
	Stem      *score.StemLine    `json:"stem"`
	Reasons   []Reason           `json:"reasons"`
}

// Reason is what speaks against a photo, or for caution.
type Reason struct {
	Code    string `json:"code"`
	Short   string `json:"short"`
	Advice  string `json:"advice"`
	Refuses bool   `json:"refuses"`
}

var states = map[state]string{arriving: "arriving", waiting: "reading"}

// told is the photo as the page shows it.
func (s *shot) told(f *inspection.Form) Shot {
	t := Shot{
		File: s.file, State: states[s.state], Arrived: s.live, Waited: int(s.waited.Milliseconds()), Seen: []InShot{}, Valves: []int{},
		Picture: s.picture(),
	}
	e := f.Entry(s.file)
	if e != nil {
		t.Cylinder, t.Valves = e.Cylinder, e.Valves
		if e.LeftOut != nil {
			t.LeftOut = &Signed{e.LeftOut.By, e.LeftOut.Reason}
		}
	}
	if s.stamp.marksSize > 0 {
		t.Marks = "outline"
	}
	if s.state != graded {
		return t
	}
	if t.State = "refused"; s.good(e) {
		t.State = "good"
	}
	for _, r := range s.judged(e) {
		if r.Width != nil {
			t.Width, t.Height = *r.Width, *r.Height
		}
		if r.Taken != nil {
			t.Taken = *r.Taken
		}
		t.Seen = append(t.Seen, inShot(r))
	}
	return t
}

// picture names the state of the photo's pictures.
func (s *shot) picture() string {
	if s.state != graded || s.thumb == nil {
		return ""
	}
	return s.stamp.time.Format("150405.000") + "-" + s.stamp.marksTime.Format("150405.000")
}

func inShot(r score.Record) InShot {
	t := InShot{
		Figure:   figureOfRecord(r),
		Coverage: r.Coverage, Confidence: r.RegionConfidence, ByHand: r.ByHand(), OutlinedBy: r.OutlinedBy, Unreadable: r.Unreadable,
		Painted: r.Painted, PaintedBy: r.PaintedBy, Head: r.HeadEllipse, Stem: r.StemLine, Reasons: []Reason{},
	}
	if r.Shares != nil {
		t.Shares = []measure.Number{r.Shares.Bare, r.Shares.Film, r.Shares.Medium, r.Shares.Heavy}
	}
	for _, x := range r.Reasons {
		t.Reasons = append(t.Reasons, tellReason(x))
	}
	return t
}

func tellReason(x reason.Reason) Reason {
	entry, _ := reason.Find(x.Code)
	return Reason{string(x.Code), entry.Short, x.WithoutTyping(), entry.Refuses}
}
