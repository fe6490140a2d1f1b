package bay

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
)

// The page and the PDF of one report are written from the same pictures; whatever changes has them drawn anew.
func TestAReportIsDrawnAnewOnlyWhenSomethingChanged(t *testing.T) {
	dir, j := cleanedDemo(t)
	order := Order{Format: "html", Before: "before", Customer: "Ms Example", Locale: "en-GB"}
	model := func(o Order) *report.Model {
		m, err := j.model(context.Background(), o, formats[o.Format].pictures)
		require.NoError(t, err)
		return m
	}
	first := model(order)
	order.Format = "pdf"
	assert.Same(t, first, model(order))
	var both sync.WaitGroup
	for _, format := range []string{"html", "pdf"} { // at once, as two people at one folder may
		o := order
		o.Format = format
		both.Go(func() {
			paper, err := j.Report(context.Background(), o)
			assert.NoError(t, err)
			assert.NotEmpty(t, paper.Content)
		})
	}
	both.Wait()

	now := time.Now()
	for name, change := range map[string]func(){
		"customer": func() { order.Customer = "Mr Example" },
		"locale":   func() { order.Locale = "de-DE" },
		"history":  func() { order.History = true },
		"alone":    func() { order.Before = "" },
		"photo":    func() { require.NoError(t, os.Chtimes(filepath.Join(dir, "after", "cyl1-valve1-x.jpg"), now, now)) },
		"form":     func() { require.NoError(t, os.Chtimes(filepath.Join(dir, "after", "inspection.yaml"), now, now)) },
		"marks": func() {
			marks := []byte("head: {centre: [320, 240], axes: [150, 140], angle: 0}\n")
			require.NoError(t, os.WriteFile(filepath.Join(dir, "after", "cyl1-valve1-x.marks.yaml"), marks, 0o644))
		},
		"form alone": func() { order.Format = "txt" }, // without pictures
	} {
		before := model(order)
		change()
		after := model(order)
		assert.NotSame(t, before, after, name)
		assert.Same(t, after, model(order), name)
	}
}

// Reports with their history read the other inspections of the vehicle, and no others.
func TestTheHistoryIsOfOneVehicle(t *testing.T) {
	dir, j := cleanedDemo(t)
	stranger := &inspection.Form{
		Vehicle: "another van", Engine: inspection.Layout{Cylinders: 1, Valves: 1}, Date: "2026-03-01", Odometer: "70000 mi",
		Stage: inspection.Routine, Photos: []inspection.Entry{{File: "a.jpg", Cylinder: 1, Valves: []int{1}}},
	}
	text, err := stranger.Write(nil)
	require.NoError(t, err)
	putDemo(t, dir, "other/a.jpg", "cyl2-valve1-before.jpg")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "other", inspection.File), text, 0o644))
	model, err := j.model(t.Context(), Order{Format: "txt", History: true}, false)
	require.NoError(t, err)
	require.NotNil(t, model.Trend)
	assert.Contains(t, j.bay.jobs, "before")
	assert.NotContains(t, j.bay.jobs, "other", "its photos were not read")
}

// What lacks an inspection whose photos were not read in time is no report to be written again.
func TestAnIncompleteHistoryIsNotKept(t *testing.T) {
	_, j := cleanedDemo(t)
	before, err := j.bay.Job("before")
	require.NoError(t, err)
	read(t, before, 2)
	before.lock.Lock()
	for _, s := range before.shots {
		s.state = waiting // and in no queue
	}
	before.lock.Unlock()
	gone, leave := context.WithCancel(t.Context())
	leave()
	found, whole := history(gone, []*Job{before})
	assert.Empty(t, found)
	assert.False(t, whole)
	found, whole = history(t.Context(), nil)
	assert.Empty(t, found)
	assert.True(t, whole)
}

// Whoever asks for a photo as it is and with what was measured, both at once, has it read again once.
func TestBothPicturesAreDrawnTogether(t *testing.T) {
	_, j := cleanedDemo(t)
	read(t, j, 2)
	file, path := "cyl1-valve1-x.jpg", j.path("cyl1-valve1-x.jpg")
	valves, err := j.bay.redrawing.worker.Score(path)
	require.NoError(t, err)
	j.pictures.forget(file)
	j.bay.redrawing.lock.Lock()
	asked := make(chan []byte)
	go func() {
		drawn, err := j.pictures.of(file, path, Plain)
		assert.NoError(t, err)
		asked <- drawn
	}()
	time.Sleep(50 * time.Millisecond) // until it waits for its turn
	j.pictures.keep(file, valves)     // as who was first does
	kept := j.pictures.drawn(file, Plain)
	j.bay.redrawing.lock.Unlock()
	assert.Same(t, &kept[0], &(<-asked)[0])
}

func TestReportsTellWhoWritesThem(t *testing.T) {
	_, j := cleanedDemo(t)
	j.bay.options.Shop = report.Shop{Name: "Example Garage", Phone: "555 0100"}
	for _, format := range []string{"html", "json"} {
		paper, err := j.Report(context.Background(), Order{Format: format, Locale: "en-US"})
		require.NoError(t, err)
		assert.Contains(t, string(paper.Content), "Example Garage", format)
		assert.Contains(t, string(paper.Content), "555 0100", format)
	}
}
