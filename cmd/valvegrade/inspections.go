package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/texts"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// inspectionSource is what an argument INSPECTION stands for: a folder with inspection.yaml, still to be scored, or the
// result that score --json saved of one. The other is nil.
type inspectionSource struct {
	arg    string
	folder *inspection.Inspection
	saved  *engine.Graded
}

// openInspections reads what can be read without scoring, so that every mistake is found before the work begins.
func openInspections(args []string) ([]inspectionSource, error) {
	sources := make([]inspectionSource, len(args))
	seen := map[string]bool{}
	for n, arg := range args {
		whole := absolute(arg)
		if seen[whole] {
			return nil, misuse("inspection %q is given twice", arg)
		}
		seen[whole] = true
		var err error
		if sources[n], err = openInspection(arg); err != nil {
			return nil, err
		}
	}
	return sources, nil
}

func openInspection(arg string) (inspectionSource, error) {
	info, err := os.Stat(arg)
	if err != nil {
		return inspectionSource{}, misuse("cannot read %q: %w", arg, cause(err))
	}
	if info.IsDir() {
		folder, err := loadInspection(arg)
		return inspectionSource{arg: arg, folder: folder}, err
	}
	file, err := os.Open(arg)
	if err != nil {
		return inspectionSource{}, misuse("cannot read %q: %w", arg, cause(err))
	}
	defer file.Close()
	saved, err := engine.Read(file)
	if err != nil {
		return inspectionSource{}, hinted(misuse("%q: %w", arg, err),
			"give a folder with %s, or the file that valvegrade score --json FILE FOLDER wrote of it", inspection.File)
	}
	return inspectionSource{arg: arg, saved: saved}, nil
}

// savedIn returns a file in JSON that lies in a folder, "" where there is none.
func savedIn(dir string) string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return ""
	}
	for _, e := range entries {
		if !e.IsDir() && strings.EqualFold(filepath.Ext(e.Name()), ".json") {
			return filepath.Join(dir, e.Name())
		}
	}
	return ""
}

// loadInspection reads the inspection in a folder.
func loadInspection(dir string) (*inspection.Inspection, error) {
	i, err := inspection.Load(dir)
	switch {
	case errors.Is(err, inspection.ErrNone) && !hasPhotos(dir) && savedIn(dir) != "":
		return nil, hinted(misuse("%w", err), "name the saved results in it one by one, such as %q", savedIn(dir))
	case errors.Is(err, inspection.ErrNone):
		return nil, hinted(misuse("%w", err), "valvegrade init %q writes one, once the photos are in it", dir)
	case err != nil:
		return nil, misuse("%w", err)
	}
	return i, nil
}

// readBy is the set of files that the inspections are read from, none of which may be written over.
func readBy(sources []inspectionSource) map[string]bool {
	read := map[string]bool{}
	for _, s := range sources {
		read[absolute(s.arg)] = true
		if s.folder == nil { // its photos may be shown or compared
			for n, p := range s.saved.Engine.Inspection.Photos {
				read[absolute(filepath.FromSlash(s.saved.Photos[n].Photo))] = true
				read[absolute(filepath.Join(filepath.Dir(s.arg), filepath.FromSlash(p.File)))] = true
			}
			continue
		}
		read[absolute(filepath.Join(s.arg, inspection.File))] = true
		for _, path := range s.folder.Paths() {
			read[absolute(path)] = true
		}
	}
	return read
}

// gradeInspections returns the graded inspections of all sources, in order; those that are folders are scored by the
// options of measuringFlags.
func gradeInspections(c *cli.Context, sources []inspectionSource) ([]*engine.Graded, error) {
	options, err := measuringOptions(c)
	if err != nil {
		return nil, err
	}
	options.Crew = new(score.Crew)
	defer options.Crew.Close()
	photos := 0
	for _, s := range sources {
		if s.folder != nil {
			photos += s.files()
		}
	}
	progress := terminal.NewProgress(c.App.ErrWriter, photos)
	defer progress.Close()
	documents := make([]*engine.Graded, len(sources))
	for n, s := range sources {
		if documents[n] = s.saved; s.saved != nil {
			continue
		}
		documents[n], err = engine.Grade(c.Context, s.folder, options, stepping(progress))
		if errors.Is(err, context.Canceled) {
			return nil, fmt.Errorf("interrupted in %q: nothing is written", s.arg)
		}
		if err != nil {
			return nil, err
		}
	}
	return documents, nil
}

// stepping counts a photo when the last of its valves was handed over.
func stepping(progress *terminal.Progress) func(*score.Result) {
	return func(r *score.Result) {
		if r.Valve == r.Valves {
			progress.Step()
		}
	}
}

// files counts the photos of an inspection, each once.
func (s inspectionSource) files() int { return len(s.inspection().Files()) }

// differentPhotos refuses one photo in two inspections: it is one look, not two.
func differentPhotos(sources []inspectionSource, documents []*engine.Graded) error {
	owner := map[string]int{}
	for n, d := range documents {
		for _, p := range d.Photos {
			if p.SHA256 == nil {
				continue
			}
			if first, known := owner[*p.SHA256]; known && first != n {
				return hinted(
					misuse(
						"%q and %q hold the same photo, %q",
						sources[first].arg,
						sources[n].arg,
						filepath.Base(p.Photo),
					),
					"a photo belongs to one inspection: take it out of the other, or give each inspection once",
				)
			}
			owner[*p.SHA256] = n
		}
	}
	return nil
}

// versionsOf returns the versions of program and net that scored the inspections, each once.
func versionsOf(documents []*engine.Graded) []string {
	var versions []string
	for _, d := range documents {
		if !slices.Contains(versions, d.Version) {
			versions = append(versions, d.Version)
		}
	}
	return versions
}

// refusedIn tells how many photos the figures had to do without, and ends the run with the exit code for that. The
// words are those in which the run speaks.
func refusedIn(c *cli.Context, documents []*engine.Graded, words *texts.Texts) error {
	refused, all := 0, 0
	for _, d := range documents {
		all += len(d.Engine.Inspection.Files())
		without := map[string]bool{}
		for _, p := range d.Photos {
			if p.Status == score.Refused {
				without[p.Photo] = true
			}
		}
		refused += len(without)
	}
	if refused == 0 {
		return nil
	}
	were := "were"
	if refused == 1 {
		were = "was"
	}
	note(c.App.ErrWriter, "%s", words.Say(
		fmt.Sprintf("%d of %d photos %s refused and left out; valvegrade score FOLDER says why", refused, all, were)))
	return errRefused
}
