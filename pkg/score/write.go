package score

import (
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

// Decimals of written values: fine enough that rounding never matters, coarse enough that the last bit of a sum does
// not.
const (
	figureDecimals = 4
	pixelDecimals  = 2
)

// TakenLayout is ISO 8601 without a zone, because EXIF has none.
const TakenLayout = "2006-01-02T15:04:05"

// Record returns the written form. Figures are null in a refused photo even where they could be computed: a photo that
// cannot be judged has no index.
//
// A record holds copies only: a pointer into the result would keep its pictures in memory for as long as the record
// lives.
func (r *Result) Record() Record {
	rec := Record{
		Photo: r.Name, ValveInPhoto: r.Valve, ValvesInPhoto: r.Valves, Status: r.Status, Reasons: append([]reason.Reason{}, r.Reasons...),
		Scale: grade.Scale, Version: r.Version, Label: r.Label, Map: r.Map,
	}
	if r.SHA256 != "" {
		rec.SHA256, rec.Width, rec.Height = new(r.SHA256), new(r.Width), new(r.Height)
	}
	if r.Taken != nil {
		rec.Taken = new(r.Taken.Format(TakenLayout))
	}
	if r.Region != nil {
		rec.describeRegion(r.Region, r.shrunk())
	}
	if r.Quality != nil {
		rec.Quality = recordQuality(*r.Quality)
	}
	if r.Status == Scored {
		rec.Written = r.Grade.Write()
		rec.describeDeposit(r.Deposit, r.shrunk())
		if r.Deposit.Painted > 0 {
			rec.Painted, rec.PaintedBy = new(share(r.Deposit.Painted)), r.Region.PaintedBy
		}
	}
	return rec
}

func (rec *Record) describeRegion(r *region.Region, shrunk int) {
	rec.RegionSource, rec.OutlinedBy = new(r.Source), r.OutlinedBy
	rec.RegionConfidence = figure(r.Confidence)
	if r.Ellipse != nil {
		e := r.Ellipse.Enlarged(shrunk)
		rec.HeadEllipse = &HeadEllipse{pixels(e.X), pixels(e.Y), pixels(e.A), pixels(e.B), pixels(e.Angle)}
	}
	if r.Axis != nil {
		l := r.Axis.Enlarged(shrunk)
		rec.StemLine = &StemLine{pixels(l.X1), pixels(l.Y1), pixels(l.X2), pixels(l.Y2), pixels(l.Width)}
	}
}

func (rec *Record) describeDeposit(d *deposit.Deposit, shrunk int) {
	rec.Figures = recordFigures(d.Both)
	rec.Head, rec.Stem = recordRegion(d.Head, shrunk), recordRegion(d.Stem, shrunk)
	rec.Pixels, rec.Unreadable = new(d.Both.Pixels*shrunk*shrunk), share(d.Both.Unreadable)
	rec.BuildUp, rec.WrittenThick = new(d.BuildUp), WriteThick(d.Heavy)
	rec.Colour, rec.Texture = recordColour(d.Colour), recordTexture(d.Texture)
}

func recordFigures(f deposit.Figures) Figures {
	return Figures{f.Reading.Write(), new(f.Shares.Write())}
}

func recordRegion(f *deposit.Figures, shrunk int) *RegionFigures {
	if f == nil {
		return nil
	}
	return &RegionFigures{recordFigures(*f), f.Pixels * shrunk * shrunk, share(f.Unreadable)}
}

func recordColour(c deposit.Colour) *Colour {
	return &Colour{
		DepositL: figure(c.DepositL), DepositA: figure(c.DepositA), DepositB: figure(c.DepositB),
		BareL: figure(c.BareL), BareA: figure(c.BareA), BareB: figure(c.BareB),
		DifferenceDE00: figure(c.DifferenceDE00), DarknessL: figure(c.DarknessL),
	}
}

func recordTexture(t deposit.Texture) *Texture {
	return &Texture{
		Contrast: figure(t.ContrastGLCM), Entropy: figure(t.EntropyBits), Correlation: figure(t.CorrelationGLCM),
		Homogeneity: figure(t.HomogeneityGLCM), LBPEntropy: figure(t.LBPEntropyBits),
		ReliefFine: figure(t.ReliefFine), ReliefCoarse: figure(t.ReliefCoarse),
	}
}

func recordQuality(q photo.Quality) *Quality {
	return &Quality{
		ValveShare: figure(q.ValveShare), ValveRadius: figure(q.ValveRadius), Luminance: figure(q.Luminance),
		FrameLuminance: figure(q.FrameLuminance), Signal: figure(q.Signal),
		Black: figure(q.Black), Glare: figure(q.Glare),
		BlurSigma: figure(q.Sharpness), Motion: figure(q.Motion),
	}
}

func share(v float64) measure.Number  { return measure.Rounded(v, measure.ShareDecimals) }
func figure(v float64) measure.Number { return measure.Rounded(v, figureDecimals) }
func pixels(v float64) measure.Number { return measure.Rounded(v, pixelDecimals) }
