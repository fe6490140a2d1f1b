package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/score"
)

const aboutInit = `Writes inspection.yaml into a folder of photos: one engine on one day at one odometer reading. Cylinder and valve are
guessed from the file names (c2v1.jpg, cyl3_valve2.png, "cylinder 2 intake 1.jpg", 2-1.jpg), the date from the camera's clock.
What cannot be guessed is left open and listed with its line. An inspection.yaml that is there is never overwritten.
A photo whose name tells its cylinder alone (cyl2.jpg) is looked at: if it shows as many valves as a cylinder has, it is taken for
all of them, from left to right (valves: [1, 2]).

  valvegrade init DIR
  valvegrade init --pattern 'port{cylinder}{valve}' DIR              for names such as port42.jpg
  valvegrade init --order 1.1,1.2,2.1,2.2 --each 2 DIR                 by the order of shooting: two photos of cylinder 1
                                                                       valve 1, two of valve 2, and so on

Folders named for a cylinder or a valve (cyl1/, c2v1/) tell where the photos in them belong. The order of shooting is that of
the camera's clock where every photo tells it, else that in which the files were written. Then: valvegrade score DIR

EXIT CODES:
  0  inspection.yaml is written
  1  it could not be written
  2  wrong usage; nothing was done`

func initCommand() *cli.Command {
	return &cli.Command{
		Name:        "init",
		Usage:       "write inspection.yaml for a folder of photos",
		ArgsUsage:   "FOLDER",
		Description: aboutInit,
		Flags: []cli.Flag{
			&cli.StringFlag{
				Name:  "pattern",
				Usage: "find the groups named cylinder and valve in file names by the regular expression `RE`",
			},
			&cli.StringFlag{
				Name:  "order",
				Usage: "the photos show the valves in this `ORDER`, whatever their names are: cylinder.valve,...",
			},
			&cli.IntFlag{Name: "each", Usage: "with --order, `N` photos of each valve", Value: 1},
			netFlag(),
		},
		Action: runInit,
	}
}

func runInit(c *cli.Context) error {
	dir := c.Args().First()
	if c.Args().Len() != 1 {
		return hinted(misuse("init takes one folder"), "valvegrade init FOLDER")
	}
	var options inspection.DraftOptions
	if text := c.String("pattern"); text != "" {
		pattern, err := inspection.NewPattern(text)
		if err != nil {
			return hinted(misuse("%w", err), `for port42.jpg: --pattern 'port{cylinder}{valve}'`)
		}
		options.Pattern = pattern
	}
	path := filepath.Join(dir, inspection.File)
	if isInspection(dir) {
		return hinted(misuse("%q is there already", path), "edit it, or move it away to start anew")
	}
	files, err := photosIn(dir)
	if err != nil {
		return err
	}
	options.Taken = taken
	if err := ordered(c, dir, files, &options); err != nil {
		return err
	}
	nets, err := chosenNets(c)
	if err != nil {
		return err
	}
	look := looker{nets: nets}
	defer look.close()
	options.Valves = look.valvesIn
	draft, err := inspection.Draft(dir, files, options)
	if err != nil {
		return misuse("%w", err)
	}
	if err := writeNew(path, draft.Text); err != nil {
		return cannotWrite(path, err)
	}
	return tellDraft(c.App.Writer, dir, path, draft, folder.Deeper(dir))
}

// ordered reads --order and --each, and puts the files into the order of shooting for them.
func ordered(c *cli.Context, dir string, files []string, options *inspection.DraftOptions) error {
	if !c.IsSet("order") {
		if c.IsSet("each") {
			return hinted(misuse("--each is for --order"), "--order 1.1,1.2,2.1,2.2 --each 2")
		}
		return nil
	}
	if options.Pattern != nil {
		return misuse("--order and --pattern are two ways: give one")
	}
	var err error
	if options.Order, err = inspection.ParseOrder(c.String("order")); err != nil {
		return misuse("--%w", err)
	}
	options.Each = c.Int("each")
	shots := make([]inspection.Shot, len(files))
	for n, file := range files {
		path := filepath.Join(dir, file)
		shots[n] = inspection.Shot{File: file, Taken: taken(path)}
		if info, err := os.Stat(path); err == nil {
			shots[n].Written = info.ModTime()
		}
	}
	inspection.SortShots(shots)
	for n := range files {
		files[n] = shots[n].File
	}
	return nil
}

// photosIn returns the names of the photos in a folder and in those of its cylinders.
func photosIn(dir string) ([]string, error) {
	info, err := os.Stat(dir)
	switch {
	case err != nil:
		return nil, misuse("cannot read %q: %w", dir, cause(err))
	case !info.IsDir():
		return nil, hinted(misuse("%q is no folder", dir), "valvegrade init FOLDER")
	}
	files, err := folder.Photos(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot list the folder: %w", cause(err))
	}
	if len(files) == 0 {
		if deeper := folder.Deeper(dir); len(deeper) > 0 {
			within := filepath.Join(dir, filepath.Dir(filepath.FromSlash(deeper[0])))
			return nil, hinted(
				misuse("no photo right in folder %q, but in its folders: %s", dir, named(deeper)),
				"give the folder of one inspection, such as %q, or put its photos together", within,
			)
		}
		return nil, hinted(misuse("no photo in folder %q", dir), "put the photos of one inspection into it first")
	}
	return files, nil
}

// taken returns when a photo was taken, nil when it does not say or cannot be read: scoring will tell. Few files tell it
// behind their head, and those alone are read with their picture, which takes a hundred times as long.
func taken(path string) *time.Time {
	if at := photo.TakenOf(path); at != nil {
		return at
	}
	p, err := photo.Read(path, photo.Limits{})
	if err != nil {
		return nil
	}
	return p.Taken
}

// looker counts valves. It loads its nets when the first photo is looked at: most folders need none.
type looker struct {
	nets   [][]byte
	scorer *score.Scorer
}

// valvesIn returns how many valves a photo shows, 0 where none can be judged.
func (l *looker) valvesIn(path string) int {
	if l.scorer == nil {
		var err error
		if l.scorer, err = score.New(score.Options{Nets: l.nets}); err != nil {
			return 0 // what is guessed is for the reader to check, anyway
		}
	}
	valves := l.scorer.Score(path)
	if !slices.ContainsFunc(valves, func(r *score.Result) bool { return r.Status == score.Scored }) {
		return 0
	}
	return len(valves)
}

func (l *looker) close() {
	if l.scorer != nil {
		l.scorer.Close()
	}
}

// writeNew writes a file that does not exist yet; a failed write leaves none.
func writeNew(path string, content []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(content)
	if err = errors.Join(err, file.Close()); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}
