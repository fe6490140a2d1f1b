// Command attack feeds bin/valvegrade spoilt files and ends its runs half way; scripts/attack.sh says how to use it.
// Every case follows from the seed and its number alone.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"
)

func main() {
	files := flag.Int("files", 300, "spoilt files to try")
	kills := flag.Int("kills", 10, "runs to end half way")
	seed := flag.Uint64("seed", 1, "what draws the cases")
	only := flag.Int("only", -1, "the number of the one case to try")
	flag.Parse()
	if err := attack(*files, *kills, *seed, *only); err != nil {
		fmt.Fprintln(os.Stderr, "attack:", err)
		os.Exit(1)
	}
}

func attack(files, kills int, seed uint64, only int) error {
	program, err := filepath.Abs("bin/valvegrade")
	if err != nil {
		return err
	}
	work, err := os.MkdirTemp("", "attack-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	kinds, err := loadKinds(program, work)
	if err != nil {
		return err
	}
	a := &arena{program: program, work: work, seed: seed, kinds: kinds, tally: newTally()}
	if only >= 0 {
		a.spoil(only)
		a.tally.print()
		return a.tally.err()
	}
	inParallel(files, a.spoil)
	inParallel(kills, a.kill)
	a.tally.print()
	return a.tally.err()
}

// inParallel does the numbered pieces of work, as many at a time as there are cores.
func inParallel(pieces int, do func(number int)) {
	numbers := make(chan int)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for n := range numbers {
				do(n)
			}
		})
	}
	for n := range pieces {
		numbers <- n
	}
	close(numbers)
	group.Wait()
}
