package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image/png"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"time"
)

// What a run may take.
const (
	mostKilobytes = 1 << 20
	// mostTime is of the processors; on a busy machine a run may wait as much longer.
	mostTime = 10 * time.Second
	mostWait = 12 * mostTime
)

// arena is where cases are tried.
type arena struct {
	program, work string
	seed          uint64
	kinds         []kind
	tally         *tally
}

// outcome is how a run ended.
type outcome struct {
	code int           // -1 when a signal ended it
	took time.Duration // of the processors
	// kilobytes is the most memory, that of this program at least: Linux counts what the process was before it became
	// another.
	kilobytes      int64
	stdout, stderr string
}

// spoil tries the spoilt file of a number.
func (a *arena) spoil(number int) {
	r := rand.New(rand.NewPCG(a.seed, uint64(number)))
	k := a.kinds[r.IntN(len(a.kinds))]
	dir := filepath.Join(a.work, fmt.Sprintf("case-%d", number))
	defer os.RemoveAll(dir)
	files := map[string][]byte{"list.csv": []byte(list), k.place: nil}
	for name, content := range k.beside {
		files[name] = content
	}
	files[k.place] = mutate(r, k)
	if err := write(dir, files); err != nil {
		a.tally.fail(k.name, number, "", nil, err)
		return
	}
	args := k.commands[r.IntN(len(k.commands))]
	o, err := a.run(dir, args, nil)
	if err == nil {
		err = o.check(k.crash(), dir, files)
	}
	a.tally.add(k.name, o)
	if err != nil {
		a.tally.fail(k.name, number, dir, args, err)
	}
}

func write(dir string, files map[string][]byte) error {
	for name, content := range files {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, content, 0o644)); err != nil {
			return err
		}
	}
	return nil
}

// run runs the program in a folder. meanwhile, if there is one, is called with the process while it runs.
func (a *arena) run(dir string, args []string, meanwhile func(*os.Process)) (outcome, error) {
	ctx, stop := context.WithTimeout(context.Background(), mostWait)
	defer stop()
	bounded := fmt.Sprintf(`ulimit -d %d && exec "$0" "$@"`, mostKilobytes)
	command := exec.CommandContext(ctx, "sh", append([]string{"-c", bounded, a.program}, args...)...)
	var stdout, stderr bytes.Buffer
	command.Dir, command.Stdout, command.Stderr = dir, &stdout, &stderr
	if err := command.Start(); err != nil {
		return outcome{}, err
	}
	if meanwhile != nil {
		meanwhile(command.Process)
	}
	err := command.Wait()
	var ended *exec.ExitError
	if err != nil && !errors.As(err, &ended) {
		return outcome{}, err
	}
	o := outcome{
		code:   command.ProcessState.ExitCode(),
		took:   command.ProcessState.UserTime() + command.ProcessState.SystemTime(),
		stdout: stdout.String(),
		stderr: stderr.String(),
	}
	if usage, ok := command.ProcessState.SysUsage().(*syscall.Rusage); ok {
		o.kilobytes = usage.Maxrss
	}
	if o.took > mostTime || ctx.Err() != nil {
		return o, fmt.Errorf("took more than %v of the processors, or waited more than %v", mostTime, mostWait)
	}
	return o, nil
}

// crashes is what a run never says, whatever it was given. With a net whose values are no numbers the program may say
// that it failed.
var (
	crashes = regexp.MustCompile(
		`(?m)goroutine \d|^panic:|runtime error|program failed|SIG[A-Z]{3}|terminate called|out of memory|cannot allocate|unexpected fault`,
	)
	crashesOfNet = regexp.MustCompile(strings.Replace(crashes.String(), "|program failed", "", 1))
)

func (k kind) crash() *regexp.Regexp {
	if k.name == "net" {
		return crashesOfNet
	}
	return crashes
}

