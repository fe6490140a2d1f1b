package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

const aboutArchiveAdd = `Puts inspections with their photos into the archive. INSPECTION is a folder with inspection.yaml, which is scored now,
the file that score --json wrote of one (figures without photos), or a folder of such folders, which is searched through.
A folder that is no inspection is named and left out. What is in the archive already changes nothing.

inspection.yaml may say more than grading needs, all of it optional, to find the vehicle by:
  plate, vin, job, technician, wish (what the customer asked for), and family below engine
The options say the same of a single inspection, in place of its file.

` + exitHelp

func archiveAddCommand() *cli.Command {
	return &cli.Command{
		Name: "add", Usage: "put inspections into the archive", ArgsUsage: "INSPECTION...", Description: aboutArchiveAdd,
		Flags: append(archiveFlags(
			&cli.StringFlag{Name: "plate", Usage: "the vehicle's plate is `PLATE`"},
			&cli.StringFlag{Name: "vin", Usage: "its identification number is `VIN`"},
			&cli.StringFlag{Name: "family", Usage: "its engine is of the family `NAME`"},
			&cli.StringFlag{Name: "job", Usage: "the job's number is `NUMBER`"},
			&cli.StringFlag{Name: "technician", Usage: "`NAME` took the photos"},
			&cli.StringFlag{Name: "wish", Usage: "the customer asked for `TEXT`"},
		), measuringFlags()...),
		Action: runArchiveAdd,
	}
}

func runArchiveAdd(c *cli.Context) error {
	if !c.Args().Present() {
		return hinted(misuse("no inspection given"), "valvegrade archive add FOLDER, or a folder of such folders")
	}
	options, err := measuringOptions(c)
	if err != nil {
		return err
	}
	places, err := inspectionsBelow(c, c.Args().Slice())
	if err != nil {
		return err
	}
	if len(places) == 0 {
		return hinted(
			misuse("no inspection found"),
			"valvegrade init %q makes a folder of photos one",
			c.Args().First(),
		)
	}
	if len(places) > 1 && cardOf(c) != (inspection.JobCard{}) {
		return misuse(
			"--plate, --vin, --family, --job, --technician and --wish are those of one inspection, and there are %d",
			len(places),
		)
	}
	return withNewArchive(c, func(a *archive.Archive) error { return addAll(c, a, places, options) })
}

// inspectionsBelow lists the inspections that arguments stand for: themselves, or what lies below a folder.
func inspectionsBelow(c *cli.Context, args []string) ([]string, error) {
	var places []string
	for _, arg := range args {
		info, err := os.Stat(arg)
		if err != nil {
			return nil, misuse("cannot read %q: %w", arg, cause(err))
		}
		if !info.IsDir() || isInspection(arg) {
			places = append(places, arg)
			continue
		}
		found, err := walk(c, arg)
		if err != nil {
			return nil, fault("cannot list %q: %w", arg, cause(err))
		}
		places = append(places, found...)
	}
	return places, nil
}

// walk lists the inspections in a folder of folders, by name, and names the folders with photos that are none.
func walk(c *cli.Context, root string) ([]string, error) {
	var places []string
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil && path == root:
			return err
		case err != nil:
			note(c.App.ErrWriter, "%q is left out: %v", path, cause(err))
			return fs.SkipDir
		case c.Context.Err() != nil:
			return c.Context.Err()
		case !entry.IsDir():
			return nil
		case path != root && strings.HasPrefix(entry.Name(), "."):
			return fs.SkipDir
		case isInspection(path):
			places = append(places, path)
			return fs.SkipDir
		case hasPhotos(path):
			note(c.App.ErrWriter, "%q has photos and is no inspection: valvegrade init %q makes it one", path, path)
		}
		return nil
	})
	return places, err
}

func hasPhotos(dir string) bool {
	entries, err := os.ReadDir(dir)
	return err == nil && slices.ContainsFunc(entries, func(e fs.DirEntry) bool {
		return !e.IsDir() && folder.IsPhoto(e.Name())
	})
}

// cardOf is what the options say of vehicle and job.
func cardOf(c *cli.Context) inspection.JobCard {
	return inspection.JobCard{
		Plate:      c.String("plate"),
		VIN:        c.String("vin"),
		Family:     c.String("family"),
		Job:        c.String("job"),
		Technician: c.String("technician"),
		Wish:       c.String("wish"),
	}
}

