package archive_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"valvegrade/internal/cluster"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// server is the PostgreSQL of all tests of this package.
var server *cluster.Server

func TestMain(m *testing.M) {
	if place := os.Getenv(openVariable); place != "" {
		os.Exit(openAsChild(place))
	}
	var err error
	if server, err = cluster.Start(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	server.Remove()
	os.Exit(code)
}

// engines are the databases on which every test runs.
var engines = []string{"SQLite", "PostgreSQL"}

// onBoth runs a test on an empty archive of either kind.
func onBoth(t *testing.T, test func(t *testing.T, o archive.Options)) {
	for _, engine := range engines {
		t.Run(engine, func(t *testing.T) { test(t, emptyOn(t, engine)) })
	}
}

var databases atomic.Int64

func emptyOn(t testing.TB, engine string) archive.Options {
	dir := t.TempDir()
	place := filepath.Join(dir, "archive.db")
	if engine == "PostgreSQL" {
		url, err := server.Make(fmt.Sprintf("test_%d", databases.Add(1)))
		require.NoError(t, err)
		place = url
	}
	location, err := archive.Locate(place)
	require.NoError(t, err)
	return archive.Options{Location: location, Photos: filepath.Join(dir, "photos"), Program: "1.0.0"}
}

func opened(t testing.TB, o archive.Options) *archive.Archive {
	a, err := archive.Open(context.Background(), o)
	require.NoError(t, err)
	t.Cleanup(func() { a.Close() })
	return a
}

// car is an invented vehicle with one visit.
type car struct {
	name, day string
	km        float64
	stage     inspection.Stage
	methods   map[int]string
	card      inspection.JobCard
	// index is that of each of the four cylinders' single valve; NaN for a refused photo.
	index [4]float64
	notes string
	// odds are the probabilities of the grades of each, nil for those of the interval.
	odds *grade.Probabilities
}

// facts is the inspection without its photos' bytes.
func (c car) facts(t testing.TB) *inspection.Inspection {
	day, err := time.Parse(time.DateOnly, c.day)
	require.NoError(t, err)
	i := &inspection.Inspection{
		Vehicle: c.name, Engine: inspection.Layout{Cylinders: 4, Valves: 1}, Date: day, Stage: c.stage, Methods: c.methods,
		Odometer: inspection.Odometer{Value: c.km, Unit: inspection.Kilometres}, Card: c.card, Notes: c.notes,
	}
	if i.Stage == "" {
		i.Stage = inspection.Routine
	}
	for n := range 4 {
		i.Photos = append(i.Photos, inspection.Photo{File: fmt.Sprintf("cyl%d.jpg", n+1), Cylinder: n + 1, Valve: 1})
	}
	return i
}

// version is that of the invented results.
const version = "1.0.0+net.0123456789ab"

// saved are the results of the visit, as if a version had scored its photos.
func (c car) saved(t testing.TB, version string) *engine.Graded {
	i := c.facts(t)
	document := score.NewDocument(version)
	for n, p := range i.Photos {
		hash := archive.Hash(fmt.Appendf(nil, "%s %s %s %d", c.name, c.day, i.Stage, n))
		r := record(p.File, hash, version, c.index[n])
		if c.odds != nil && r.Status == score.Scored {
			r.Written = grade.Of(r.IndexFigure(), *c.odds).Write()
		}
		document.Photos = append(document.Photos, r)
	}
	graded, err := engine.Together(i, document)
	require.NoError(t, err)
	return graded
}

// record is an invented result: of the index, half is heavy crust and half film where both fit.
func record(file, hash, version string, index float64) score.Record {
	r := score.Record{
		Photo: file, ValveInPhoto: 1, ValvesInPhoto: 1, SHA256: &hash, Status: score.Refused, Scale: grade.Scale, Version: version,
		Label: strings.TrimSuffix(file, filepath.Ext(file)),
	}
	if math.IsNaN(index) {
		return r
	}
	r.Status = score.Scored
	figure := measure.Figure{Value: index, Low: max(0, index-5), High: min(100, index+5)}
	r.Written = grade.Of(figure, grade.Probabilities{}).Write()
	shares := measure.SharesOf([4]float64{100 - index, 0, 0, index})
	r.WrittenReading = measure.Reading{Index: figure, Dark: figure, Coverage: figure}.Write()
	r.Shares = new(shares.Write())
	r.Pixels = new(5000)
	r.RegionConfidence = measure.Rounded(0.9, 2)
	return r
}

// add puts a visit into an archive.
func add(t testing.TB, a *archive.Archive, c car) int64 {
	outcome, id, err := a.Add(context.Background(), archive.FromSaved(c.saved(t, version), "test"))
	require.NoError(t, err)
	require.Equal(t, archive.Added, outcome)
	return id
}
