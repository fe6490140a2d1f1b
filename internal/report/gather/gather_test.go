package gather_test

import (
	"context"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/report/gather"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

const facts = `vehicle: fleet-17
engine: {cylinders: 2, valves: 1}
date: 2026-03-14
odometer: 45210 mi
stage: routine
photos:
  - {file: c1.jpg, cylinder: 1, valve: 1}
  - {file: c2.png, cylinder: 2, valve: 1}
`

// position stands for what a camera or phone writes into its photos besides pixels.
const position = "GPSLatitude 12 34 56 N, of nobody"

// folder makes an inspection of one photo with a valve, which carries a position, and one without.
func folder(t *testing.T) *inspection.Inspection {
	t.Helper()
	dir := t.TempDir()
	valve, err := os.ReadFile("../../../testdata/engine/cyl1-valve1-before.jpg")
	require.NoError(t, err)
	segment := "Exif\x00\x00" + position
	length := len(segment) + 2
	withPosition := append([]byte{0xff, 0xd8, 0xff, 0xe1, byte(length >> 8), byte(length)}, segment...)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "c1.jpg"), append(withPosition, valve[2:]...), 0o600))

	grey := image.NewGray(image.Rect(0, 0, 200, 170))
	for i := range grey.Pix {
		grey.Pix[i] = 90
	}
	file, err := os.Create(filepath.Join(dir, "c2.png"))
	require.NoError(t, err)
	require.NoError(t, png.Encode(file, grey))
	require.NoError(t, file.Close())
	require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), []byte(facts), 0o600))
	i, err := inspection.Load(dir)
	require.NoError(t, err)
	return i
}

// withMaps are options that ask for what comparing needs.
func withMaps(scored func()) gather.Options {
	o := gather.Options{Scored: scored}
	o.Map = true
	return o
}

func gathered(t *testing.T, i *inspection.Inspection, o gather.Options) *report.Source {
	t.Helper()
	source, err := gather.Folder(t.Context(), i, o)
	require.NoError(t, err)
	return source
}

func TestFolderIsScoredAndShown(t *testing.T) {
	steps := 0
	source := gathered(t, folder(t), withMaps(func() { steps++ }))
	require.Len(t, source.Photos, 2)
	assert.Equal(t, 2, steps)
	require.NotNil(t, source.Photos[0].Map)
	assert.NotNil(t, source.Photos[0].Map.Classes)

	assert.Equal(t, score.Scored, source.Photos[0].Status)
	assert.NotNil(t, source.Pictures[0].Marked)
	assert.Equal(t, score.Refused, source.Photos[1].Status)
	assert.NotNil(t, source.Pictures[1].Plain, "a refused photo is shown, but without marks")
	assert.Nil(t, source.Pictures[1].Marked)
	assert.False(t, source.Engine.Cylinders[1].Index.Known())
	assert.Nil(t, gathered(t, folder(t), gather.Options{}).Photos[0].Map)
}

func TestNothingButPixelsGetsIntoAReport(t *testing.T) {
	i := folder(t)
	file, err := os.ReadFile(i.Paths()[0])
	require.NoError(t, err)
	require.Contains(t, string(file), position)
	source := gathered(t, i, gather.Options{})
	model, err := report.Build(report.Input{Visits: []report.Source{*source}})
	require.NoError(t, err)
	for _, p := range []*report.Picture{source.Pictures[0].Plain, source.Pictures[0].Marked} {
		assert.NotContains(t, string(p.Data), "Exif")
		assert.NotContains(t, string(p.Data), "GPS")
	}
	var text strings.Builder
	require.NoError(t, model.WriteJSON(&text))
	assert.NotContains(t, text.String(), "GPS")
}

// saved returns what scoring the folder would have saved.
func saved(t *testing.T, i *inspection.Inspection) *engine.Graded {
	t.Helper()
	return gathered(t, i, gather.Options{}).Graded
}

func TestSavedFiguresStandAndPhotosAreFound(t *testing.T) {
	i := folder(t)
	d := saved(t, i)
	d.Photos[0].Photo = "elsewhere/c1.jpg" // found beside the saved result
	source, err := gather.Saved(t.Context(), i.Dir, d, withMaps(nil))
	require.NoError(t, err)
	require.NotNil(t, source.Photos[0].Map, "what both show can be compared")
	source.Photos[0].Map = nil
	assert.Equal(t, d.Photos[0], source.Photos[0])
	assert.NotNil(t, source.Pictures[0].Plain)
	assert.NotNil(t, source.Pictures[0].Marked)
	assert.Empty(t, source.Pictures[0].Absent)
	assert.NotNil(t, source.Pictures[1].Plain)

	o := withMaps(nil)
	o.NoPictures = true
	source, err = gather.Saved(t.Context(), i.Dir, d, o)
	require.NoError(t, err)
	assert.NotNil(t, source.Photos[0].Map)
	assert.Nil(t, source.Pictures)
	source, err = gather.Folder(t.Context(), i, o)
	require.NoError(t, err)
	assert.NotNil(t, source.Photos[0].Map)
	assert.Nil(t, source.Pictures)
}