// check finds what no run may do: crash, fail without an interrupt, obey what a file says to the terminal, change a
// file that was given, or leave half a file.
func (o outcome) check(crash *regexp.Regexp, dir string, given map[string][]byte) error {
	said := o.stdout + o.stderr
	switch {
	case o.code < 0 || o.code > 3 || o.code == 1:
		return fmt.Errorf("ended with %d: %.300s", o.code, o.stderr)
	case crash.MatchString(said):
		return fmt.Errorf("crashed: %.300s", crash.FindString(said))
	case strings.ContainsAny(said, "\x1b\u202e\u009b\x00"):
		return errors.New("it wrote a control character to the terminal")
	}
	for name, content := range given {
		now, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !bytes.Equal(now, content) {
			return fmt.Errorf("it changed %s", name)
		}
	}
	return whole(dir, given)
}

// whole reports the first file in a folder that was not given and is not whole, or is a temporary one.
func whole(dir string, given map[string][]byte) error {
	return filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if _, known := given[name]; known || err != nil {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		switch {
		case strings.HasPrefix(entry.Name(), "."):
			return fmt.Errorf("it left %s", name)
		case filepath.Ext(name) == ".json" && !json.Valid(content):
			return fmt.Errorf("%s is not whole", name)
		case filepath.Ext(name) == ".png":
			if _, err := png.Decode(bytes.NewReader(content)); err != nil {
				return fmt.Errorf("%s is not whole: %w", name, err)
			}
		}
		return nil
	})
}

// kill ends a run over many photos half way, in a way and at a time drawn by the number, and looks at what it left.
func (a *arena) kill(number int) {
	r := rand.New(rand.NewPCG(a.seed+1, uint64(number)))
	dir := filepath.Join(a.work, fmt.Sprintf("kill-%d", number))
	defer os.RemoveAll(dir)
	earlier := []byte(`{"an": "earlier result"}`)
	files := map[string][]byte{}
	photos := a.kinds[0].good[:2]
	for n := range 12 {
		files[fmt.Sprintf("photos/%02d.jpg", n)] = photos[n%len(photos)]
	}
	if err := write(dir, files); err != nil {
		a.tally.fail("kill", number, "", nil, err)
		return
	}
	if err := os.WriteFile(filepath.Join(dir, "r.json"), earlier, 0o644); err != nil {
		a.tally.fail("kill", number, "", nil, err)
		return
	}
	how := []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGKILL}[number%3]
	after := time.Duration(r.IntN(1500)) * time.Millisecond
	args := []string{"score", "--json", "r.json", "--overlay", "seen", "--masks", "masks", "photos"}
	o, err := a.run(dir, args, func(p *os.Process) {
		time.Sleep(after)
		_ = p.Signal(how) // it may have ended
	})
	if err == nil {
		err = o.checkKilled(dir, files, earlier, how)
	}
	a.tally.add("kill "+how.String(), o)
	if err != nil {
		a.tally.fail("kill", number, dir, args, err)
	}
}

// checkKilled finds what a run that was ended may not leave: a file that is lost or not whole, and a temporary one
// unless it had no time to remove it.
func (o outcome) checkKilled(dir string, given map[string][]byte, earlier []byte, how syscall.Signal) error {
	if how == syscall.SIGKILL {
		if err := sweep(dir); err != nil {
			return err
		}
	} else if !slices.Contains([]int{0, 1, 3, -1}, o.code) { // -1: before the program was there to catch it
		return fmt.Errorf("ended with %d: %.300s", o.code, o.stderr)
	}
	if crashes.MatchString(o.stderr) {
		return fmt.Errorf("crashed: %.300s", o.stderr)
	}
	result, err := os.ReadFile(filepath.Join(dir, "r.json"))
	if err != nil {
		return err
	}
	var complete struct{ Photos []json.RawMessage }
	if !bytes.Equal(result, earlier) &&
		(json.Unmarshal(result, &complete) != nil || len(complete.Photos) != len(given)) {
		return errors.New("r.json is neither the earlier result nor the whole one")
	}
	return whole(dir, given)
}

// sweep removes the temporary files that a run leaves which is killed outright.
func sweep(dir string) error {
	for _, pattern := range []string{".*", "*/.*"} {
		left, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return err
		}
		for _, path := range left {
			if err := os.Remove(path); err != nil {
				return err
			}
		}
	}
	return nil
}
