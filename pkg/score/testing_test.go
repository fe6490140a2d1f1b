package score

import (
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

// scored returns a result with a value in every field, made by hand: its figures follow from no photo.
func scored() *Result {
	taken := time.Date(2025, 3, 9, 14, 5, 7, 0, time.UTC)
	head := deposit.Figures{
		Pixels:     900,
		Unreadable: 0.1,
		Shares:     measure.Shares{Bare: 0.4, Film: 0.3, Medium: 0.2, Heavy: 0.1},
		Reading: measure.Reading{
			Index:    measure.Figure{Value: 27.5, Low: 22, High: 33},
			Coverage: measure.Figure{Value: 60, Low: 55, High: 66},
		},
	}
	return &Result{
		Name: "engine/port 1 \U0001F527.jpg", Label: "port 1 \U0001F527", Version: "1.2.3+net.0123456789ab", Valve: 1, Valves: 1,
		SHA256: "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08", Width: 64, Height: 48, Taken: &taken,
		Status: Scored, Grade: grade.Of(measure.Figure{Value: 34.567, Low: 29, High: 41}, grade.Probabilities{}), Reasons: []reason.Reason{reason.Of(reason.Glare)},
		Quality: &photo.Quality{
			ValveShare:     0.3,
			ValveRadius:    171,
			Luminance:      0.2,
			FrameLuminance: 0.15,
			Signal:         22,
			Black:          0,
			Glare:          0.09,
			Sharpness:      1.1,
			Motion:         math.NaN(),
		},
		Region: &region.Region{Mask: image.NewGray(image.Rect(0, 0, 64, 48)), HeadPixels: 900, StemPixels: 100,
			Ellipse: &region.Ellipse{
				X:     31.25,
				Y:     20,
				A:     19,
				B:     15,
				Angle: 12,
			}, Axis: &region.Line{X1: 30, Y1: 1, X2: 31, Y2: 20, Width: 6},
			Confidence: 0.93, Source: region.Auto},
		Deposit: &deposit.Deposit{
			Map: image.NewGray(image.Rect(0, 0, 64, 48)),
			Both: deposit.Figures{
				Pixels:     1000,
				Unreadable: 0.09,
				Shares:     measure.Shares{Bare: 1. / 3, Film: 1. / 3, Medium: 0, Heavy: 1. / 3},
				Reading: measure.Reading{
					Index:    measure.Figure{Value: 34.567, Low: 29, High: 41},
					Dark:     measure.Figure{Value: 33.3333, Low: 25, High: 44},
					Coverage: measure.Figure{Value: 66.6666, Low: 60.004, High: 71.006},
				},
			},
			Head: &head, BuildUp: deposit.Unknown,
			Colour: deposit.Colour{
				DepositL:       21.5,
				DepositA:       2,
				DepositB:       4,
				BareL:          61,
				BareA:          0.2,
				BareB:          1,
				DifferenceDE00: 33,
				DarknessL:      39.5,
			},
			Texture: deposit.Texture{
				ContrastGLCM:    8,
				EntropyBits:     6,
				CorrelationGLCM: 0.7,
				HomogeneityGLCM: 0.4,
				LBPEntropyBits:  2.5,
				ReliefFine:      0.1,
				ReliefCoarse:    0.2,
			},
		},
		Photo: &photo.Photo{},
	}
}

// refused returns the result of a file that is no image.
func refused() *Result {
	r := &Result{Name: "notes.jpg", Label: "notes", Version: "1.2.3+net.0123456789ab", Valve: 1, Valves: 1}
	return r.refuse(reason.Of(reason.NotAnImage))
}

// only returns the one result of a photo.
func only(t *testing.T, valves []*Result) *Result {
	t.Helper()
	require.Len(t, valves, 1)
	return valves[0]
}

// plainPhoto writes a PNG of one grey, which shows no valve, and returns its path.
func plainPhoto(t *testing.T, dir, name string) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 200, 180))
	for i := range picture.Pix {
		picture.Pix[i] = 90
	}
	path := filepath.Join(dir, name)
	file, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, png.Encode(file, picture))
	require.NoError(t, file.Close())
	return path
}
