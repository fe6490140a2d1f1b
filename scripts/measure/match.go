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
	"valvegrade/scripts/outline"
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
	mask, best := outline.Valve(want, v.Valve), image.NewGray(got.Rect)
	scored := bySize(records)
	outlines := make([]*image.Gray, len(scored))
	for n := range scored {
		outlines[n] = outline.Valve(got, n+1)
	}
	var place int
	if place, v.whole = outline.Closest(mask, outlines); place >= 0 {
		v.record, best = scored[place], outlines[place]
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
