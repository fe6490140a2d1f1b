package bay

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"valvegrade/internal/limit"
	"valvegrade/pkg/folder"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// MostPhotos is how many photos an inspection may hold when another arrives: sixteen cylinders with three valves, each
// photographed ten times.
const MostPhotos = 500

// ErrFull is returned for a photo more than that.
var ErrFull = fmt.Errorf("the inspection has %d photos: begin another", MostPhotos)

// Arrival is what became of a photo that was brought.
type Arrival struct {
	File string `json:"file"`
	// Known is true when the same picture was there already, under the name of File.
	Known bool `json:"known"`
}

// Refused is the error for what was brought and is no photo that could be read; it tells what to do.
type Refused struct{ Reason Reason }

func (r *Refused) Error() string { return r.Reason.Short + ": " + r.Reason.Advice }

// Bring adds a photo. It is kept only when it came whole and can be read as a photo; then it is graded as any other.
// Its name is made of the given one, of which nothing is believed but letters and digits; taken, when not zero, is the
// time that its file had where it came from. The same picture brought twice is kept once, so that whoever lost the
// connection can try again.
func (j *Job) Bring(name string, taken time.Time, content io.Reader) (*Arrival, error) {
	temporary, err := os.CreateTemp(j.dir, ".valvegrade-*")
	if err != nil {
		return nil, err
	}
	defer os.Remove(temporary.Name())
	defer temporary.Close()
	hash := sha256.New()
	n, err := io.Copy(io.MultiWriter(temporary, hash), io.LimitReader(content, limit.PhotoBytes+1))
	if err != nil {
		return nil, err
	}
	if n > limit.PhotoBytes {
		return nil, &limit.TooLarge{Most: limit.PhotoBytes}
	}
	if err := temporary.Sync(); err != nil {
		return nil, err
	}
	p, err := photo.Read(temporary.Name(), j.bay.options.Limits)
	if err != nil {
		return nil, refusal(err)
	}
	if err := temporary.Chmod(0o644); err != nil {
		return nil, err
	}
	if now := time.Now(); !taken.IsZero() && taken.Before(now) && taken.Year() > 1990 {
		if err := os.Chtimes(temporary.Name(), now, taken); err != nil {
			return nil, err
		}
	}
	return j.settleIn(temporary.Name(), plainName(name, p.Format), hex.EncodeToString(hash.Sum(nil)), p.Taken)
}

func refusal(err error) error {
	why := photo.ReasonFor(err)
	told := tellReason(why)
	return &Refused{told}
}

// settleIn gives a whole photo its place and its name.
func (j *Job) settleIn(temporary, name, hash string, taken *time.Time) (*Arrival, error) {
	j.lock.Lock()
	defer j.lock.Unlock()
	for _, s := range j.shots {
		if s.state == graded && s.records[0].SHA256 != nil && *s.records[0].SHA256 == hash {
			return &Arrival{s.file, true}, nil
		}
	}
	if len(j.shots) >= MostPhotos {
		return nil, ErrFull
	}
	extension := filepath.Ext(name)
	stem := strings.TrimSuffix(name, extension)
	for n := 2; ; n++ {
		err := moveBeside(temporary, filepath.Join(j.dir, name))
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		name = fmt.Sprintf("%s-%d%s", stem, n, extension)
	}
	now, path := time.Now(), j.path(name)
	s := &shot{
		file:   name,
		seen:   now,
		since:  now,
		live:   true,
		state:  waiting,
		placed: true,
		taken:  taken,
		stamp:  stampOf(path, region.FindMarks(path)),
	}
	j.shots[name] = s
	j.bay.queue.add(task{j, name}, true)
	j.changed()
	return &Arrival{name, false}, nil
}

// moveBeside gives a file a new name in its folder, and never replaces another: then it returns fs.ErrExist. The name is held by an
// empty file first and not by a link, which the cards and sticks that photos come on do not have.
func moveBeside(from, to string) error {
	held, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if err := errors.Join(held.Close(), os.Rename(from, to)); err != nil {
		return errors.Join(err, os.Remove(to))
	}
	return nil
}

// endings are the ends of names by the format that a photo has in truth.
var endings = map[string]string{
	"jpeg": ".jpg", "png": ".png", "tiff": ".tif", "bmp": ".bmp", "webp": ".webp", "gif": ".gif", "heic": ".heic",
}

// plainName makes a file's name of one that came from outside.
func plainName(name, format string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	extension := strings.ToLower(filepath.Ext(name))
	stem := strings.TrimSuffix(name, filepath.Ext(name))
	if !slices.Contains(folder.Extensions(), extension) {
		extension = endings[format]
	}
	stem = strings.Map(func(r rune) rune {
		if unfitForName(r) {
			return '_'
		}
		return r
	}, stem)
	stem = strings.ToValidUTF8(stem[:min(len(stem), mostName)], "") // whole letters only
	if stem = strings.Trim(stem, " ._"); stem == "" {
		stem = "photo"
	}
	if name := stem + extension; folder.IsPhoto(name) {
		return name
	}
	return "photo-" + strings.ReplaceAll(stem, ".", "-") + extension // such as x.overlay.png, which is none of ours
}

// unfitForName reports whether a letter has no place in the name of a file that others will type.
func unfitForName(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(" -_.", r)
}
