package serve

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cluster"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/bay"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

// openArchive opens an archive at a place with photos of its own.
func openArchive(t testing.TB, place, photos string) *archive.Archive {
	t.Helper()
	location, err := archive.Locate(place)
	require.NoError(t, err)
	a, err := archive.Open(context.Background(), archive.Options{Location: location, Photos: photos, Program: "1.0.0"})
	require.NoError(t, err)
	t.Cleanup(func() { _ = a.Close() })
	return a
}

// startWith serves a folder with an archive.
func startWith(t testing.TB, dir string, a *archive.Archive) (*bay.Bay, *httptest.Server) {
	t.Helper()
	b, err := bay.Open(dir, bay.Options{Workers: 1, Archive: a})
	require.NoError(t, err)
	t.Cleanup(func() { _ = b.Close() })
	s := New(b, Options{})
	server := httptest.NewServer(s)
	t.Cleanup(func() {
		close(s.ended)
		server.Close()
	})
	return b, server
}

// keepFolder puts the inspection of a folder into an archive and returns its key.
func keepFolder(t testing.TB, a *archive.Archive, dir string, card inspection.JobCard) int64 {
	t.Helper()
	i, err := inspection.Load(dir)
	require.NoError(t, err)
	i.Card = card
	v, err := archive.FromFolder(i)
	require.NoError(t, err)
	b, err := bay.Open(t.TempDir(), bay.Options{Workers: 1})
	require.NoError(t, err)
	defer b.Close()
	require.NoError(t, v.Score(context.Background(), b.Batch(), nil))
	_, id, err := a.Add(context.Background(), v)
	require.NoError(t, err)
	return id
}

