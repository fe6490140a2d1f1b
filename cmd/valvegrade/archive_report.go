package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/gather"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// reportVisit writes a report of the last visit: held against an earlier one, where there is one to hold it against, and
// with the others as history.
func reportVisit(c *cli.Context, a *archive.Archive, kept []archive.Kept, visits []*engine.Graded) error {
	as, err := chosenFormat(c, "report")
	if err != nil {
		return err
	}
	in, err := reportFacts(c)
	if err != nil {
		return err
	}
	last := len(visits) - 1
	in.Job.Number, in.Job.Technician = kept[last].Job, kept[last].Technician
	shown := []int{last}
	if earlier, err := earlierVisit(c, kept, visits); err != nil {
		return err
	} else if earlier >= 0 {
		shown = []int{earlier, last}
	}
	measuring, err := measuringOptions(c)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "valvegrade-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	in.Program = measuring.Version()
	measuring.Crew = new(score.Crew)
	defer measuring.Crew.Close()
	options := gather.Options{
		BatchOptions: measuring,
		Texts:        in.Texts,
		PictureBytes: gather.PictureBytes(len(visits[last].Photos) * len(shown)),
		NoPictures:   !as.pictures,
	}
	options.Map = len(shown) == 2
	for _, n := range shown {
		folder := filepath.Join(dir, fmt.Sprint(n))
		kept := func(hash string) ([]byte, error) { return a.Photo(c.Context, hash) }
		if err := layOut(visits[n], folder, kept); err != nil {
			return err
		}
		source, err := gather.Saved(c.Context, folder, visits[n], options)
		if err != nil {
			return err
		}
		in.Visits = append(in.Visits, *source)
	}
	for n, g := range visits {
		if !slices.Contains(shown, n) {
			in.History = append(in.History, g.Engine)
		}
	}
	model, err := report.Build(in)
	if err != nil {
		return misuse("%w", err)
	}
	if err := writeFile(c.String("report"), c.App.Writer, func(w io.Writer) error { return as.write(model, w) }); err != nil {
		return err
	}
	tellWorkshop(c, model)
	return nil
}

// earlierVisit is the place of the visit that the last one is held against: the one that --since names, else the one
// before it; -1 for none.
func earlierVisit(c *cli.Context, kept []archive.Kept, visits []*engine.Graded) (int, error) {
	last := len(kept) - 1
	if c.IsSet("since") {
		return visitSince(c.Int64("since"), kept)
	}
	if last > 0 && apart(visits[last-1].Engine.Inspection, visits[last].Engine.Inspection) {
		return last - 1, nil
	}
	return -1, nil
}

// visitSince is the place of an inspection among the visits before the last, from which no cleaning parts it.
func visitSince(id int64, kept []archive.Kept) (int, error) {
	last := len(kept) - 1
	since := slices.IndexFunc(kept[:last], func(k archive.Kept) bool { return k.ID == id })
	if since < 0 {
		return 0, hinted(misuse("inspection %d is no earlier one of this vehicle", id),
			"valvegrade archive show #%d", kept[last].Vehicle)
	}
	for _, k := range kept[since+1 : last] {
		if k.Stage == string(inspection.After) {
			return 0, hinted(misuse("a cleaning lies between inspection %d and the last one", id), "--since %d", k.ID)
		}
	}
	return since, nil
}

// apart reports whether a cleaning or a distance lies between two inspections of one engine.
func apart(before, after *inspection.Inspection) bool {
	driven := after.Odometer.In(inspection.Miles)-before.Odometer.In(inspection.Miles) >= inspection.SameReading
	return before.Engine == after.Engine && compare.Backwards(before, after) == "" &&
		(compare.Cleaned(before, after) || driven)
}

// layOut puts the photos of a visit, as far as the archive has them, into a new folder under the names they had. Whoever
// wrote the archive, none leads out of it.
func layOut(g *engine.Graded, dir string, kept func(hash string) ([]byte, error)) error {
	if err := os.Mkdir(dir, 0o700); err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	for n, p := range g.Engine.Inspection.Photos {
		if g.Photos[n].SHA256 == nil {
			continue
		}
		data, err := kept(*g.Photos[n].SHA256)
		if err != nil { // the report says which photos it could not show
			continue
		}
		name := filepath.FromSlash(p.File)
		if err := root.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			return err
		}
		if err := root.WriteFile(name, data, 0o600); err != nil {
			return err
		}
	}
	return nil
}
