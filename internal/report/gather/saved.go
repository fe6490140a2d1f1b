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

// Saved takes the figures of a saved result as they are, and shows those of its photos that are found unchanged: where they were
// when they were scored, or in dir, the folder of the saved result. Those that read as they did get the maps that comparing needs.
func Saved(ctx context.Context, dir string, saved *engine.Graded, o Options) (*report.Source, error) {
	o = o.complete()
	g := *saved
	g.Photos = slices.Clone(saved.Photos)
	source := &report.Source{Graded: &g, Pictures: make([]report.Pictures, len(g.Photos))}
	var found []string
	var owners []int
	for n, p := range g.Engine.Inspection.Photos {
		where, absent := o.find(dir, p.File, g.Photos[n])
		if source.Pictures[n].Absent = absent; absent == "" {
			found, owners = append(found, where), append(owners, n)
		}
	}
	// Scored again only to be drawn: the saved figures stand.
	pictures := o.drawInto(found)
	var again []score.Record
	err := score.Batch(ctx, found, o.BatchOptions, func(r *score.Result) error {
		again = append(again, r.Record())
		o.scored()
		return nil
	})
	if err != nil {
		return nil, err
	}
	for k, n := range owners {
		pictures[k].Absent = o.unlike(g.Photos[n], again[k])
		if pictures[k].Absent != "" || g.Photos[n].Status != score.Scored {
			pictures[k].Marked = nil
		} else {
			g.Photos[n].Map = again[k].Map
		}
		source.Pictures[n] = pictures[k]
	}
	return source, nil
}

// unlike is the sentence on why today's figures of a photo are not those that were saved, "" when they are or none were.
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
