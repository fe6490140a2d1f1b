package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/draw"
	"valvegrade/internal/net"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

var aboutCompare = `Says what changed on a valve from the first photo to the second: before and after a cleaning, or two odometer readings
apart. Both photos are brought onto one map of the valve, so that pose, zoom and roll drop out, and only what both show is
compared. The verdict is "changed" or "no sure change": a difference of the dark deposit or of the index counts only when it
exceeds the smallest change that these two photos can show. Two inspections of one engine are compared valve by valve, and
the mean of all valves says what each gained or lost a little.

  valvegrade compare before.jpg after.jpg                 two photos of one valve
  valvegrade compare --residue maps before.jpg after.jpg  with a map of what is left
  valvegrade compare before/ after/                       two folders, with inspection.yaml or of photos alone
  valvegrade compare before.json after.json               results saved of them; the photos may be gone

Folders without inspection.yaml are taken for one engine before and after a cleaning; their photos are matched by cylinder
and valve in the names, else by equal names, else by order, and the result says which.

The valves of an engine look alike: that both photos show one valve is proved only where marks on its surface match, and
otherwise taken on your word. Two photos that cannot be one valve, and one photo given twice, are refused; --force puts
their figures side by side all the same, and claims nothing about a change.
Outlines set by hand are read from a file beside each photo, as score does: a.jpg has a.jpg.marks.yaml or a.marks.yaml.
Of two photos that show as many valves the valves are compared from left to right, else the largest of each.
Residue maps are named residue.png, or valve-1.residue.png, or cylinder-1-valve-2.residue.png.

EXIT CODES:
  0  done, whatever the verdict
  1  the program failed or was interrupted
  2  wrong usage; nothing was done
  3  a photo was refused, or two photos do not register as one valve (the other valves are compared and written)

` + cautions

func compareCommand() *cli.Command {
	return &cli.Command{
		Name:        "compare",
		Usage:       "what changed on a valve, or an engine, between two photos or inspections",
		ArgsUsage:   "BEFORE AFTER",
		Description: aboutCompare,
		Flags: append([]cli.Flag{
			&cli.StringFlag{
				Name:  "json",
				Usage: "write the comparison to `FILE`, - for standard output instead of the table",
			},
			&cli.StringFlag{Name: "residue", Usage: "write a map of what is left on each valve to `DIR`"},
			&cli.BoolFlag{
				Name:  "force",
				Usage: "put the figures of what does not register as one valve side by side; no change is claimed of it",
			},
		}, measuringFlags()...),
		Action: runCompare,
	}
}

func runCompare(c *cli.Context) error {
	if c.Args().Len() != 2 {
		return hinted(misuse("compare takes two photos, or two inspections"), "valvegrade compare BEFORE AFTER")
	}
	first, second := standsForInspection(c.Args().Get(0)), standsForInspection(c.Args().Get(1))
	switch {
	case first != second:
		for _, arg := range c.Args().Slice() {
			if _, err := os.Stat(arg); err != nil {
				return misuse("cannot read %q: %w", arg, cause(err))
			}
		}
		return hinted(
			misuse("one is a photo and the other an inspection"),
			"give two photos, or two folders with %s",
			inspection.File,
		)
	case first:
		return compareInspections(c)
	default:
		return comparePhotos(c)
	}
}

// standsForInspection reports whether an argument stands for an inspection: a folder, or a saved result.
func standsForInspection(arg string) bool {
	info, err := os.Stat(arg)
	return err == nil && info.IsDir() || strings.EqualFold(filepath.Ext(arg), ".json")
}

