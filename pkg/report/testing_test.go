package report

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// The inspections in testdata are invented: what a report says must not depend on what some net measures.

var regen = flag.Bool("regen", false, "write the golden files anew")

// golden fails when the text is not that of the golden file.
func golden(t *testing.T, name string, write func(io.Writer) error) {
	t.Helper()
	got := written(t, write)
	path := filepath.Join("testdata", name)
	if *regen {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	wanted, gotten := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for n := range min(len(wanted), len(gotten)) {
		require.Equal(t, wanted[n], gotten[n], "%s, line %d; run with -regen to approve", path, n+1)
	}
	assert.Len(t, gotten, len(wanted), "%s; run with -regen to approve", path)
}

func written(t *testing.T, write func(io.Writer) error) string {
	t.Helper()
	var text bytes.Buffer
	require.NoError(t, write(&text))
	return text.String()
}

// invented returns the inspection of that name in testdata, with pictures that show nothing.
func invented(t *testing.T, name string) Source {
	t.Helper()
	facts, err := os.ReadFile(filepath.Join("testdata", name+".yaml"))
	require.NoError(t, err)
	i, err := inspection.Parse(name+".yaml", facts)
	require.NoError(t, err)
	file, err := os.Open(filepath.Join("testdata", name+".json"))
	require.NoError(t, err)
	defer file.Close()
	photos, err := score.ReadDocument(file)
	require.NoError(t, err)
	return sourceOf(t, i, photos.Photos)
}

func sourceOf(t *testing.T, i *inspection.Inspection, records []score.Record) Source {
	t.Helper()
	g, err := engine.Of(i, &score.Document{Schema: score.SchemaVersion, Version: records[0].Version, Photos: records})
	require.NoError(t, err)
	source := Source{Graded: g}
	for n, r := range records {
		shown := Pictures{Plain: speckled(t, n)}
		if r.Status == score.Scored {
			shown.Marked = speckled(t, n+1)
		}
		source.Pictures = append(source.Pictures, shown)
	}
	return source
}

// speckled returns one of four pictures that compress as badly as photos do.
func speckled(t *testing.T, seed int) *Picture {
	t.Helper()
	picture, err := pictures[seed%len(pictures)]()
	require.NoError(t, err)
	return picture
}

var pictures = [...]func() (*Picture, error){drawing(1), drawing(2), drawing(3), drawing(4)}

// drawing draws once what many tests show.
func drawing(seed uint32) func() (*Picture, error) {
	return sync.OnceValues(func() (*Picture, error) {
		noise := image.NewNRGBA(image.Rect(0, 0, 640, 480))
		state := seed
		for i := 0; i < len(noise.Pix); i += 4 {
			state = state*1664525 + 1013904223
			v := uint8(60+uint32(i/4%640)/8+20*seed) + uint8(state>>27)
			noise.Pix[i], noise.Pix[i+1], noise.Pix[i+2], noise.Pix[i+3] = v, v-10, v-20, 255
		}
		return NewPhotoPicture(noise, 59_000)
	})
}

// inputOf returns a report of the named inspections, written on a fixed day.
func inputOf(t *testing.T, names ...string) Input {
	t.Helper()
	in := Input{
		Workshop: true,
		Program:  "1.0.0+net.0123456789ab",
		Shop:     Shop{Name: "Example Garage", Address: []string{"12 Example Road", "Example Town"}, Phone: "555 0100"},
		Job:      Job{Number: "4711", Date: time.Date(2026, 3, 16, 0, 0, 0, 0, time.UTC)},
		// Invented, too: the program's own repeatability changes with its net.
		Compare: compare.Options{Repeatability: &compare.Repeatability{
			Index: compare.Precision{SEM: 2}, Dark: compare.Precision{SEM: 2}, Coverage: compare.Precision{SEM: 3},
		}},
	}
	for _, name := range names {
		in.Visits = append(in.Visits, invented(t, name))
	}
	return in
}

func build(t *testing.T, in Input) *Model {
	t.Helper()
	m, err := Build(in)
	require.NoError(t, err)
	return m
}

// formats are all forms that this package writes.
func formats(m *Model) map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{
		"html": m.WriteHTML,
		"csv":  m.WriteCSV,
		"json": m.WriteJSON,
		"txt":  m.WriteText,
	}
}

// engineOf returns an inspection of many cylinders in which every valve has one photo.
func engineOf(t *testing.T, cylinders, valves int) Source {
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
