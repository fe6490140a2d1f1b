package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/gather"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

func compareInspections(c *cli.Context) error {
	sources, err := openVisits(c)
	if err != nil {
		return err
	}
	options := compare.Options{Force: c.Bool("force")}
	if err := ofOneEngine(sources, options, "; --force compares different vehicles of one layout"); err != nil {
		return err
	}
	if err := prepareComparison(c, readBy(sources), mapsOf(sources[0].inspection().Engine)...); err != nil {
		return err
	}
	graded, err := gradeToCompare(c, sources)
	if err != nil {
		return err
	}
	result, err := compare.Inspections(graded[0], graded[1], options)
	if err != nil {
		return err
	}
	if err := writeFile(c.String("json"), c.App.Writer, indented(result)); err != nil {
		return err
	}
	all := true
	byName := map[string]*compare.Comparison{}
	for _, cylinder := range result.Cylinders {
		for _, valve := range cylinder.Valves {
			all = all && (valve.Compared || valve.Unheard)
			byName[mapOf(cylinder.Number, valve.Number)] = valve.Comparison
		}
	}
	if err := writeResidue(c, byName); err != nil {
		return err
	}
	if err := showComparison(c, cleaning(result), func(w io.Writer) error { return terminal.EngineComparison(w, result, terminal.Width(w)) }); err != nil {
		return err
	}
	return refusedUnless(all)
}

// ofOneEngine finds out before any scoring whether two inspections are of one engine and in order; hint ends the advice.
func ofOneEngine(sources []inspectionSource, options compare.Options, hint string) error {
	before, after := sources[0].inspection(), sources[1].inspection()
	if err := compare.OneEngine(before, after, options); err != nil {
		return hinted(misuse("%w", err), "correct %s%s", inspection.File, hint)
	}
	if err := compare.InOrder(before, after); err != nil {
		return misuse("%w", err)
	}
	return nil
}

// gradeToCompare returns the graded inspections with the maps of their valves: of folders, and of saved results as far
// as their photos are found and read as they did.
func gradeToCompare(c *cli.Context, sources []inspectionSource) ([]*engine.Graded, error) {
	measuring, err := measuringOptions(c)
	if err != nil {
		return nil, err
	}
	measuring.Map, measuring.Crew = true, new(score.Crew)
	defer measuring.Crew.Close()
	photos := 0
	for _, s := range sources {
		photos += s.files()
	}
	progress := terminal.NewProgress(c.App.ErrWriter, photos)
	defer progress.Close()
	graded := make([]*engine.Graded, len(sources))
	for n, s := range sources {
		visit, err := gatherOne(c, s, gather.Options{BatchOptions: measuring, NoPictures: true, Scored: progress.Step})
		if err != nil {
			return nil, err
		}
		graded[n] = visit.Graded
	}
	progress.Close()
	for n, s := range sources {
		noteFiguresOnly(c, s, graded[n])
	}
	return graded, nil
}

// noteFiguresOnly tells how many photos of a saved result give figures only.
func noteFiguresOnly(c *cli.Context, s inspectionSource, g *engine.Graded) {
	all, without := 0, 0
	for _, p := range g.Photos {
		if p.Status == score.Scored {
			all++
			if p.Map == nil {
				without++
			}
		}
	}
	if s.saved != nil && without > 0 {
		note(
			c.App.ErrWriter,
			"%d of %d photos of %q are not there as they were scored, and the result has no map of their valves: of those no "+
				"change is claimed",
			without,
			all,
			s.arg,
		)
	}
}

// cleaning reports whether a cleaning lies between the two inspections or follows the second; else they are about
// mileage.
func cleaning(e *compare.Engine) bool {
	return e.Before.Stage == inspection.Before || e.After.Stage != inspection.Routine
}
