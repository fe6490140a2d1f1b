// Calibrate tells what intervals, confidence and refusals are worth, on photos with truth as scripts/train/held_back.py
// makes them, and which constants of deposit.Calibration would serve better.
//
//	go run ./scripts/calibrate DIR...            the tables, with the constants as they are
//	go run ./scripts/calibrate -search DIR...    the constants that serve best on the even photos, tried on the odd
package main

import (
	"flag"
	"fmt"
	"log"
	"os"

	"valvegrade/pkg/deposit"
)

func main() {
	log.SetFlags(0)
	searching := flag.Bool("search", false, "look for better constants")
	var nets [][]byte
	flag.Func("net", "use the net in `FILE`; may be given twice", func(file string) error {
		onnx, err := os.ReadFile(file)
		nets = append(nets, onnx)
		return err
	})
	flag.Parse()
	if flag.NArg() == 0 {
		log.Fatal("usage: calibrate [-search] [-net FILE]... DIR...")
	}
	var photos []sample
	for _, dir := range flag.Args() {
		more, err := readAll(dir, nets)
		if err != nil {
			log.Fatal(err)
		}
		photos = append(photos, more...)
	}
	fmt.Printf("%d photos\n\n", len(photos))
	refusals(photos)
	good := judged(photos)
	if len(good) == 0 {
		log.Fatal("no photo was judged that has a valve: nothing to calibrate on")
	}
	reliability(good)
	expectation(good)
	fmt.Println("as it is:", worthOf(good, deposit.DefaultCalibration()))
	if *searching {
		search(good)
	}
}
