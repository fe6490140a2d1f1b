package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/score"
)

// programRater is the rater that the program is in a list of ratings.
const programRater = "program"

// program is where the program's own ratings come from.
type program struct {
	// photos are those of the list, paths where they are to be found; valves tells the valve of a photo. All are empty
	// when the list holds the program's ratings itself.
	photos, paths []string
	valves        map[string]string
	saved         *score.Document // of --results, else nil
	read          map[string]bool // files that must not be written over
	notes         []string        // on photos without a rating of the program's
	refused       bool            // whether some photo could not be judged, or was not there
}

// openProgram finds the source without scoring, so that mistakes are found before the work begins.
func openProgram(c *cli.Context, ratings []agree.Rating) (*program, error) {
	list, results := c.Args().First(), c.String("results")
	p := &program{valves: map[string]string{}, read: map[string]bool{absolute(list): true, absolute(results): results != ""}}
	for _, r := range ratings {
		if r.Rater != programRater {
			p.valves[r.Photo] = r.Valve
			continue
		}
		if results != "" || c.IsSet("photos") {
			return nil, misuse("the list has ratings by %q, so there is nothing to take from --results or --photos", programRater)
		}
		return p, nil
	}
	p.photos = agree.Photos(ratings)
	if results != "" {
		var err error
		p.saved, err = readResults(results)
		return p, err
	}
	dir := filepath.Dir(list)
	if c.IsSet("photos") {
		dir = c.String("photos")
		if info, err := os.Stat(dir); err != nil || !info.IsDir() {
			return nil, misuse("--photos %q is no folder", dir)
		}
	}
	for _, photo := range p.photos {
		path := filepath.FromSlash(photo)
		if !filepath.IsAbs(path) {
			path = filepath.Join(dir, path)
		}
		p.paths = append(p.paths, path)
		p.read[absolute(path)] = true
	}
	return p, nil
}

func readResults(path string) (*score.Document, error) {
	file, err := openFile(path)
	if err != nil {
		return nil, misuse("--results: %w", err)
	}
	defer file.Close()
	saved, err := score.ReadDocument(file)
	if err != nil {
		return nil, hinted(misuse("--results %q: %w", path, err), "give the file that valvegrade score --json FILE wrote")
	}
	return saved, nil
}

// rate returns the program's ratings of the photos, and notes what it could not rate.
func (p *program) rate(c *cli.Context) ([]agree.Rating, error) {
	find := p.find
	if p.paths != nil {
		scored, err := scorePaths(c, p.paths)
		if err != nil {
			return nil, err
		}
		find = func(n int) *score.Record { return &scored.Photos[n] }
	}
	var ratings []agree.Rating
	strangers := 0
	for n, photo := range p.photos {
		record := find(n)
		switch {
		case record == nil:
			p.refused = true
			strangers++
			p.notes = append(p.notes, fmt.Sprintf("%s is not in the saved result", photo))
		case p.missing(n):
			p.refused = true
			p.notes = append(p.notes, fmt.Sprintf("%s: no such file; --photos DIR says where the photos are", photo))
		case record.Status == score.Refused:
			p.refused = true
			p.notes = append(p.notes, fmt.Sprintf("%s was refused by the program (%s)", photo, terminal.Shorts(record.Reasons)))
		default:
			ratings = append(ratings, agree.Rating{
				Photo: photo, Rater: programRater, Valve: p.valves[photo], Grade: *record.Grade, Index: record.Index.Value(),
			})
		}
	}
	switch {
	case len(ratings) > 0 || len(p.photos) == 0:
	case strangers == len(p.photos):
		return nil, misuse("none of the photos of the list is in the saved result")
	default:
		note(c.App.ErrWriter, "the program could judge none of the photos; --photos DIR says where they are")
	}
	return ratings, nil
}

// missing reports whether a photo was to be scored but is not there.
func (p *program) missing(n int) bool {
	if p.paths == nil {
		return false
	}
	_, err := os.Stat(p.paths[n])
	return errors.Is(err, fs.ErrNotExist)
}

func scorePaths(c *cli.Context, paths []string) (*score.Document, error) {
	options, err := measuringOptions(c)
	if err != nil {
		return nil, err
	}
	progress := terminal.NewProgress(c.App.ErrWriter, len(paths))
	defer progress.Close()
	scored, err := scoreAll(c, paths, options, progress)
	if errors.Is(err, context.Canceled) {
		return nil, errors.New("interrupted: nothing is written")
	}
	return scored, err
}

// find returns the saved record of a photo: by the name as given, else by the file name alone when only one record has
// it.
func (p *program) find(n int) *score.Record {
	var byName *score.Record
	namesakes := 0
	for i := range p.saved.Photos {
		record := &p.saved.Photos[i]
		if record.Photo == p.photos[n] {
			return record
		}
		if filepath.Base(record.Photo) == filepath.Base(filepath.FromSlash(p.photos[n])) {
			byName = record
			namesakes++
		}
	}
	if namesakes > 1 {
		return nil
	}
	return byName
}
