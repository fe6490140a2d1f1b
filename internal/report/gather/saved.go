package gather

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection/graded"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Saved takes the figures of a saved result as they are, and shows those of its photos that are found unchanged: where they were
// when they were scored, or in dir, the folder of the saved result.
func Saved(ctx context.Context, dir string, document *graded.Document, o Options) (*report.Source, error) {
	o = o.complete()
	source := &report.Source{
		Engine: document.Engine, Photos: make([]report.Photo, len(document.Photos)), Views: make([]*compare.View, len(document.Photos)),
	}
	var found []string
	var places []int
	for n, p := range document.Engine.Inspection.Photos {
		photo := &source.Photos[n]
		photo.File, photo.Record = p.File, document.Photos[n]
		source.Views[n] = compare.SavedView(&document.Photos[n])
		source.Views[n].Photo = p.File
		where, absent := o.find(dir, p.File, document.Photos[n])
		if photo.Absent = absent; absent == "" {
			found, places = append(found, where), append(places, n)
		}
	}
	// Scored again only to be drawn: the saved figures stand.
	again := make([]report.Photo, len(found))
	for k, n := range places {
		again[k].File = source.Photos[n].File
	}
	views, err := o.show(ctx, found, again)
	if err != nil {
		return nil, err
	}
	for k, n := range places {
		if o.take(&source.Photos[n], again[k]) && o.Views {
			source.Views[n] = views[k]
		}
	}
	return source, nil
}

// take shows a saved photo with the pictures of today's scoring, the marked one only when today's figures are those that were
// saved, and reports whether they are.
func (o Options) take(photo *report.Photo, again report.Photo) bool {
	photo.Plain = again.Plain
	switch {
	case photo.Record.Status != score.Scored:
		return false
	case photo.Record.Version != again.Record.Version:
		photo.Absent = fmt.Sprintf(o.Texts.PhotoOtherVersion, photo.Record.Version)
		return false
	case photo.Record.Index != again.Record.Index: // other marks beside the photo than at the time
		photo.Absent = o.Texts.PhotoOtherMarks
		return false
	}
	photo.Marked = again.Marked
	return true
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