func comparePhotos(c *cli.Context) error {
	paths := c.Args().Slice()
	read := map[string]bool{absolute(paths[0]): true, absolute(paths[1]): true}
	for _, path := range paths {
		if _, err := os.Stat(path); err != nil {
			return misuse("cannot read %q: %w", path, cause(err))
		}
	}
	residue := []string{folder.OnlyResidue}
	for n := range net.MostValves {
		residue = append(residue, mapOfPair(n, net.MostValves))
	}
	if err := prepareComparison(c, read, residue...); err != nil {
		return err
	}
	options, err := measuringOptions(c)
	if err != nil {
		return err
	}
	options.Map = true
	progress := terminal.NewProgress(c.App.ErrWriter, len(paths))
	defer progress.Close()
	scored, err := scoreAll(c, paths, options, progress)
	if errors.Is(err, context.Canceled) {
		return errors.New("interrupted: nothing is written")
	}
	if err != nil {
		return err
	}
	photos := score.PerPhoto(scored.Photos)
	result := compare.Pictures(photos[0], photos[1], compare.Options{Force: c.Bool("force")})
	if err := writeFile(c.String("json"), c.App.Writer, indented(result)); err != nil {
		return err
	}
	byName := map[string]*compare.Comparison{}
	for n, valve := range result.Valves {
		byName[mapOfPair(n, len(result.Valves))] = valve
	}
	if err := writeResidue(c, byName); err != nil {
		return err
	}
	if err := showComparison(c, true, func(w io.Writer) error { return terminal.Pair(w, result, terminal.Width(w)) }); err != nil {
		return err
	}
	return refusedUnless(result.Compared())
}

// showComparison prints a comparison and, where a cleaning may be at hand, where the cautions are, unless the document
// takes the place of both.
func showComparison(c *cli.Context, cleaning bool, show func(io.Writer) error) error {
	if c.String("json") == toStdout {
		return nil
	}
	if err := show(c.App.Writer); err != nil || !cleaning {
		return err
	}
	return showCautionsAre(c.App.Writer)
}

// inspection is the one that a source stands for.
func (s inspectionSource) inspection() *inspection.Inspection {
	if s.folder != nil {
		return s.folder
	}
	return s.saved.Engine.Inspection
}

// mapOfPair is the file name of the residue map of a valve of two photos; place counts from 0.
func mapOfPair(place, of int) string {
	if of == 1 {
		return folder.OnlyResidue
	}
	return fmt.Sprintf("valve-%d%s", place+1, folder.ResidueSuffix)
}

// mapOf is the file name of a valve's residue map.
func mapOf(cylinder, valve int) string {
	return fmt.Sprintf("cylinder-%d-valve-%d%s", cylinder, valve, folder.ResidueSuffix)
}

// mapsOf are the file names of the residue maps of an engine.
func mapsOf(engine inspection.Layout) []string {
	var names []string
	for cylinder := range engine.Cylinders {
		for valve := range engine.Valves {
			names = append(names, mapOf(cylinder+1, valve+1))
		}
	}
	return names
}

// prepareComparison finds out before the work begins whether the document and the residue maps of the given names can
// be written.
func prepareComparison(c *cli.Context, read map[string]bool, residue ...string) error {
	if err := prepareFiles(c, read, map[string]string{"--json": c.String("json")}); err != nil {
		return err
	}
	dir := c.String("residue")
	if dir == "" {
		return nil
	}
	if err := os.Mkdir(dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return cannotWrite(dir, err)
	}
	if err := tryWriting(dir); err != nil {
		return cannotWrite(dir, err)
	}
	for _, name := range residue {
		if err := spare(c, read, filepath.Join(dir, name)); err != nil {
			return err
		}
	}
	return nil
}

// writeResidue draws the comparisons that have maps, and says when none has.
func writeResidue(c *cli.Context, byName map[string]*compare.Comparison) error {
	dir, drawn := c.String("residue"), 0
	if dir == "" {
		return nil
	}
	for name, one := range byName {
		if one.Residue == nil {
			continue
		}
		drawn++
		if err := score.WritePNG(filepath.Join(dir, name), draw.ResidueMap(one, draw.EnglishResidue(one))); err != nil {
			return cannotWrite(dir, err)
		}
	}
	if drawn == 0 {
		note(
			c.App.ErrWriter,
			"no map was drawn into %q: maps need the photos themselves, and where the two lie on each other",
			dir,
		)
	}
	return nil
}

func refusedUnless(compared bool) error {
	if !compared {
		return errRefused
	}
	return nil
}
