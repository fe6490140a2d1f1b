// Measure tells how good a built program is on photos: it runs `valvegrade score --json --masks` and holds what that
// writes against the truth.
//
//	measure DIR...             accuracy on sets of photos with truth (package internal/truth)
//	measure -crops DIR...      how far the index of one valve depends on the framing: each photo with truth, cropped
//	measure -pairs DIR...      what comparing makes of every two photos of one valve, and of several valves as an engine
//	measure -series DIR...     what combining makes of all photos of one valve
//	measure -views DIR...      real photos without truth: how far each valve's figures depend on framing, turn and exposure
//	measure -folders DIR...    photos without truth: how many are graded, and why the others are refused
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"strconv"
	"time"

	"valvegrade/pkg/score"
)

// findings are what was measured on one folder.
type findings interface {
	// figures are the numbers in the order in which they are to be read.
	figures() ([]figure, error)
	// remarks are lines on single photos; of those that are many at most the first most.
	remarks(most int) []string
	// details has an entry for each photo or valve, for the file.
	details() any
	// version is that of the program and its nets.
	version() string
}

func main() {
	log.SetFlags(0)
	var (
		scorer  program
		crops   = flag.Bool("crops", false, "crop each photo with truth and tell how far the index spreads")
		couples = flag.Bool("pairs", false, "compare every two photos of a valve: what is seen of changes, what falsely")
		series  = flag.Bool("series", false, "combine all photos of a valve: do intervals hold, how much narrower are they")
		random  = flag.Bool("views", false, "photos without truth: crop, turn and expose each at random and tell how far figures spread")
		number  = flag.Uint("each", 40, "with -views, make `N` views of each photo")
		folders = flag.Bool("folders", false, "photos without truth: count what is graded and refused")
		worst   = flag.Uint("worst", 8, "tell of the worst `N` photos")
		file    = flag.String("json", "", "write figures and details to `FILE`")
	)
	flag.StringVar(&scorer.path, "program", "bin/valvegrade", "the `PROGRAM` to measure")
	flag.Func("net", "hand a net in `FILE` on to the program; may be given twice", scorer.addNet)
	flag.StringVar(&scorer.keep, "keep", "", "keep results and masks in `DIR`")
	flag.Parse()
	kinds := 0
	for _, chosen := range []bool{*crops, *couples, *series, *random, *folders} {
		if chosen {
			kinds++
		}
	}
	if flag.NArg() == 0 || kinds > 1 {
		log.Fatal("usage: measure [-crops | -pairs | -series | -views | -folders] [OPTIONS] DIR...; -help lists the options")
	}
	flag.Visit(func(f *flag.Flag) {
		if (*couples || *series) && (f.Name == "program" || f.Name == "keep") {
			log.Fatalf("measure: -%s has no meaning with -pairs and -series, which run the packages themselves", f.Name)
		}
	})
	study := accuracy
	switch {
	case *crops:
		study = framing
	case *couples:
		study = pairing
	case *series:
		study = combining
	case *random:
		study = viewing(int(*number))
	case *folders:
		study = reception
	}
	result := report{Date: time.Now().Format(time.DateOnly), Sets: map[string]set{}}
	for i, name := range score.Labels(flag.Args()) {
		found, err := study(scorer.in(name), flag.Arg(i))
		if err != nil {
			log.Fatal("measure: ", err)
		}
		figures, err := found.figures()
		if err != nil {
			log.Fatal("measure: ", flag.Arg(i), ": ", err)
		}
		show(name, figures, found.remarks(int(*worst)))
		result.Program = found.version()
		result.Sets[name] = set{Figures: keyed(figures), Details: found.details()}
	}
	if err := result.write(*file); err != nil {
		log.Fatal("measure: ", err)
	}
}

func show(name string, figures []figure, remarks []string) {
	fmt.Printf("== %s\n", name)
	for _, f := range figures {
		value := "-"
		if !math.IsNaN(f.value) {
			value = strconv.FormatFloat(f.value, 'f', 3, 64)
		}
		fmt.Printf("%-52s %9s\n", f.name, value)
	}
	for _, line := range remarks {
		fmt.Println(line)
	}
	fmt.Println()
}

// report is what -json writes.
type report struct {
	// Program is the version of the program and its nets.
	Program string         `json:"program"`
	Date    string         `json:"date"`
	Sets    map[string]set `json:"sets"`
}

type set struct {
	Figures map[string]*float64 `json:"figures"`
	Details any                 `json:"details"`
}

func (r report) write(path string) error {
	if path == "" {
		return nil
	}
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	encoder := json.NewEncoder(file)
	encoder.SetIndent("", " ")
	return errors.Join(encoder.Encode(r), file.Close())
}
