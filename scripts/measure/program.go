package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"valvegrade/pkg/score"
)

// program is the built program that is measured.
type program struct {
	path string
	nets []string // files
	keep string   // folder for what it writes, "" to throw that away
}

func (p *program) addNet(file string) error {
	p.nets = append(p.nets, file)
	return nil
}

// scorer is what pairing and combining run in the place of the program, with the same nets.
func (p program) scorer(options score.Options) (*score.Scorer, error) {
	for _, file := range p.nets {
		onnx, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		options.Nets = append(options.Nets, onnx)
	}
	return score.New(options)
}

// in returns the program with a folder of its own to keep things in.
func (p program) in(name string) program {
	if p.keep != "" {
		p.keep = filepath.Join(p.keep, name)
	}
	return p
}

// run is a run of the program.
type run struct {
	program string  // its version with that of its nets
	seconds float64 // of the whole run, a photo
}

func (r run) version() string { return r.program }

// scored is what a run wrote.
type scored struct {
	run
	photos [][]score.Record // by photo, the valves of one from left to right
	masks  string           // folder
}

// someRefused is the exit code of a run that refused a photo.
const someRefused = 3

// score runs the program on photos or folders and hands what it wrote to use, after which that may be gone.
func (p program) score(paths []string, use func(scored) error) error {
	out, done, err := p.folder()
	if err != nil {
		return err
	}
	defer done()
	results := filepath.Join(out, "results.json")
	args := []string{"score", "--json", results, "--masks", out}
	for _, file := range p.nets {
		args = append(args, "--net", file)
	}
	command := exec.Command(p.path, append(append(args, "--"), paths...)...)
	var said bytes.Buffer
	command.Stderr = &said
	start := time.Now()
	err = command.Run()
	seconds := time.Since(start).Seconds()
	if exit := new(exec.ExitError); err != nil && !(errors.As(err, &exit) && exit.ExitCode() == someRefused) {
		return fmt.Errorf("%s score: %w\n%s", p.path, err, said.String())
	}
	file, err := os.Open(results)
	if err != nil {
		return err
	}
	defer file.Close()
	document, err := score.ReadDocument(file)
	if err != nil {
		return err
	}
	photos := score.PerPhoto(document.Photos)
	return use(scored{run{document.Version, seconds / float64(max(1, len(photos)))}, photos, out})
}

func (p program) folder() (dir string, done func(), err error) {
	if p.keep != "" {
		return p.keep, func() {}, os.MkdirAll(p.keep, 0o755)
	}
	dir, err = os.MkdirTemp("", "measure-*")
	return dir, func() { os.RemoveAll(dir) }, err
}