// addAll adds one inspection after the other. One that cannot be added is named, and the others are added all the same.
func addAll(c *cli.Context, a *archive.Archive, places []string, options score.BatchOptions) error {
	options.Crew = new(score.Crew)
	defer options.Crew.Close()
	progress := terminal.NewProgress(c.App.ErrWriter, len(places))
	defer progress.Close()
	counts := map[archive.Outcome]int{}
	var left error
	for _, place := range places {
		added, err := addOne(c, a, place, options)
		var usage *usageError
		switch {
		case errors.Is(err, context.Canceled):
			return fault("interrupted: %s; the rest is added by the same command again", told(counts))
		case errors.As(err, &usage) && len(places) > 1: // that folder's fault
			note(c.App.ErrWriter, "%q is left out:", place)
			complain(c.App.ErrWriter, err)
			left = errRefused
		case err != nil:
			return err
		default:
			counts[added.outcome]++
			if added.refused {
				left = errRefused
			}
			if added.line != "" {
				if _, err := fmt.Fprintln(c.App.Writer, terminal.Escaped(added.line)); err != nil {
					return err
				}
			}
		}
		progress.Step()
	}
	note(c.App.ErrWriter, "%s", told(counts))
	return left
}

// told is "3 added, 1 known".
func told(counts map[archive.Outcome]int) string {
	var parts []string
	for _, outcome := range []archive.Outcome{archive.Added, archive.Renewed, archive.Corrected, archive.Beside, archive.Known} {
		if counts[outcome] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", counts[outcome], outcome))
		}
	}
	if parts == nil {
		return "nothing added"
	}
	return strings.Join(parts, ", ")
}

// addition is what became of one inspection: line tells of it, "" where nothing changed; refused says that photos of it
// could not be judged.
type addition struct {
	outcome archive.Outcome
	line    string
	refused bool
}

func addOne(c *cli.Context, a *archive.Archive, place string, options score.BatchOptions) (addition, error) {
	source, err := openInspection(place)
	if err != nil {
		return addition{}, err
	}
	complete(source.inspection(), cardOf(c))
	visit, err := visitOf(source, place)
	if err != nil {
		return addition{}, err
	}
	if source.folder != nil {
		outcome, err := a.Look(c.Context, visit)
		if errors.Is(err, archive.ErrIncomplete) {
			return addition{}, misuse("%w", err)
		}
		if err != nil || outcome == archive.Known {
			return addition{outcome: outcome}, err
		}
		if err := visit.Score(c.Context, options, nil); err != nil {
			return addition{}, err
		}
	}
	outcome, id, err := a.Add(c.Context, visit)
	if errors.Is(err, archive.ErrIncomplete) {
		return addition{}, misuse("%w", err)
	}
	if err != nil || outcome == archive.Known {
		return addition{outcome: outcome}, err
	}
	kept, err := a.Inspection(c.Context, id)
	if err != nil {
		return addition{}, err
	}
	return addition{outcome, lineOf(outcome, source.inspection(), kept), kept.Refused > 0}, nil
}

// lineOf tells of an inspection that was added or changed.
func lineOf(outcome archive.Outcome, given *inspection.Inspection, kept *archive.Kept) string {
	told := judged(kept.Judged())
	if kept.Grade != nil {
		told = "grade " + told
	}
	line := fmt.Sprintf(
		"%s: %s, %s %s, inspection %d, %s",
		outcome,
		given.Vehicle,
		kept.Day,
		kept.Stage,
		kept.ID,
		told,
	)
	if outcome == archive.Corrected {
		line += "; it takes the place of an inspection with the same photos, of another day, odometer reading or stage"
	}
	if of := kept.CylindersGraded; kept.Grade != nil && of < given.Engine.Cylinders {
		line += fmt.Sprintf(", worst of %d graded", of)
	}
	if kept.Refused > 0 {
		line += fmt.Sprintf(", %d of %s refused: valvegrade score FOLDER says why", kept.Refused, counted(kept.Photos, "photo"))
	}
	return line + remarkOnVIN(given.Card.VIN)
}

// remarkOnVIN notes a check digit that does not fit, which in many countries it need not.
func remarkOnVIN(vin string) string {
	if archive.CheckVIN(vin) == archive.VINWrong {
		return "; the check digit of the VIN does not fit, as is usual outside North America: look for a slip all the same"
	}
	return ""
}

func visitOf(source inspectionSource, place string) (*archive.Visit, error) {
	if source.folder == nil {
		return archive.FromSaved(source.saved, absolute(place)), nil
	}
	visit, err := archive.FromFolder(source.folder)
	if err != nil {
		return nil, misuse("%w", err)
	}
	visit.Source = absolute(place)
	return visit, nil
}

// complete puts what the options say in place of what the file says.
func complete(i *inspection.Inspection, said inspection.JobCard) {
	for _, entry := range []struct {
		from string
		to   *string
	}{
		{said.Plate, &i.Card.Plate}, {said.VIN, &i.Card.VIN}, {said.Family, &i.Card.Family}, {said.Job, &i.Card.Job},
		{said.Technician, &i.Card.Technician}, {said.Wish, &i.Card.Wish},
	} {
		if entry.from != "" {
			*entry.to = entry.from
		}
	}
}
