package engine

import (
	"cmp"
	"fmt"
	"slices"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Listed returns what a photo says of the valves that it is listed for, from left to right. seen are the records of all
// valves in it, from left to right, at least one. Of more than are listed the largest count. Of fewer it cannot be told
// which they are, so that each is refused.
func Listed(places int, seen []score.Record) []score.Record {
	if len(seen) >= places {
		return largest(places, seen)
	}
	r := seen[0]
	if r.Status == score.Scored || len(seen) > 1 { // else its own refusal says more
		detail := "%s lists it for %d valves, and it shows %d"
		if r.ByHand() {
			detail = "%s lists it for %d valves, and outlines by hand, beside which no other valve counts, are set for %d"
		}
		r = r.Refuse(reason.With(reason.FewerValves, fmt.Sprintf(detail, inspection.File, places, len(seen))))
	}
	return slices.Repeat([]score.Record{r}, places)
}

// largest returns the valves that take the most of the photo, from left to right.
func largest(places int, seen []score.Record) []score.Record {
	chosen := slices.Clone(seen)
	slices.SortStableFunc(chosen, func(a, b score.Record) int { return cmp.Compare(size(b), size(a)) })
	chosen = chosen[:places]
	slices.SortFunc(chosen, func(a, b score.Record) int { return cmp.Compare(a.ValveInPhoto, b.ValveInPhoto) })
	return chosen
}

// size is how many pixels a valve takes; one that was refused is smaller than any other.
func size(r score.Record) int {
	if r.Pixels == nil {
		return 0
	}
	return *r.Pixels
}

// assign returns the record of each of the inspection's photos; seen are the records of all valves of its pictures, as
// a batch over their paths gives them.
func assign(i *inspection.Inspection, seen []score.Record) ([]score.Record, error) {
	pictures, files := score.PerPhoto(seen), i.Files()
	if len(pictures) != len(files) {
		return nil, fmt.Errorf("engine: results of %d photos for %d", len(pictures), len(files))
	}
	places := map[string]int{}
	for _, p := range i.Photos {
		places[p.File]++
	}
	listed := map[string][]score.Record{}
	for n, file := range files {
		listed[file] = Listed(places[file], pictures[n])
	}
	records := make([]score.Record, len(i.Photos))
	for n, p := range i.Photos {
		place := max(0, p.FromLeft-1)
		if place >= len(listed[p.File]) {
			return nil, fmt.Errorf("engine: photo %q has no valve %d from the left", p.File, p.FromLeft)
		}
		records[n] = listed[p.File][place]
	}
	return records, nil
}
