package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// tally counts how runs ended, by kind of file.
type tally struct {
	lock     sync.Mutex
	kinds    map[string]*count
	failures []string
}

type count struct {
	runs      int
	codes     map[int]int
	slowest   time.Duration
	kilobytes int64
}

func newTally() *tally { return &tally{kinds: map[string]*count{}} }

func (t *tally) add(kind string, o outcome) {
	t.lock.Lock()
	defer t.lock.Unlock()
	c := t.kinds[kind]
	if c == nil {
		c = &count{codes: map[int]int{}}
		t.kinds[kind] = c
	}
	c.runs++
	c.codes[o.code]++
	c.slowest, c.kilobytes = max(c.slowest, o.took), max(c.kilobytes, o.kilobytes)
}

// fail keeps the folder of a case that failed.
func (t *tally) fail(kind string, number int, dir string, args []string, err error) {
	t.lock.Lock()
	defer t.lock.Unlock()
	kept := ""
	if dir != "" {
		kept = filepath.Join("attack-failures", filepath.Base(dir))
		if moved := os.CopyFS(kept, os.DirFS(dir)); moved != nil {
			kept = moved.Error()
		}
	}
	failure := fmt.Sprintf("%s %d: valvegrade %s: %v (%s)", kind, number, strings.Join(args, " "), err, kept)
	t.failures = append(t.failures, failure)
	fmt.Println("FAILED", failure)
}

// print writes a line for each kind.
func (t *tally) print() {
	for _, kind := range slices.Sorted(maps.Keys(t.kinds)) {
		c := t.kinds[kind]
		codes := ""
		for _, code := range slices.Sorted(maps.Keys(c.codes)) {
			codes += fmt.Sprintf("  %d with %d", c.codes[code], code)
		}
		fmt.Printf(
			"%-16s %6d runs, slowest %4.1f s, most memory %4d MB; ended:%s\n",
			kind,
			c.runs,
			c.slowest.Seconds(),
			c.kilobytes>>10,
			codes,
		)
	}
}

func (t *tally) err() error {
	if len(t.failures) == 0 {
		return nil
	}
	return fmt.Errorf(
		"%d cases failed; repeat one with: go run ./scripts/attack -only NUMBER -seed SEED",
		len(t.failures),
	)
}
