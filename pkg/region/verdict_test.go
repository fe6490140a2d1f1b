package region

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/net"
	"valvegrade/pkg/reason"
)

// judged is a region with a valve of 400 of 2500 pixels, at even odds for the first look on both counts, judged under a
// frame.
func judged(f Frame, source Source) *Region {
	if f.Overlap == 0 {
		f.Overlap = 0.9
	}
	mask := block(image.Rect(10, 10, 30, 30), 50, Head)
	r := &Region{
		Mask: mask, HeadPixels: 400, Axis: &Line{}, Sighted: 0.5, PhotoJudgeable: 0.5, Confidence: 0.9, Source: source,
		Evidence: &Evidence{Frame: f},
	}
	r.judge(takeCensus(mask))
	return r
}

func TestFaultsOfThePhoto(t *testing.T) {
	for name, c := range map[string]struct {
		frame Frame
		want  []reason.Code
	}{
		"good":                    {Frame{Judgeable: 0.36}, []reason.Code{}},
		"not judgeable":           {Frame{Judgeable: 0.35}, []reason.Code{reason.NoValve}},
		"the likeliest fault":     {Frame{Judgeable: 0.15, Blurred: 0.2, Moving: 0.4}, []reason.Code{reason.Moving}},
		"nothing in sight":        {Frame{Judgeable: 0.9, Overlap: 0.05}, []reason.Code{reason.NoValve}},
		"no valve to smear":       {Frame{Judgeable: 0.1, Moving: 0.9, Overlap: 0.05}, []reason.Code{reason.NoValve}},
		"no valve in the dark":    {Frame{Judgeable: 0.1, Dark: 0.9, Overlap: 0.05}, []reason.Code{reason.TooDark}},
		"dark explains":           {Frame{Judgeable: 0.1, Dark: 0.5}, []reason.Code{reason.TooDark}},
		"bright":                  {Frame{Judgeable: 0.1, Bright: 0.9}, []reason.Code{reason.TooBright}},
		"blurred":                 {Frame{Judgeable: 0.1, Blurred: 0.9}, []reason.Code{reason.Blurred}},
		"moving and dark":         {Frame{Judgeable: 0.1, Moving: 0.9, Dark: 0.6}, []reason.Code{reason.TooDark, reason.Moving}},
		"a doubt is not a reason": {Frame{Judgeable: 0.9, Blurred: 0.49}, []reason.Code{}},
	} {
		assert.Equal(t, c.want, codes(judged(c.frame, Auto)), name)
	}
}

func TestFaultsOfTheWholePhoto(t *testing.T) {
	for name, c := range map[string]struct {
		seen net.Sighting
		want []reason.Code
	}{
		"good":                   {net.Sighting{Judgeable: 0.9, Moving: 0.4}, nil},
		"doubtful":               {net.Sighting{Judgeable: 0.1}, nil},
		"in the dark":            {net.Sighting{Judgeable: 0.2, Dark: 0.9}, []reason.Code{reason.TooDark}},
		"smeared, whatever else": {net.Sighting{Judgeable: 0.9, Moving: 0.5}, []reason.Code{reason.Moving}},
	} {
		var found []reason.Code
		for _, each := range wholePhoto(&c.seen) {
			found = append(found, each.Code)
		}
		assert.Equal(t, c.want, found, name)
	}
}

func TestMarksAnswerNoValveButNotBadLight(t *testing.T) {
	assert.Empty(t, judged(Frame{Judgeable: 0.1}, ByHand).Reasons)
	assert.Equal(t, []reason.Code{reason.TooDark}, codes(judged(Frame{Dark: 0.9}, ByHand)))
}

func TestLowConfidenceSaysHowLow(t *testing.T) {
	r := judged(Frame{Judgeable: 1}, Auto)
	r.Confidence = 0.62
	r.judge(takeCensus(r.Mask))
	assert.Equal(t, []reason.Code{reason.LowConfidence}, codes(r))
	assert.Contains(t, r.Reasons[0].Advice, "62 %")
}

func TestAnOutlineThatIsProbablyWrongIsNoValve(t *testing.T) {
	r := judged(Frame{Judgeable: 1}, Auto)
	r.Confidence = 0.39
	r.judge(takeCensus(r.Mask))
	assert.Equal(t, []reason.Code{reason.NoValve, reason.LowConfidence}, codes(r))
	assert.Contains(t, r.Reasons[0].Advice, "39 %")
}

func TestConfidence(t *testing.T) {
	e := grid("hh..", "hh..")
	e.Frame.Overlap = 0.8
	p := propose(e)
	assert.InDelta(t, 0.9, p.confidence(), 1e-4, "half of 0.8 and half of a sure mask, 1 - exp(-12)")

	p.setAll([]int{0, 1}, Background) // two of four sure valve cells left out: the overlap can only be a half
	assert.InDelta(t, 0.65, p.confidence(), 1e-4, "half of 0.8 and half of 0.5")

	p.setAll([]int{4, 5}, Background)
	assert.Zero(t, p.confidence(), "no valve")
}

func TestConfidenceFallsWithDoubt(t *testing.T) {
	sure, doubtful := grid("hh..", "hh.."), grid("hh..", "hh..")
	for k := range doubtful.Region {
		for i := range doubtful.Region[k] {
			doubtful.Region[k][i] /= 6
		}
	}
	assert.Less(t, propose(doubtful).confidence(), propose(sure).confidence()-0.05)
}

func TestBothLooksDecide(t *testing.T) {
	r := judged(Frame{Judgeable: 0.36}, Auto)
	assert.Empty(t, r.Reasons)
	for name, doubt := range map[string]func(*Region){
		"less sure of the place":      func(r *Region) { r.Sighted = 0.48 },
		"less sure of the photo":      func(r *Region) { r.PhotoJudgeable = 0.48 },
		"less sure of the window":     func(r *Region) { r.Evidence.Frame.Judgeable = 0.34 },
		"less overlap to be expected": func(r *Region) { r.Evidence.Frame.Overlap = 0.88 },
	} {
		r := judged(Frame{Judgeable: 0.36}, Auto)
		doubt(r)
		r.judge(takeCensus(r.Mask))
		assert.Equal(t, []reason.Code{reason.NoValve}, codes(r), name)

		r.Sighted = 0.6
		r.judge(takeCensus(r.Mask))
		assert.Empty(t, r.Reasons, "%s, but the place is likelier", name)
	}
}

func TestNoLookIsSureBeyondMeasure(t *testing.T) {
	assert.Equal(t, logit(0.995), logit(1))
	assert.InDelta(t, -logit(1), logit(0), 1e-12)
}
