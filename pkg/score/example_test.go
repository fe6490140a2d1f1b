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
	r := scorer.Score("../../testdata/singles/single-01.jpg")
	if r.Status == score.Refused {
		fmt.Println("retake it:", r.Reasons[0].Advice)
		return
	}
	index := r.Deposit.Both.Index
	fmt.Printf("grade %d %s, index %.0f\n", r.Grade.Value, r.Grade.Name, index.Value)
	fmt.Println("the interval holds the index:", index.Low <= index.Value && index.Value <= index.High)
	// Output:
	// grade 0 bare, index 0
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
	fmt.Println(scorer.ScoreBytes("upload.jpg", data).Status)
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
func ExampleResult_Stages() {
	scorer, err := score.New(score.Options{})
	if err != nil {
		log.Fatal(err)
	}
	defer scorer.Close()
	r := scorer.Score("../../testdata/singles/single-01.jpg")
	for _, stage := range r.Stages() {
		fmt.Println(stage.Name, !stage.Picture.Bounds().Empty())
	}
	// Output:
	// photo true
	// region true
	// quality true
	// light true
	// classes true
}
