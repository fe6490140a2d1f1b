package score

import (
	"fmt"
	"image"

	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

// Worker scores one photo after the other and outlives failures of the program: the photo that caused one is refused,
// and the next has fresh nets. The nets are loaded for the first photo, or by Warm. Not safe for concurrent use.
type Worker struct {
	options Options
	scorer  *Scorer
}

// NewWorker returns a Worker that has loaded nothing yet. Close it after use.
func NewWorker(o Options) *Worker { return &Worker{options: o} }

// Warm loads the nets and lets them look at an empty picture, so that the first photo takes no longer than the next.
func (w *Worker) Warm() error {
	if err := w.load(); err != nil {
		return err
	}
	w.scorer.warm()
	return nil
}

func (w *Worker) load() (err error) {
	if w.scorer == nil {
		w.scorer, err = New(w.options)
	}
	return err
}

// Score is Scorer.Score. The error says why the nets could not be loaded.
func (w *Worker) Score(path string) ([]*Result, error) {
	if err := w.load(); err != nil {
		return nil, err
	}
	valves, panicked := scoreSafely(w.scorer, path)
	if panicked { // whatever state the failure left behind must not reach the next photo
		w.Close()
	}
	return valves, nil
}

// Close frees the nets; another Score loads them again.
func (w *Worker) Close() {
	if w.scorer != nil {
		w.scorer.Close()
		w.scorer = nil
	}
}

// scoreSafely turns a program failure into a refusal of the one photo that caused it.
func scoreSafely(s *Scorer, path string) (valves []*Result, panicked bool) {
	defer func() {
		if failure := recover(); failure != nil {
			valves = alone(s.begin(path).refuse(reason.With(reason.Failed, fmt.Sprint(failure))))
			panicked = true
		}
	}()
	return s.Score(path), false
}

// warm runs both looks once, on marks in the middle of a grey picture, because a net's first run takes several times as
// long as the others.
func (s *Scorer) warm() {
	grey := image.NewNRGBA(image.Rect(0, 0, 640, 480))
	for i := range grey.Pix {
		grey.Pix[i] = 0x80 | uint8(i&3/3*0x7f) // opaque
	}
	p := &photo.Photo{Pixels: grey, Width: 640, Height: 480, Shrunk: 1, Whole: image.Pt(640, 480)}
	_, _ = s.finder.Find(p, nil)
	_, _ = s.finder.Find(p, &region.Marks{Head: region.Ellipse{X: 320, Y: 240, A: 120, B: 100}})
}
