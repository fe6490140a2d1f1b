package gather

import (
	"context"
	"fmt"
	"math"
	"slices"

	"valvegrade/internal/limit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Saved takes the figures of a saved result as they are, and shows those of its photos that are found unchanged: where
// they were when they were scored, or in dir, the folder of the saved result. Results without the maps that comparing
// needs get them of those that read as they did.
func Saved(ctx context.Context, dir string, saved *engine.Graded, o Options) (*report.Source, error) {
	o = o.complete()
	g := *saved
	g.Photos = slices.Clone(saved.Photos)
	source := &report.Source{Graded: &g, Pictures: make([]report.Pictures, len(g.Photos))}
	var found []string
	owners := map[int]int{} // places in found
	for n, p := range g.Engine.Inspection.Photos {
		if o.NoPictures && g.Photos[n].Map != nil {
			continue
		}
		where, absent := o.find(dir, p.File, g.Photos[n])
		if source.Pictures[n].Absent = absent; absent != "" {
			continue
		}
		if owners[n] = slices.Index(found, where); owners[n] < 0 {
			found, owners[n] = append(found, where), len(found)
		}
	}
	// Scored again only to be drawn: the saved figures stand.
	looks := o.drawInto(found)
	var valves []score.Record
	err := score.Batch(ctx, found, o.BatchOptions, func(r *score.Result) error {
		valves = append(valves, r.Record())
		o.scored(r)
		return nil
	})
	if err != nil {
		return nil, err
	}
	again := score.PerPhoto(valves)
	for n, k := range owners {
		saved := &g.Photos[n]
		shown := looks[k].of(*saved)
		one := again[k][min(saved.ValveInPhoto, len(again[k]))-1]
		if shown.Absent = o.unlike(*saved, one); shown.Absent != "" {
			shown.Marked, shown.HeadOn = nil, nil
		} else if saved.Status == score.Scored && saved.Map == nil {
			saved.Map = one.Map
		}
		source.Pictures[n] = shown
	}
	if o.NoPictures {
		source.Pictures = nil
	}
	return source, nil
}

// unlike is the sentence on why today's figures of a photo are not those that were saved, "" when they are or none
// were.
func (o Options) unlike(saved, again score.Record) string {
	switch {
	case saved.Status != score.Scored:
		return ""
	case saved.Version != again.Version:
		return fmt.Sprintf(o.Texts.PhotoOtherVersion, saved.Version)
	case !(math.Abs(saved.Index.Value()-again.Index.Value()) <= score.ProcessorPoints): // other marks beside the photo than at the time, or refused
		return o.Texts.PhotoOtherMarks
	default:
		return ""
	}
}

// find looks for a photo where it was when it was scored, and beside the saved result. It returns where it is, or the
// sentence on why it cannot be shown.
func (o Options) find(dir, name string, record score.Record) (path, absent string) {
	if record.SHA256 == nil {
		return "", fmt.Sprintf(o.Texts.PhotoUnread, name)
	}
	absent = fmt.Sprintf(o.Texts.PhotoMissing, name)
	for _, p := range places(dir, name, record.Photo) {
		hash, err := p.hash(limit.PhotoBytes)
		if err != nil {
			continue
		}
		if hash == *record.SHA256 {
			return p.path(), ""
		}
		absent = fmt.Sprintf(o.Texts.PhotoChanged, name)
	}
	return "", absent
}
