package main

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"path/filepath"
	"strings"

	"valvegrade/internal/report/verify"
	"valvegrade/pkg/inspection"
)

// reported tells which photos a report speaks of, by the names of their files and by their hashes.
type reported struct{ names, hashes map[string]bool }

func reportedBy(saved *verify.Saved) reported {
	r := reported{map[string]bool{}, map[string]bool{}}
	for _, p := range saved.Photos {
		r.names[filepath.Base(p.Photo)] = true
		if p.SHA256 != nil {
			r.hashes[*p.SHA256] = true
		}
	}
	return r
}

// has reports whether the report speaks of a photo, under this name or another one.
func (r reported) has(path string) bool {
	return r.names[filepath.Base(path)] || r.hashes[hashOf(path)]
}

// hashOf is the SHA-256 of a file in hex, "" when it cannot be read.
func hashOf(path string) string {
	file, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// photosToVerify lists photos as scoring does, but takes any number of inspections, too, such as before and after, and
// from their folders also what the report speaks of without the inspection doing so.
func photosToVerify(args []string, saved *verify.Saved) (*photoList, error) {
	list := &photoList{seen: map[string]bool{}}
	known := reportedBy(saved)
	for _, arg := range args {
		var err error
		_, missing := os.Stat(arg)
		switch {
		case isInspection(arg):
			err = list.addReported(arg, known)
		case missing != nil && !strings.ContainsAny(arg, "*?["):
			err = misuse("cannot read %q: %w", arg, cause(missing))
		default:
			err = list.add(arg)
		}
		if err != nil {
			return nil, err
		}
	}
	if len(list.paths) == 0 {
		return nil, hinted(
			misuse("no photo to verify: %s", strings.Join(list.remarks, "; ")),
			"valvegrade verify REPORT.json PHOTOS...",
		)
	}
	return list, nil
}

// addReported takes the photos of an inspection that are still there, and those of its folder that the report speaks
// of.
func (l *photoList) addReported(dir string, known reported) error {
	i, err := inspection.Read(dir)
	if err != nil {
		return misuse("%w", err)
	}
	for _, path := range i.Paths() {
		if _, err := os.Stat(path); err == nil {
			l.addFile(path)
		}
	}
	others, err := l.unlisted(dir)
	if err != nil {
		return err
	}
	for _, path := range others {
		if known.has(path) {
			l.addFile(path)
		} else {
			l.leaveOut(path)
		}
	}
	return nil
}
