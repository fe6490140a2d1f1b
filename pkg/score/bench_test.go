package score_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"testing"

	"github.com/disintegration/imaging"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/draw"
	_ "valvegrade/internal/memory" // as the program has it
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// All times here are warm: the net has run before. Those of a fresh process stand in cmd/valvegrade.

// The time of one photo from its bytes to the result, and of each room on the way; writing is the masks and the
// overlay.
func BenchmarkWarm(b *testing.B) {
	for _, size := range []image.Point{{640, 480}, {1920, 1080}} {
		b.Run(fmt.Sprintf("%dx%d", size.X, size.Y), func(b *testing.B) { benchmarkRooms(b, demoPhoto(b, size)) })
	}
}

func benchmarkRooms(b *testing.B, data []byte) {
	scorer, err := score.New(score.Options{})
	require.NoError(b, err)
	defer scorer.Close()
	finder, err := region.NewFinder(region.FinderOptions{})
	require.NoError(b, err)
	defer finder.Close()
	p, err := photo.Decode("warm.jpg", data, photo.Limits{})
	require.NoError(b, err)
	found, err := finder.Find(p, nil)
	require.NoError(b, err)
	valves := scorer.ScoreBytes("warm.jpg", data, nil)
	require.Len(b, valves, 1)
	require.Equal(b, score.Scored, valves[0].Status, "a refused photo leaves rooms out")
	folder := b.TempDir()

	rooms := []struct {
		name string
		work func() error
	}{
		{"score", func() error { scorer.ScoreBytes("warm.jpg", data, nil); return nil }},
		{"score/decode", func() error { _, err := photo.Decode("warm.jpg", data, photo.Limits{}); return err }},
		{"score/region", func() error { _, err := finder.Find(p, nil); return err }},
		{"score/assess", func() error { photo.Assess(p, found[0].Mask); return nil }},
		{"score/measure", func() error { _, err := deposit.Measure(p, found[0], deposit.Options{}); return err }},
		{"write", func() error {
			if err := score.WriteMasks(folder, valves); err != nil {
				return err
			}
			return score.WritePNG(folder+"/overlay.png", draw.Overlay(valves...))
		}},
	}
	for _, room := range rooms {
		b.Run(room.name, func(b *testing.B) {
			for b.Loop() {
				require.NoError(b, room.work())
			}
		})
	}
}

// The time of making a Scorer: loading the net, which a program pays at its start.
func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		scorer, err := score.New(score.Options{})
		require.NoError(b, err)
		scorer.Close()
	}
}

// demoPhoto returns a demo photo as a JPEG of the given size.
func demoPhoto(b *testing.B, size image.Point) []byte {
	b.Helper()
	data, err := os.ReadFile("../../testdata/series/repeat-1-a.jpg")
	require.NoError(b, err)
	stored, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(b, err)
	if stored.Bounds().Size() == size {
		return data
	}
	var enlarged bytes.Buffer
	require.NoError(
		b,
		jpeg.Encode(
			&enlarged,
			imaging.Fill(stored, size.X, size.Y, imaging.Center, imaging.CatmullRom),
			&jpeg.Options{Quality: 88},
		),
	)
	return enlarged.Bytes()
}
