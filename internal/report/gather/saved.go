package gather

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Saved takes the figures of a saved result as they are, and shows those of its photos that are found unchanged: where they were
// when they were scored, or in dir, the folder of the saved result.
func Saved(ctx context.Context, dir string, saved *engine.Graded, o Options) (*report.Source, error) {
	o = o.complete()
	g := *saved
	g.Photos = slices.Clone(saved.Photos)
	source := &report.Source{Graded: &g, Pictures: make([]report.Pictures, len(g.Photos))}
	var found []string
	var places []int
	for n, p := range g.Engine.Inspection.Photos {
		where, absent := o.find(dir, p.File, g.Photos[n])
		if source.Pictures[n].Absent = absent; absent == "" {
			found, places = append(found, where), append(places, n)
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
	for k, n := range places {
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
	case saved.Index != again.Index: // other marks beside the photo than at the time
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
	for _, path := range []string{filepath.FromSlash(record.Photo), filepath.Join(dir, filepath.FromSlash(name)), filepath.Join(dir, filepath.Base(name))} {
		hash, err := hashOf(path)
		if err != nil {
			continue
		}
		if hash == *record.SHA256 {
			return path, ""
		}
		absent = fmt.Sprintf(o.Texts.PhotoChanged, name)
	}
	return "", absent
}

// hashOf returns the SHA-256 of a regular file.
func hashOf(path string) (string, error) {
	info, err := os.Stat(path)
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", os.ErrInvalid
	}
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
