package deposit

import (
	"errors"
	"fmt"

	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

// Errors of Measure; each comes with the facts of the case.
var (
	ErrNoValve  = errors.New("deposit: no valve pixels to measure")
	ErrMismatch = errors.New("deposit: photo, region and evidence do not belong together")
)

// Options of Measure; the zero value is right.
type Options struct {
	// Calibration of the intervals; nil means DefaultCalibration.
	Calibration *Calibration
}

// Shares of the valve that may be set aside before the result says so, or the photo is refused.
const (
	muchGlare     = 0.08
	tooLittleLeft = 0.60
)

// Measure measures the deposit on the valve that r found in p.
//
// It returns an error when the arguments cannot belong together or the region holds no valve. A photo in which most of
// the valve cannot be read is no error: the result then carries the refusal among its Reasons.
func Measure(p *photo.Photo, r *region.Region, o Options) (*Deposit, error) {
	if err := check(p, r); err != nil {
		return nil, err
	}
	box := r.Bounds()
	if box.Empty() {
		return nil, fmt.Errorf("%w: %s", ErrNoValve, p.Name)
	}
	calibration := DefaultCalibration()
	if o.Calibration != nil {
		calibration = *o.Calibration
	}

	classes := classify(r.Mask, box, r.Evidence)
	glare, shadow := setAside(p, classes, box)
	painted := paint(classes, r, box)
	head, stem := count(r.Mask, classes, box)
	d := &Deposit{Map: classes, Both: head.plus(stem).figures(), Head: head.seen(), Stem: stem.seen()}
	d.bound(doubt(r, classes, head, stem, calibration))
	d.trust(painted)

	view := viewOf(p, classes, box)
	defer view.release()
	view.evenOut()
	relief := view.relief()
	d.Colour = view.colour()
	d.Texture = view.texture(relief)
	d.Reasons = d.doubts(glare, shadow)
	return d, nil
}

func check(p *photo.Photo, r *region.Region) error {
	if r.Mask.Rect != p.Pixels.Rect {
		return fmt.Errorf("%w: photo %v, mask %v", ErrMismatch, p.Pixels.Rect, r.Mask.Rect)
	}
	e := r.Evidence
	if e == nil || e.Cols < 1 || e.Rows < 1 {
		return fmt.Errorf("%w: no evidence", ErrMismatch)
	}
	for k := range 3 {
		if len(e.Region[k]) != e.Cols*e.Rows || len(e.Deposit[k]) != e.Cols*e.Rows {
			return fmt.Errorf(
				"%w: evidence of %d x %d cells has maps of %d and %d",
				ErrMismatch,
				e.Cols,
				e.Rows,
				len(e.Region[k]),
				len(e.Deposit[k]),
			)
		}
	}
	return nil
}

// seen returns the figures of a region, nil when none of it is visible.
func (t tally) seen() *Figures {
	f := t.figures()
	if f.Pixels == 0 {
		return nil
	}
	return &f
}

// bound puts the intervals around the figures, and adds what is known beside them.
func (d *Deposit) bound(i Certainty) {
	d.Both.Reading = i.Both
	d.Grades, d.Draws, d.Heavy = i.Grades, i.Draws, i.Heavy
	d.BuildUp = BuildUpOf(d.Heavy.Chance, d.Both.Dark)
	if d.Head != nil {
		d.Head.Reading = i.Head
	}
	if d.Stem != nil {
		d.Stem.Reading = i.Stem
	}
}

// doubts lists what speaks against the measurement.
func (d *Deposit) doubts(glare, shadow int) []reason.Reason {
	var found []reason.Reason
	burnt := float64(glare) / float64(d.Both.Pixels)
	if d.Both.Unreadable > tooLittleLeft {
		code, what := reason.MostlyUnreadable, "glare"
		byHand := int(d.Both.Unreadable*float64(d.Both.Pixels)) - glare - shadow
		switch {
		case byHand > max(glare, shadow):
			code, what = reason.MostlyAside, "painted aside"
		case shadow > glare:
			code, what = reason.MostlyShadow, "black shadow"
		}
		// Black or white all over, a photo may show no valve at all.
		detail := fmt.Sprintf(
			"%.0f %% of what was taken for the valve is unreadable, most of it %s",
			100*d.Both.Unreadable,
			what,
		)
		found = append(found, reason.With(code, detail))
	} else if burnt > muchGlare {
		found = append(found, reason.With(reason.Glare, fmt.Sprintf("%.0f %% of the valve is glare", 100*burnt)))
	}
	return found
}
