package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/score"
)

// programRater is the rater that the program is in a list of ratings.
const programRater = "program"

// program is where the program's own ratings come from.
type program struct {
	// items are what was rated, photos those of the list and paths where they are to be found. All are empty when the
	// list holds the program's ratings itself.
	items         []agree.Rating
	photos, paths []string
	saved         *score.Document // of --results, else nil
	read          map[string]bool // files that must not be written over
	notes         []string        // on photos without a rating of the program's, or with one of several
	refused       bool            // whether some photo could not be judged, or was not there
}

// openProgram finds the source without scoring, so that mistakes are found before the work begins.
func openProgram(c *cli.Context, ratings []agree.Rating) (*program, error) {
	list, results := c.Args().First(), c.String("results")
	p := &program{read: map[string]bool{absolute(list): true, absolute(results): results != ""}}
	rated := map[string]bool{}
	for _, r := range ratings {
		if r.Rater != programRater {
			if item := r.Item(); !rated[item] {
				p.items, rated[item] = append(p.items, r), true
			}
			continue
		}
		if results != "" || c.IsSet("photos") {
			return nil, misuse(
				"the list has ratings by %q, so there is nothing to take from --results or --photos",
				programRater,
			)
		}
		p.items = nil
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
		return nil, hinted(
			misuse("--results %q: %w", path, err),
			"give the file that valvegrade score --json FILE wrote",
		)
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
		perPhoto := score.PerPhoto(scored.Photos)
		find = func(photo string) []score.Record { return perPhoto[slices.Index(p.photos, photo)] }
	}
	var ratings []agree.Rating
	strangers := 0
	for _, item := range p.items {
		records := find(item.Photo)
		record, remark := which(item, records)
		switch {
		case records == nil:
			strangers++
			remark = " is not in the saved result"
		case p.missing(item.Photo):
			record, remark = nil, ": no such file; --photos DIR says where the photos are"
		case record != nil && record.Status == score.Refused:
			record, remark = nil, fmt.Sprintf(" was refused by the program (%s)", terminal.Shorts(record.Reasons))
		}
		if remark != "" {
			p.notes = append(p.notes, item.Item()+remark)
		}
		if record == nil {
			p.refused = true
			continue
		}
		ratings = append(ratings, agree.Rating{
			Photo: item.Photo, ValveInPhoto: item.ValveInPhoto, Rater: programRater, Valve: item.Valve, Grade: *record.Grade, Index: record.Index.Value(),
		})
	}
	switch {
	case len(ratings) > 0 || len(p.items) == 0:
	case strangers == len(p.items):
		return nil, misuse("none of the photos of the list is in the saved result")
	default:
		note(c.App.ErrWriter, "the program could judge none of the photos; --photos DIR says where they are")
	}
	return ratings, nil
}

// which returns the record of the valve that was rated, or nil and why there is none. A rating that does not tell is
// taken for one of the largest valve, with a remark.
func which(item agree.Rating, valves []score.Record) (record *score.Record, remark string) {
	if len(valves) == 0 {
		return nil, ""
	}
	if item.ValveInPhoto == 0 {
		if len(valves) > 1 {
			remark = fmt.Sprintf(
				" shows %d valves, and the largest is taken: a column valve_in_photo says which was rated",
				len(valves),
			)
		}
		return &engine.Listed(1, valves)[0], remark
	}
	for n := range valves {
		if valves[n].ValveInPhoto == item.ValveInPhoto {
			return &valves[n], ""
		}
	}
	return nil, " is not among the valves that the program sees in this photo"
}

// missing reports whether a photo was to be scored but is not there.
func (p *program) missing(photo string) bool {
	if p.paths == nil {
		return false
	}
	_, err := os.Stat(p.paths[slices.Index(p.photos, photo)])
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

// find returns the saved records of a photo: by the name as given, else by the file name alone when only one photo has
// it.
func (p *program) find(photo string) []score.Record {
	var byName, namesakes []score.Record
	for _, record := range p.saved.Photos {
		if record.Photo == photo {
			byName = append(byName, record)
		}
		if filepath.Base(record.Photo) == filepath.Base(filepath.FromSlash(photo)) {
			namesakes = append(namesakes, record)
		}
	}
	if byName != nil {
		return byName
	}
	if slices.ContainsFunc(namesakes, func(r score.Record) bool { return r.Photo != namesakes[0].Photo }) {
		return nil
	}
	return namesakes
}
