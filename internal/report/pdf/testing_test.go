package pdf

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"valvegrade/internal/report/gather"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// invented returns one of the inspections of package report's tests, with pictures that show nothing.
func invented(t *testing.T, name string) report.Source {
	t.Helper()
	facts, err := os.ReadFile(filepath.Join("..", "..", "..", "pkg", "report", "testdata", name+".yaml"))
	require.NoError(t, err)
	i, err := inspection.Parse(name+".yaml", facts)
	require.NoError(t, err)
	file, err := os.Open(filepath.Join("..", "..", "..", "pkg", "report", "testdata", name+".json"))
	require.NoError(t, err)
	defer file.Close()
	photos, err := score.ReadDocument(file)
	require.NoError(t, err)
	return sourceOf(t, i, photos.Photos)
}

func sourceOf(t *testing.T, i *inspection.Inspection, records []score.Record) report.Source {
	t.Helper()
	g, err := engine.Of(i, &score.Document{Schema: score.SchemaVersion, Version: records[0].Version, Photos: records})
	require.NoError(t, err)
	source := report.Source{Graded: g}
	size := min(len(records), 16)
	for n, r := range records {
		shown := report.Pictures{Plain: speckled(t, 2*n, size)}
		if r.Status == score.Scored {
			shown.Marked = speckled(t, 2*n+1, size)
		}
		source.Pictures = append(source.Pictures, shown)
	}
	return source
}

// speckled is a picture that compresses badly, each number to 31 another one, as one of so many photos.
func speckled(t *testing.T, number, photos int) *report.Picture {
	t.Helper()
	key := [2]int{number % 32, gather.PictureBytes(photos)}
	drawing, _ := drawings.LoadOrStore(key, sync.OnceValues(func() (*report.Picture, error) {
		noise := image.NewNRGBA(image.Rect(0, 0, 640, 480))
		state := uint32(key[0] + 1)
		for i := 0; i < len(noise.Pix); i += 4 {
			state = state*1664525 + 1013904223
			v := uint8(90+i/4%640/8) + uint8(state>>28)
			noise.Pix[i], noise.Pix[i+1], noise.Pix[i+2], noise.Pix[i+3] = v, v-10, v-20, 255
		}
		return report.NewPhotoPicture(noise, key[1])
	}))
	picture, err := drawing.(func() (*report.Picture, error))()
	require.NoError(t, err)
	return picture
}

var drawings sync.Map

// inputOf returns a report of the named inspections, written on a fixed day.
func inputOf(t *testing.T, names ...string) report.Input {
	t.Helper()
	in := report.Input{
		Workshop: true,
		Program:  "1.0.0+net.0123456789ab",
		Shop:     report.Shop{Name: "Example Garage", Address: []string{"12 Example Road", "Example Town"}},
		Job:      report.Job{Number: "4711", Date: time.Date(2026, 3, 16, 14, 30, 0, 0, time.UTC)},
		// Invented, too: the program's own repeatability changes with its net.
		Compare: compare.Options{Repeatability: &compare.Repeatability{
			Index: compare.Precision{SEM: 2}, Coverage: compare.Precision{SEM: 3},
		}},
	}
	for _, name := range names {
		in.Visits = append(in.Visits, invented(t, name))
	}
	return in
}

func build(t *testing.T, in report.Input) *report.Model {
	t.Helper()
	m, err := report.Build(in)
	require.NoError(t, err)
	return m
}

// full has all that a report can have: a logo, history, a refused photo, an absent one, a missing valve, a residue map.
func full(t *testing.T, names ...string) *report.Model {
	t.Helper()
	in := inputOf(t, names...)
	in.Shop.Logo, in.Job.Customer, in.Job.Remarks = speckled(t, 0, 1), "A. Sample", "second look"
	in.Visits[0].Pictures[3].Plain, in.Visits[0].Pictures[3].Absent = nil, "The photo was not found."
	for n, odometer := range []float64{20000, 30000} {
		earlier := invented(t, "before").Engine
		earlier.Inspection.Odometer.Value, earlier.Inspection.Stage = odometer, inspection.Routine
		earlier.Inspection.Date = time.Date(2023+n, 1, 1, 0, 0, 0, 0, time.UTC)
		in.History = append(in.History, earlier)
	}
	m := build(t, in)
	m.Cylinders[0].Valves[0].Comparison.Map = speckled(t, 2, 1)
	m.Cylinders[0].Valves[0].Comparison.Left = []report.Residue{
		{Place: "rim", Index: 12.5},
		{Place: "4 o'clock", Index: 20},
	}
	return m
}

// engineOf returns an inspection of many cylinders in which every valve has one photo.
func engineOf(t *testing.T, cylinders, valves int) report.Source {
	t.Helper()
	i := &inspection.Inspection{
		Vehicle: "fleet-17", Engine: inspection.Layout{Cylinders: cylinders, Valves: valves}, Date: time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC),
		Odometer: inspection.Odometer{Value: 45210, Unit: inspection.Miles}, Stage: inspection.Routine,
	}
	record := invented(t, "before").Photos[0]
	var records []score.Record
	for c := range cylinders {
		for v := range valves {
			i.Photos = append(
				i.Photos,
				inspection.Photo{File: fmt.Sprintf("c%dv%d.jpg", c+1, v+1), Cylinder: c + 1, Valve: v + 1},
			)
			records = append(records, record)
		}
	}
	return sourceOf(t, i, records)
}
