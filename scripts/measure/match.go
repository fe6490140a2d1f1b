package main

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"slices"

	"valvegrade/internal/truth"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// valve is one valve that a set knows, and what the program made of it.
type valve struct {
	truth.Entry
	refused bool     // the whole photo
	reasons []string // of its result, or of the whole photo
	// record is the result whose outline fits the valve best, nil where none touches it.
	record *score.Record
	// head, stem and whole are the overlaps with the truth, 0 to 1, or NaN where the truth has no such part or nothing
	// was matched.
	head, stem, whole float64
}

// match finds for each valve that the truth knows in a photo the result whose outline overlaps it most. The masks are
// those of the truth and of the program, nil where there is nothing to match.
func match(known []truth.Entry, records []score.Record, want, got *image.Gray) ([]valve, error) {
	var valves []valve
	for _, t := range known {
		v := valve{
			Entry: t, refused: len(bySize(records)) == 0, reasons: reasons(records),
			head: math.NaN(), stem: math.NaN(), whole: math.NaN(),
		}
		if got != nil {
			if want.Rect.Size() != got.Rect.Size() {
				return nil, fmt.Errorf("%s: masks of %v and %v", t.Photo, want.Rect.Size(), got.Rect.Size())
			}
			v.match(records, want, got)
		}
		valves = append(valves, v)
	}
	return valves, nil
}

func (v *valve) match(records []score.Record, want, got *image.Gray) {
	mask, best := only(want, v.Valve), image.NewGray(got.Rect)
	v.whole = 0
	for place, record := range bySize(records) {
		outline := only(got, place+1)
		if overlap := region.IoU(mask, outline, region.Head, region.Stem); overlap > v.whole {
			v.whole, v.record, best = overlap, record, outline
		}
	}
	if v.record != nil {
		v.reasons = reasons([]score.Record{*v.record})
	}
	if v.shows(v.Head, mask, region.Head) {
		v.head = region.IoU(mask, best, region.Head)
	}
	if v.shows(v.Stem, mask, region.Stem) {
		v.stem = region.IoU(mask, best, region.Stem)
	}
}

// shows reports whether a part is in sight: as the set says, or its mask where the set does not speak of parts.
func (v *valve) shows(part *truth.Part, mask *image.Gray, label uint8) bool {
	return part != nil || !v.Parts && slices.Contains(mask.Pix, label)
}

// bySize returns the scored results of a photo in the order of the codes in its mask, see score.RegionMask.
func bySize(records []score.Record) []*score.Record {
	var scored []*score.Record
	for i := range records {
		if records[i].Status == score.Scored {
			scored = append(scored, &records[i])
		}
	}
	slices.SortStableFunc(scored, func(a, b *score.Record) int { return cmp.Compare(*b.Pixels, *a.Pixels) })
	return scored
}

// only keeps one valve of a mask, with the labels of package region.
func only(mask *image.Gray, place int) *image.Gray {
	one := image.NewGray(image.Rectangle{Max: mask.Rect.Size()})
	for y := range one.Rect.Dy() {
		from, to := mask.Pix[y*mask.Stride:], one.Pix[y*one.Stride:][:one.Rect.Dx()]
		for x := range to {
			switch int(from[x]) {
			case 2*place - 1:
				to[x] = region.Head
			case 2 * place:
				to[x] = region.Stem
			}
		}
	}
	return one
}

// reasons are what a photo was refused for, or what is in doubt of its valves.
func reasons(records []score.Record) []string {
	codes := []string{}
	for _, record := range records {
		for _, why := range record.Reasons {
			if code := string(why.Code); !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
	}
	return codes
}
