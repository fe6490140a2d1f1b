package region

import (
	"cmp"
	"errors"
	"image"
	"slices"

	"valvegrade/internal/net"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
)

// FinderOptions are the choices of a Finder; the zero value is the normal one.
type FinderOptions struct {
	// Nets are ONNX files to use in place of the embedded nets, each for the look that its shape tells.
	Nets [][]byte
	// Stage, when set, receives a label picture (values Background, Head, Stem) of each step of Find for each valve,
	// numbered in order: "1-proposed" and "2-tidied". It is for looking into the work, and costs the time of a mask
	// each.
	Stage func(name string, mask *image.Gray)
}

// Finder finds the valves in photos, one photo at a time.
type Finder struct {
	eyes  *net.Eyes
	stage func(name string, mask *image.Gray)
}

// NewFinder loads the nets. Close the Finder after use.
func NewFinder(o FinderOptions) (*Finder, error) {
	eyes, err := net.New(o.Nets...)
	if err != nil {
		return nil, err
	}
	return &Finder{eyes, o.Stage}, nil
}

// Close frees the nets; the Finder cannot be used afterwards.
func (f *Finder) Close() { f.eyes.Close() }

// Find returns where the valves of a photo are, from left to right, at least one Region. Outlines of marks replace
// what the nets propose and give a Region each; the second look is taken all the same, for its evidence about deposit
// and light. Beside them the nets propose further valves where the marks say so. Paint of marks is handed on to package
// deposit.
//
// A photo without a valve is no error: it gives a Region with an empty mask and a reason. Valves that cannot be judged
// beside others that can are counted in OtherValves. Errors are marks that do not fit the photo, and nets that cannot
// be run.
func (f *Finder) Find(p *photo.Photo, marks *Marks) ([]*Region, error) {
	if p == nil || p.Pixels == nil {
		return nil, errors.New("region: no photo")
	}
	valves, err := f.find(p, marks)
	if err == nil && marks != nil {
		marks.wear(valves)
	}
	return valves, err
}

func (f *Finder) find(p *photo.Photo, marks *Marks) ([]*Region, error) {
	if marks != nil && marks.Outlined() {
		return f.outlined(p, marks)
	}
	found, err := f.proposed(p)
	if err != nil {
		return nil, err
	}
	return choose(nil, found), nil
}

// proposed returns what the nets see, in the order of the first look, at least one Region.
func (f *Finder) proposed(p *photo.Photo) ([]*Region, error) {
	seen, err := f.eyes.Find(p.Pixels)
	if err != nil {
		return nil, err
	}
	if len(seen.Valves) == 0 {
		return []*Region{noValve(seen, p.Pixels.Rect)}, nil
	}
	spoilt := wholePhoto(seen)
	found := make([]*Region, len(seen.Valves))
	for i, valve := range seen.Valves {
		out, err := f.eyes.Read(p.Pixels, valve.Box)
		if err != nil {
			return nil, err
		}
		found[i] = f.automatic(evidence(out), valve.Probability, seen.Judgeable, p.Pixels.Rect)
		if !reason.Refuses(found[i].Reasons) {
			found[i].Reasons = append(slices.Clone(spoilt), found[i].Reasons...)
		}
	}
	return found, nil
}

// outlined returns the valves that marks outline and, where these leave others to the nets, those on which no outline
// lies.
func (f *Finder) outlined(p *photo.Photo, marks *Marks) ([]*Region, error) {
	var byHand, others []*Region
	for _, o := range marks.outlines() {
		r, err := f.byHand(p.Pixels, o, marks.By)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(byHand, r.isSameAs) {
			return nil, wrongMarks("two outlines lie on each other: a valve has one")
		}
		byHand = append(byHand, r)
	}
	if marks.FindOthers {
		found, err := f.proposed(p)
		if err != nil {
			return nil, err
		}
		others = slices.DeleteFunc(found, func(r *Region) bool {
			return r.pixels() == 0 || slices.ContainsFunc(byHand, r.isSameAs)
		})
	}
	return choose(byHand, others), nil
}

func evidence(o *net.Output) *Evidence {
	return &Evidence{o.Cols, o.Rows, o.Left, o.Top, o.CellWidth, o.CellHeight, o.Region, o.Deposit, Frame(o.Frame)}
}

// noValve is the Region of a photo in which the first look sees no valve: because of the photo's faults, or because
// there is none.
func noValve(seen *net.Sighting, size image.Rectangle) *Region {
	r := &Region{Mask: image.NewGray(size), Source: Auto, Reasons: faults(frameOf(seen), surelyFault)}
	if len(r.Reasons) == 0 {
		r.Reasons = []reason.Reason{reason.Of(reason.NoValve)}
	}
	return r
}

// wholePhoto returns what the first look says against the photo although it sees a valve: the second one sees its window
// alone, lifted out of the dark.
func wholePhoto(seen *net.Sighting) []reason.Reason { return faults(frameOf(seen), stateLimit) }

func frameOf(seen *net.Sighting) Frame {
	return Frame{Dark: seen.Dark, Bright: seen.Bright, Blurred: seen.Blurred, Moving: seen.Moving}
}

