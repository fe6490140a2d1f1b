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
