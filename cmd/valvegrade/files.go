package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/google/renameio/v2"
	"github.com/urfave/cli/v2"

	"valvegrade/pkg/folder"
	"valvegrade/pkg/region"
)

// toStdout is the file name that stands for standard output.
const toStdout = "-"

// openFile opens what an argument names as a file to read.
func openFile(path string) (*os.File, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, misuse("%q is a folder, not a file", path)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, misuse("cannot read %q: %w", path, cause(err))
	}
	return file, nil
}

// exampleNames are names of files that options could be given.
var exampleNames = map[string]string{
	"--json":   "result.json",
	"--chart":  "chart.svg",
	"--out":    "report.html",
	"--report": "report.html",
}

// tryFile finds out before the work begins whether a file can be written there. option is the flag that named it; no
// file and standard output are fine. Where the name was forgotten, a photo stands in its place: it must not be lost.
func tryFile(option, path string) error {
	if path == "" || path == toStdout {
		return nil
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return hinted(
			misuse("%s %q is a folder", option, path),
			"give a file name, such as %s %q",
			option,
			filepath.Join(path, exampleNames[option]),
		)
	}
	if option == "--chart" {
		if err := spareForeign(path); err != nil {
			return err
		}
	} else if folder.IsPhoto(path) {
		return hinted(
			misuse("%s %q has the name of a photo", option, path),
			"give the name of the file to write, such as %s %s",
			option,
			exampleNames[option],
		)
	}
	if err := tryWriting(filepath.Dir(path)); err != nil {
		return cannotWrite(path, err)
	}
	sweep(filepath.Dir(path), "."+filepath.Base(path))
	return nil
}

// prepareFiles tries the file of each option, and refuses one that is read in this run or that another option names.
func prepareFiles(c *cli.Context, read map[string]bool, byOption map[string]string) error {
	var written []string
	owner := map[string]string{}
	for _, option := range slices.Sorted(maps.Keys(byOption)) {
		path := byOption[option]
		if err := tryFile(option, path); err != nil {
			return err
		}
		if path == "" || path == toStdout {
			continue
		}
		target := linked(absolute(path))
		if other := owner[target]; other != "" {
			return hinted(misuse("%s and %s both write %q", other, option, path), "give each a file of its own")
		}
		owner[target] = option
		written = append(written, path)
	}
	return spare(c, read, written...)
}

// readOptions are the options that name a file to read.
var readOptions = []string{"marks", "shop", "logo", "results"}

// spare refuses to write over what is read, whatever links lead there: the files given, those of options, and marks
// beside photos.
func spare(c *cli.Context, read map[string]bool, written ...string) error {
	kept := map[string]bool{}
	for _, option := range readOptions {
		if path := c.String(option); path != "" {
			kept[linked(absolute(path))] = true
		}
	}
	if nets, given := c.Generic("net").(*files); given {
		for _, path := range *nets {
			kept[linked(absolute(path))] = true
		}
	}
	for path, wanted := range read {
		if wanted {
			kept[linked(path)] = true
		}
	}
	for _, path := range written {
		target := linked(absolute(path))
		if _, err := os.Stat(target); kept[target] || err == nil && region.IsMarks(target) {
			return hinted(
				misuse("writing %q would overwrite what is to be read", path),
				"choose another name or folder for the output",
			)
		}
	}
	return nil
}

// linked returns where the symbolic links of a path lead, whether there is something yet or not.
func linked(path string) string {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		return target
	}
	if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		path = filepath.Join(folder, filepath.Base(path))
	}
	for range mostLinks {
		target, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(path), target)
		}
		path = target
	}
	return path
}

// mostLinks is how many symbolic links in a row are followed to a file that is not there yet, as many as Linux follows.
const mostLinks = 40

// partial is the name under which the part of a result is kept that was made before an interrupt: beside the whole
// one's.
func partial(path string) string {
	if path == "" || path == toStdout {
		return path
	}
	extension := filepath.Ext(path)
	return strings.TrimSuffix(path, extension) + ".partial" + extension
}

// tryWriting makes and removes a file in dir. Asking for permissions instead would miss read-only disks and more.
func tryWriting(dir string) error {
	sweep(dir, temporary)
	probe, err := os.CreateTemp(dir, temporary+"*")
	if err != nil {
		return err
	}
	return errors.Join(probe.Close(), os.Remove(probe.Name()))
}

// temporary begins the names of files that are renamed when they are whole, as package score names those of pictures.
const temporary = ".valvegrade-"

// left is the age from which a temporary file is one that a run left which was killed: none lives for more than a
// second.
const left = time.Minute

// sweep removes what runs that were killed have left in a folder: files of that name with a number behind it. Where it
// cannot, they stay.
func sweep(dir, name string) {
	entries, _ := os.ReadDir(dir)
	for _, entry := range entries {
		number, found := strings.CutPrefix(entry.Name(), name)
		if !found || number == "" || strings.Trim(number, "0123456789") != "" {
			continue
		}
		path := filepath.Join(dir, entry.Name())
		if info, err := os.Lstat(path); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > left {
			_ = os.Remove(path)
		}
	}
}

// cannotWrite explains why path cannot be written.
func cannotWrite(path string, err error) error {
	explained := fmt.Errorf("cannot write %q: %w", path, cause(err))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return hinted(explained, "the folder does not exist: mkdir -p %q", filepath.Dir(path))
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return hinted(explained, "make room on that disk, or choose a folder on another")
	}
	return hinted(explained, "choose a folder where you may write")
}

// cause is what is wrong with a file, without the system's word for the attempt and its name, which may be that of a
// probe.
func cause(err error) error {
	var fault *fs.PathError
	if errors.As(err, &fault) {
		return fault.Err
	}
	return err
}

// writeFile writes what write gives to a file, at once or not at all, or to standard output; an empty path wants
// nothing.
func writeFile(path string, stdout io.Writer, write func(io.Writer) error) error {
	if path == "" {
		return nil
	}
	var content bytes.Buffer
	if err := write(&content); err != nil {
		return err
	}
	if path == toStdout {
		_, err := stdout.Write(content.Bytes())
		return err
	}
	if err := putFile(path, content.Bytes()); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

// putFile writes a file whole or not at all. What is no file, a device or a pipe, is written into: renamed over, it
// would be gone.
func putFile(path string, content []byte) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		return os.WriteFile(path, content, 0)
	}
	return renameio.WriteFile(linked(path), content, 0o644)
}

// indented writes a value as score writes its results: indented JSON with a final newline.
func indented(value any) func(io.Writer) error {
	return func(w io.Writer) error {
		encoder := json.NewEncoder(w)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		return encoder.Encode(value)
	}
}
