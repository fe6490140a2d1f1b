package compare_test

import (
	"fmt"
	"log"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/score"
)

// Two photos of one valve, before and after it was blasted. The results carry maps of the valve, so that only what both
// photos show is compared.
func ExamplePhotos() {
	scorer, err := score.New(score.Options{Map: true})
	if err != nil {
		log.Fatal(err)
	}
	defer scorer.Close()
	before := scorer.Score("../../testdata/engine/cyl1-valve1-before.jpg")[0].Record()
	after := scorer.Score("../../testdata/engine/cyl1-valve1-after.jpg")[0].Record()
	c := compare.Photos(&before, &after, compare.Options{})
	fmt.Println(c.Verdict)
	fmt.Println("nearly all of it went:", c.Index.Removed().Value > 0.9)
	fmt.Println("zones with deposit left:", len(c.Left()))
	// Output:
	// changed
	// nearly all of it went: true
	// zones with deposit left: 0
}