// automatic outlines the valve by the second look's evidence.
func (f *Finder) automatic(e *Evidence, sighted, judgeable float64, size image.Rectangle) *Region {
	proposed := propose(e)
	if e.Frame.outOfSight() {
		proposed.clear()
	}
	f.show("1-proposed", proposed, size)
	head := proposed.tidy()
	f.show("2-tidied", proposed, size)
	r := &Region{
		Mask:           proposed.enlarge(size),
		Ellipse:        head,
		Sighted:        sighted,
		PhotoJudgeable: judgeable,
		Confidence:     proposed.confidence(),
		Source:         Auto,
		Evidence:       e,
	}
	return r.finish(nil)
}

// byHand draws an outline that somebody set, and looks at it for evidence.
func (f *Finder) byHand(img *image.NRGBA, o Outline, by string) (*Region, error) {
	width, height := img.Rect.Dx(), img.Rect.Dy()
	if err := o.check(width, height); err != nil {
		return nil, err
	}
	head := o.Head.ordered()
	r := &Region{
		Mask: o.draw(width, height), Ellipse: &head, Sighted: 1, PhotoJudgeable: 1, Confidence: 1, Source: ByHand, OutlinedBy: by,
	}
	box := r.Bounds()
	out, err := f.eyes.Read(img, net.Box{
		Left: float64(box.Min.X), Top: float64(box.Min.Y), Right: float64(box.Max.X), Bottom: float64(box.Max.Y),
	})
	if err != nil {
		return nil, err
	}
	r.Evidence = evidence(out)
	return r.finish(o.Stem), nil
}

// finish fills in what follows from the mask; the stem is measured unless it is given.
func (r *Region) finish(stem *Line) *Region {
	c := r.count()
	r.Axis = stem
	if stem == nil {
		r.Axis = measureStem(r.Mask, c)
	}
	r.judge(c)
	return r
}

// count takes the census of the mask and keeps its pixels.
func (r *Region) count() *census {
	c := takeCensus(r.Mask)
	r.HeadPixels, r.StemPixels = c[Head].pixels, c[Stem].pixels
	return c
}

// choose returns the valves to be graded, from left to right: those outlined by hand, and of those that the nets found
// the ones that can be judged. When there are neither it is the surest one, which tells why. A part of a valve that the
// first look took for another one is left out.
func choose(byHand, found []*Region) []*Region {
	judged := slices.Clone(byHand)
	for _, r := range found {
		if reason.Refuses(r.Reasons) || slices.ContainsFunc(judged, r.isPartOf) {
			continue
		}
		judged = append(judged, r)
	}
	if len(judged) == 0 {
		return []*Region{mostTelling(found)}
	}
	largest := slices.MaxFunc(judged, func(a, b *Region) int { return cmp.Compare(a.pixels(), b.pixels()) })
	least := otherValveShare * float64(largest.pixels())
	judged = slices.DeleteFunc(judged, func(r *Region) bool { return r.Source != ByHand && r.isAside(largest.pixels()) })
	others := 0
	for _, r := range found {
		if !slices.Contains(judged, r) && float64(r.pixels()) >= least && !slices.ContainsFunc(judged, r.isPartOf) {
			others++
		}
	}
	slices.SortStableFunc(judged, func(a, b *Region) int { return cmp.Compare(a.middle(), b.middle()) })
	for _, r := range judged {
		r.standApart(judged)
		if r.OtherValves = others; others > 0 {
			r.Reasons = append(r.Reasons, reason.Of(reason.OtherValve))
		}
	}
	return judged
}

// mostTelling returns of regions that are all refused the one that is likeliest a valve: the first that something else
// speaks against than that there is none.
func mostTelling(found []*Region) *Region {
	for _, r := range found {
		if !slices.ContainsFunc(r.Reasons, func(x reason.Reason) bool { return x.Code == reason.NoValve }) {
			return r
		}
	}
	return found[0]
}

func (r *Region) pixels() int { return r.HeadPixels + r.StemPixels }

// isAside reports whether so little of the valve shows, beside the largest one, that the photo is not of it.
func (r *Region) isAside(largest int) bool {
	least := otherValveShare
	if slices.ContainsFunc(r.Reasons, func(x reason.Reason) bool { return x.Code == reason.CutOff }) {
		least = cutOffValveShare
	}
	return float64(r.pixels()) < least*float64(largest)
}

// middle is the abscissa of the middle of the valve.
func (r *Region) middle() int {
	box := r.Bounds()
	return box.Min.X + box.Max.X
}

// isPartOf reports whether most of r lies within another valve.
func (r *Region) isPartOf(other *Region) bool {
	both := shared(r.Mask, other.Mask, r.Bounds().Intersect(other.Bounds()))
	return float64(both) > mostlyShared*float64(r.pixels())
}

// isSameAs reports whether two outlines are of one valve: so much of the smaller one lies within the other that it is no
// neighbour of it.
func (r *Region) isSameAs(other *Region) bool {
	both := shared(r.Mask, other.Mask, r.Bounds().Intersect(other.Bounds()))
	return float64(both) > sameValveShare*float64(min(r.pixels(), other.pixels()))
}

// standApart takes pixels that a surer valve claims, too, off the mask.
func (r *Region) standApart(valves []*Region) {
	changed := false
	for _, other := range valves {
		if other != r &&
			(other.Confidence > r.Confidence || other.Confidence == r.Confidence && other.middle() < r.middle()) {
			changed = subtract(r.Mask, other.Mask, r.Bounds().Intersect(other.Bounds())) || changed
		}
	}
	if changed {
		r.count()
	}
}

func (f *Finder) show(name string, p *proposal, size image.Rectangle) {
	if f.stage != nil {
		f.stage(name, p.enlarge(size))
	}
}
