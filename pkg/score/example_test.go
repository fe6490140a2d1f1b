package score_test

import (
	"context"
	"fmt"
	"log"
	"os"

	"valvegrade/pkg/score"
)

// A Scorer is loaded once and measures photo after photo.
func ExampleScorer_Score() {
	scorer, err := score.New(score.Options{})
	if err != nil {
		log.Fatal(err)
	}
	defer scorer.Close()
	for _, r := range scorer.Score("../../testdata/singles/single-01.jpg") {
		if r.Status == score.Refused {
			fmt.Println("retake it:", r.Reasons[0].Advice)
			continue
		}
		index := r.Deposit.Both.Index
		fmt.Printf(
			"valve %d of %d: grade %d %s, index %.0f\n",
			r.Valve,
			r.Valves,
			r.Grade.Value,
			r.Grade.Name,
			index.Value,
		)
		fmt.Println("the interval holds the index:", index.Low <= index.Value && index.Value <= index.High)
	}
	// Output:
	// valve 1 of 1: grade 0 bare, index 0
	// the interval holds the index: true
}

// A photo that is in memory, as an upload is.
func ExampleScorer_ScoreBytes() {
	data, err := os.ReadFile("../../testdata/singles/single-01.jpg")
	if err != nil {
		log.Fatal(err)
	}
	scorer, err := score.New(score.Options{})
	if err != nil {
		log.Fatal(err)
	}
	defer scorer.Close()
	for _, r := range scorer.ScoreBytes("upload.jpg", data, nil) {
		fmt.Println(r.Status)
	}
	// Output: scored
}

// A batch measures many photos in parallel and hands over the results in order. Whatever is wrong with a file is a
// refusal of that photo.
func ExampleBatch() {
	photos := []string{"../../testdata/singles/single-01.jpg", "../../testdata/singles/no-such-photo.jpg"}
	err := score.Batch(context.Background(), photos, score.BatchOptions{}, func(r *score.Result) error {
		fmt.Println(r.Label, r.Status)
		for _, reason := range r.Reasons {
			fmt.Println(" ", reason.Code)
		}
		return nil
	})
	if err != nil {
		log.Fatal(err)
	}
	// Output:
	// single-01 scored
	// no-such-photo refused
	//   unreachable
}

// Each step of the measurement can be looked at.
func ExampleStages() {
	scorer, err := score.New(score.Options{})
	if err != nil {
		log.Fatal(err)
	}
	defer scorer.Close()
	valves := scorer.Score("../../testdata/singles/single-01.jpg")
	for _, stage := range score.Stages(valves) {
		fmt.Println(stage.Name, !stage.Picture.Bounds().Empty())
	}
	// Output:
	// photo true
	// region true
	// quality true
	// light true
	// classes true
}
