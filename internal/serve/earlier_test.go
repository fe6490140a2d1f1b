package serve

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

// Beside an inspection the last one before it is proposed, and none that is later; after a cleaning the one before it,
// whatever the dates say, as comparing takes it.
func theEarlierOneIsProposed(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	for _, one := range []struct{ name, vehicle, date, stage string }{
		{"last", "Van 7", "2026-08-01", "routine"}, {"spring", "van 7", "2026-03-01", "routine"}, {"summer", "van 7", "2026-06-01", "routine"},
		{"winter", "van 7", "2025-12-01", "routine"}, {"other", "van 8", "2026-05-30", "routine"}, {"open", "", "", ""},
		{"cleaned", "van 7", "2026-06-02", "after"}, {"dirty", "van 7", "2026-06-02", "before"}, {"slip", "van 7", "2027-06-02", "before"},
	} {
		folder := filepath.Join(dir, one.name)
		copyDemo(t, folder, map[string]string{"a.jpg": "cyl1-valve1-before.jpg"})
		form := &inspection.Form{
			Vehicle: one.vehicle, Engine: inspection.Layout{Cylinders: 1, Valves: 1}, Date: one.date, Stage: inspection.Stage(one.stage), Odometer: "84200 mi",
			Photos: []inspection.Entry{{File: "a.jpg", Cylinder: 1, Valves: []int{1}}},
		}
		text, err := form.Write(nil)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, inspection.File), text, 0o644))
	}
	_, server := start(t, dir, Options{})
	for _, one := range []struct {
		name   string
		others []string
		report string // that which a report begins with, unless somebody says otherwise
	}{
		{"summer", []string{"spring", "winter", "other", "open"}, ""},
		{"dirty", []string{"summer", "spring", "winter", "other", "open"}, ""},
		{"cleaned", []string{"dirty", "summer", "spring", "winter", "slip", "last", "other", "open"}, "dirty"},
		{"winter", []string{"open"}, ""},
	} {
		b := visit(t, chromium, server.URL+"/#/"+one.name+"/compare", 1280, 900, "light")
		b.until(t, "document.querySelector('.comparing form')")
		names := "[...document.querySelector('select').options].map(o => o.value).filter(Boolean)"
		assert.Equal(t, one.others, eval[[]string](t, b, names), one.name)
		assert.Equal(t, one.others[0], eval[string](t, b, "document.querySelector('[name=earlier]').value"), one.name)
		eval[any](t, b, "void (location.hash = '#/"+one.name+"/report')")
		b.until(t, "document.querySelector('.reporting [name=before]')")
		assert.Equal(t, one.others, eval[[]string](t, b, "[...document.querySelector('[name=before]').options].map(o => o.value).filter(Boolean)"), one.name)
		assert.Equal(t, one.report, eval[string](t, b, "document.querySelector('[name=before]').value"), one.name)
		b.quiet(t)
	}
}

// The page stays open while inspections are begun, photographed and named: the list and the choice of an earlier one tell
// them as they are, and a report of a cleaning begins with the one before it.
func whatWasKeptMeanwhileIsKnown(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "now"), "after")
	require.NoError(t, os.Mkdir(filepath.Join(dir, "then"), 0o755))
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL+"/#/now/photos", 1280, 900, "light")
	b.until(t, "document.querySelectorAll('.tile.good').length === 2")
	whole(t, filepath.Join(dir, "then"), "before")

	eval[any](t, b, "void (location.hash = '#/')")
	b.until(t, "[...document.querySelectorAll('.cards a')].some(a => a.innerText.includes('then') && a.innerText.includes('van 7') && a.innerText.includes('2 photos'))")
	require.NoError(t, os.Rename(filepath.Join(dir, "then"), filepath.Join(dir, "dirty")))
	eval[any](t, b, "void (location.hash = '#/now/report')")
	b.until(t, "document.querySelector('.reporting [name=before]')?.value === 'dirty'")
	eval[any](t, b, "void (location.hash = '#/now/compare')")
	b.until(t, "document.querySelector('.comparing [name=earlier]')?.value === 'dirty'")
	b.quiet(t)
}