// keepHistory puts the invented inspections of testdata into an archive.
func keepHistory(t testing.TB, a *archive.Archive) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/history/*.json")
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.Open(file)
		require.NoError(t, err)
		saved, err := engine.Read(text)
		require.NoError(t, err)
		require.NoError(t, text.Close())
		saved.Engine.Inspection.Card = inspection.JobCard{Plate: "QX 418", Technician: "Ben", Family: "two-litre four"}
		_, _, err = a.Add(context.Background(), archive.FromSaved(saved, file))
		require.NoError(t, err)
	}
}

// The search forgives a slip; the vehicle's last visit stands beside today's; statistics are drawn; today's goes in.
func theArchiveIsSearched(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	a := openArchive(t, filepath.Join(t.TempDir(), "archive.db"), "")
	whole(t, filepath.Join(dir, "first"), "before")
	keepFolder(t, a, filepath.Join(dir, "first"), inspection.JobCard{Plate: "QX 417 Z", Technician: "Ann"})
	keepHistory(t, a)
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "first")))
	whole(t, filepath.Join(dir, "then"), "after")
	bayed, server := startWith(t, dir, a)
	for _, size := range []struct {
		width, height int64
		scheme        string
	}{{360, 740, "dark"}, {800, 1000, "light"}, {1400, 900, "light"}} {
		b := visit(t, chromium, server.URL+"/#/", size.width, size.height, size.scheme)
		b.until(t, "document.querySelector('main:not(.wait)')") // the only inspection is opened
		eval[any](t, b, "void (location.hash = '#/')")
		b.until(t, "document.querySelector('input[type=search]')")
		look := func(text string) {
			eval[any](t, b, "void (i => { i.value = "+quote(text)+"; i.dispatchEvent(new Event('input', {bubbles: true})) })(document.querySelector('input[type=search]'))")
		}
		look("nobody drives this")
		b.until(t, "document.querySelector('.search').innerText.includes('No vehicle fits')")
		look("QX 471 Z") // two digits have changed places
		b.until(t, "document.querySelector('.search .cards a')")
		assert.Contains(t, eval[string](t, b, "document.querySelector('.search .cards').innerText"), "van 7")
		rules := func(name string) {
			t.Helper()
			assert.Empty(t, b.breaches(t), name)
			assert.LessOrEqual(t, eval[int](t, b, "document.documentElement.scrollWidth"), int(size.width), name)
			keepPicture(t, b, fmt.Sprintf("%s-%d-%s", name, size.width, size.scheme))
		}
		rules("search")
		eval[any](t, b, "void document.querySelector('.search .cards a').click()")
		b.until(t, "document.querySelector('.valve-past img')?.naturalWidth > 0")
		assert.Contains(t, eval[string](t, b, "document.querySelector('.remembered').innerText"), "Cylinder 1, valve 2")
		rules("vehicle")
		eval[any](t, b, "void (location.hash = '#/:statistics')")
		b.until(t, "document.querySelectorAll('.bars li').length > 4")
		assert.Contains(t, eval[string](t, b, "document.querySelector('.statistics').innerText"), "The archive holds 8 inspections of 2 vehicles.")
		rules("statistics")
		eval[any](t, b, "void (location.hash = '#/then/result')")
		b.until(t, "document.querySelectorAll('.before-today').length === 2 && document.querySelector('.before-today img')?.naturalWidth > 0")
		assert.Contains(t, eval[string](t, b, "document.querySelector('.before-today').innerText"), "Since then")
		rules("last-visit")
		b.quiet(t)
	}
	b := visit(t, chromium, server.URL+"/#/then/result", 1200, 900, "light")
	b.button(t, "Put into the archive")
	b.until(t, "document.querySelector('.said').innerText.includes('It is in the archive now')")
	b.button(t, "Put into the archive")
	b.until(t, "document.querySelector('.said').innerText.includes('has it already')")
	found, err := bayed.Find(context.Background(), "van 7")
	require.NoError(t, err)
	assert.Equal(t, 2, found[0].Visits)
	b.quiet(t)
}

// A vehicle that the archive knows is begun with what is known of it.
func TestAKnownVehicleIsBegunAgain(t *testing.T) {
	dir := t.TempDir()
	a := openArchive(t, filepath.Join(t.TempDir(), "archive.db"), "")
	keepHistory(t, a)
	bayed, server := startWith(t, dir, a)
	found, err := bayed.Find(context.Background(), "qx418")
	require.NoError(t, err)
	require.Len(t, found, 1)
	answer, text := ask(t, "POST", fmt.Sprintf("%s/api/archive/vehicles/%d/begin", server.URL, found[0].ID), `{"name":"today"}`)
	require.Equal(t, http.StatusOK, answer.StatusCode, text)
	j, err := bayed.Job("today")
	require.NoError(t, err)
	facts := j.Sheet().Facts
	assert.Equal(t, found[0].Reference, facts.Vehicle)
	assert.Equal(t, "QX 418", facts.Plate)
	assert.Equal(t, found[0].Cylinders, facts.Cylinders)
	assert.Equal(t, time.Now().Format(time.DateOnly), facts.Date)
	last, err := j.Last(context.Background())
	require.NoError(t, err)
	require.NotNil(t, last)
	assert.Equal(t, found[0].Last, last.Day)
}

func TestWithoutAnArchive(t *testing.T) {
	_, server := start(t, t.TempDir(), Options{})
	for _, path := range []string{"find?text=x", "statistics", "vehicles/1", "inspections/1", "photos/" + strings.Repeat("0", 64)} {
		answer, text := ask(t, "GET", server.URL+"/api/archive/"+path, "")
		assert.Equal(t, http.StatusConflict, answer.StatusCode, text)
		assert.Contains(t, text, "there is no archive here")
	}
}

// Two shops in one database: the page of one shows nothing of the other, whatever it is asked for.
func TestShopsSeeTheirOwnPage(t *testing.T) {
	server, err := cluster.Start()
	require.NoError(t, err)
	defer server.Remove()
	_, err = server.Make("shops")
	require.NoError(t, err)
	photos := t.TempDir()
	openArchive(t, server.URL(cluster.Owner, "shops"), photos) // makes the tables
	pages, keys := map[string]*httptest.Server{}, map[string]int64{}
	for _, shop := range []string{"north", "south"} {
		require.NoError(t, server.SQL("postgres", "CREATE ROLE "+shop+" LOGIN IN ROLE valvegrade_shop"))
		a := openArchive(t, server.URL(shop, "shops"), photos)
		dir := t.TempDir()
		whole(t, dir, map[string]string{"north": "before", "south": "after"}[shop])
		keys[shop] = keepFolder(t, a, dir, inspection.JobCard{Plate: "QX 417 " + shop[:1]})
		_, pages[shop] = startWith(t, t.TempDir(), a)
	}
	get := func(shop, path string) (int, string) {
		answer, text := ask(t, "GET", pages[shop].URL+"/api/archive/"+path, "")
		return answer.StatusCode, text
	}
	_, text := get("north", fmt.Sprintf("inspections/%d", keys["north"]))
	var own bay.Visit
	require.NoError(t, json.Unmarshal([]byte(text), &own))
	photo := own.Cylinders[0].Valves[0].Photos[0]
	for _, path := range []string{
		fmt.Sprintf("inspections/%d", keys["north"]), fmt.Sprintf("vehicles/%d", own.Kept.Vehicle), "photos/" + photo,
	} {
		status, text := get("north", path)
		assert.Equal(t, http.StatusOK, status, text)
		status, text = get("south", path)
		assert.Equal(t, http.StatusNotFound, status, path+" "+text)
	}
	_, text = get("south", "find?text=QX+417")
	assert.NotContains(t, text, "QX 417 n")
	_, text = get("south", "statistics")
	assert.Contains(t, text, `"inspections":1`)
	answer, _ := ask(t, "POST", fmt.Sprintf("%s/api/archive/vehicles/%d/begin", pages["south"].URL, own.Kept.Vehicle), `{"name":"stolen"}`)
	assert.Equal(t, http.StatusNotFound, answer.StatusCode)
}
