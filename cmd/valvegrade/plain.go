package main

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
)

// openVisits reads one inspection, or two of one engine. Folders and photos without inspection.yaml stand for
// inspections, too, if none of the arguments has one: what is assumed of them then is in the first.
func openVisits(c *cli.Context) ([]inspectionSource, error) {
	args := c.Args().Slice()
	var folders []inspection.Plain
	for _, arg := range args {
		plain, err := plainPhotos(arg)
		if err != nil {
			return nil, err
		}
		if plain == nil {
			return openInspections(args)
		}
		folders = append(folders, *plain)
	}
	if len(args) == 2 && absolute(args[0]) == absolute(args[1]) {
		return nil, misuse("%q is given twice", args[0])
	}
	nets, err := chosenNets(c)
	if err != nil {
		return nil, err
	}
	look := looker{nets: nets}
	defer look.close()
	assumed, err := inspection.Assume(folders, taken, look.valvesIn)
	if err != nil {
		return nil, hinted(misuse("%w", err),
			"name the photos of a valve alike, or let valvegrade init write an %s into each folder", inspection.File)
	}
	sources := make([]inspectionSource, len(args))
	for n, i := range assumed {
		sources[n] = inspectionSource{arg: args[n], folder: i}
	}
	return sources, nil
}

// plainPhotos are those that an argument stands for, nil for an inspection or a saved result.
func plainPhotos(arg string) (*inspection.Plain, error) {
	info, err := os.Stat(arg)
	switch {
	case err != nil:
		return nil, misuse("cannot read %q: %w", arg, cause(err))
	case !info.IsDir() && strings.EqualFold(filepath.Ext(arg), ".json"), isInspection(arg):
		return nil, nil
	case !info.IsDir():
		return &inspection.Plain{Dir: filepath.Dir(arg), Files: []string{filepath.Base(arg)}, Alone: true}, nil
	}
	files, err := photosIn(arg)
	return &inspection.Plain{Dir: arg, Files: files, Elsewhere: folder.Deeper(arg)}, err
}
