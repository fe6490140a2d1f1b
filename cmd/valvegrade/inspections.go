package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/inspection/graded"
	"valvegrade/pkg/score"
)

// inspectionSource is what an argument INSPECTION stands for: a folder with inspection.yaml, still to be scored, or the result
// that score --json saved of one. The other is nil.
type inspectionSource struct {
	folder *inspection.Inspection
	saved  *graded.Document
}

// openInspection reads what can be read without scoring, so that every mistake is found before the work begins.
func openInspection(arg string) (inspectionSource, error) {
	info, err := os.Stat(arg)
	if err != nil {
		return inspectionSource{}, misuse("cannot read %q: %w", arg, cause(err))
	}
	if info.IsDir() {
		folder, err := loadInspection(arg)
		return inspectionSource{folder: folder}, err
	}
	file, err := os.Open(arg)
	if err != nil {
		return inspectionSource{}, err
	}
	defer file.Close()
	saved, err := graded.Read(file)
	if err != nil {
		return inspectionSource{}, hinted(misuse("%q: %w", arg, err),
			"give a folder with %s, or the file that valvegrade score --json FILE FOLDER wrote of it", inspection.File)
	}
	return inspectionSource{saved: saved}, nil
}

// loadInspection reads the inspection in a folder.
func loadInspection(dir string) (*inspection.Inspection, error) {
	i, err := inspection.Load(dir)
	switch {
	case errors.Is(err, inspection.ErrNone):
		return nil, hinted(misuse("%w", err), "valvegrade init %q writes one", dir)
	case err != nil:
		return nil, misuse("%w", err)
	}
	return i, nil
}

// gradeInspections returns the graded inspections of all arguments, in order; those that are folders are scored.
func gradeInspections(c *cli.Context, args []string, options score.BatchOptions) ([]*graded.Document, error) {
	sources := make([]inspectionSource, len(args))
	photos := 0
	for n, arg := range args {
		var err error
		if sources[n], err = openInspection(arg); err != nil {
			return nil, err
		}
		if folder := sources[n].folder; folder != nil {
			photos += len(folder.Photos)
		}
	}
	progress := terminal.NewProgress(c.App.ErrWriter, photos)
	defer progress.Close()
	documents := make([]*graded.Document, len(args))
	for n, source := range sources {
		if documents[n] = source.saved; source.saved != nil {
			continue
		}
		scored, err := scoreAll(c, source.folder.Paths(), options, progress)
		if errors.Is(err, context.Canceled) {
			return nil, fmt.Errorf("interrupted in %q: nothing is written", args[n])
		}
		if err != nil {
			return nil, err
		}
		if documents[n], err = graded.NewDocument(source.folder, scored); err != nil {
			return nil, err
		}
	}
	return documents, nil
}