func TestOneFileStandsForTwoPhotosOfTheSameBytes(t *testing.T) {
	i := folder(t)
	d := saved(t, i)
	again := d.Photos[0]
	d.Photos[1] = again // as after both were moved beside the saved result, where only one copy lies
	d.Photos[0].Photo, d.Photos[1].Photo = "left/c1.jpg", "right/c1.jpg"
	inspected := *d.Engine.Inspection
	inspected.Photos = []inspection.Photo{
		{File: "left/c1.jpg", Cylinder: 1, Valve: 1},
		{File: "right/c1.jpg", Cylinder: 2, Valve: 1},
	}
	d.Engine.Inspection = &inspected
	source, err := gather.Saved(t.Context(), i.Dir, d, withMaps(nil))
	require.NoError(t, err)
	for n := range source.Pictures {
		assert.NotNil(t, source.Pictures[n].Marked)
		assert.NotNil(t, source.Photos[n].Map)
	}
}

// Each row does something to a photo or its saved result after scoring and names what the report must say.
func TestSavedResultWithoutItsPhoto(t *testing.T) {
	for name, c := range map[string]struct {
		change func(t *testing.T, i *inspection.Inspection, d *engine.Graded)
		says   string
		plain  bool
	}{
		"missing": {func(t *testing.T, i *inspection.Inspection, _ *engine.Graded) {
			require.NoError(t, os.Remove(i.Paths()[0]))
		}, "was not found", false},
		"changed": {func(t *testing.T, i *inspection.Inspection, _ *engine.Graded) {
			require.NoError(t, os.WriteFile(i.Paths()[0], []byte("another file"), 0o600))
		}, "is not the photo that was graded", false},
		"a folder in its place": {func(t *testing.T, i *inspection.Inspection, _ *engine.Graded) {
			require.NoError(t, os.Remove(i.Paths()[0]))
			require.NoError(t, os.Mkdir(i.Paths()[0], 0o700))
		}, "was not found", false},
		"never read":    {func(_ *testing.T, _ *inspection.Inspection, d *engine.Graded) { d.Photos[0].SHA256 = nil }, "could not be read", false},
		"other version": {func(_ *testing.T, _ *inspection.Inspection, d *engine.Graded) { d.Photos[0].Version = "0.9+net.x" }, "0.9+net.x", true},
		"other marks": {func(t *testing.T, i *inspection.Inspection, _ *engine.Graded) {
			require.NoError(t, os.WriteFile(i.Paths()[0]+".marks.yaml", []byte("head: {x: 320, y: 240, a: 60, b: 60, angle: 0}\n"), 0o600))
		}, "outlines were set anew", true},
	} {
		i := folder(t)
		d := saved(t, i)
		c.change(t, i, d)
		source, err := gather.Saved(t.Context(), i.Dir, d, withMaps(nil))
		require.NoError(t, err, name)
		shown := source.Pictures[0]
		assert.Contains(t, shown.Absent, c.says, name)
		assert.Nil(t, shown.Marked, name)
		assert.Equal(t, c.plain, shown.Plain != nil, name)
		assert.Equal(t, d.Photos[0].Index, source.Photos[0].Index, name)
		assert.Nil(t, source.Photos[0].Map, "figures can still be compared")
	}
}

func TestInterruptEndsGathering(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, options := range []gather.Options{{}, withMaps(nil)} {
		_, err := gather.Folder(ctx, folder(t), options)
		assert.ErrorIs(t, err, context.Canceled)
	}
}

// Where two photos were laid on each other the page shows both heads from one view; a photo that reads differently today
// gives none, for its outline is not the one that was compared.
func TestComparedHeadsAreShownFromOneView(t *testing.T) {
	visit := func(stage string) *inspection.Inspection {
		dir := t.TempDir()
		photo, err := os.ReadFile("../../../testdata/engine/cyl1-valve1-" + stage + ".jpg")
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "c1.jpg"), photo, 0o600))
		form := strings.Replace(strings.Split(facts, "  - {file: c2")[0], "stage: routine", "stage: "+stage, 1)
		require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), []byte(form), 0o600))
		i, err := inspection.Load(dir)
		require.NoError(t, err)
		return i
	}
	before, after := gathered(t, visit("before"), withMaps(nil)), gathered(t, visit("after"), withMaps(nil))
	page := func() (*report.Comparison, string) {
		model, err := report.Build(report.Input{Visits: []report.Source{*before, *after}})
		require.NoError(t, err)
		var text strings.Builder
		require.NoError(t, model.WriteHTML(&text))
		return model.Cylinders[0].Valves[0].Comparison, text.String()
	}
	compared, text := page()
	require.NotNil(t, compared.BeforeHead)
	require.NotNil(t, compared.AfterHead)
	assert.Equal(t, compared.BeforeHead.Width, compared.AfterHead.Width)
	assert.Contains(t, text, `class="slider heads"`)
	assert.Equal(t, 2, strings.Count(text, `class="marked"`), "the photos as they are stand below, too")

	after.Pictures[0].HeadOn = nil
	compared, text = page()
	assert.Nil(t, compared.BeforeHead)
	assert.Contains(t, text, `class="slider"`)
	assert.Zero(t, strings.Count(text, `class="marked"`))
}
