package archive_test

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
)

// inspections is how large the archive of the benchmarks is: go test ./pkg/archive -run '^$' -bench . -inspections
// 100000.
var inspections = flag.Int("inspections", 3000, "inspections in the archive of the benchmarks")

// multiplied is how many times as large the shared archive is made after that, by copies within the database: as many
// inspections one by one take hours.
var multiplied = flag.Int("multiplied", 1, "how many times as large the PostgreSQL archive of the benchmarks is made")

// filled keeps the archives of the benchmarks, which take long to fill.
var filled = map[string]*archive.Archive{}

func filledOn(b *testing.B, engine string) *archive.Archive {
	if a, known := filled[engine]; known {
		return a
	}
	dir, err := os.MkdirTemp("", "valvegrade-bench-")
	require.NoError(b, err)
	place := filepath.Join(dir, "archive.db")
	if engine == "PostgreSQL" {
		place, err = server.Make(fmt.Sprintf("bench_%d", databases.Add(1)))
		require.NoError(b, err)
	}
	location, err := archive.Locate(place)
	require.NoError(b, err)
	a, err := archive.Open(
		context.Background(),
		archive.Options{Location: location, Photos: filepath.Join(dir, "photos")},
	)
	require.NoError(b, err)
	begin := time.Now()
	require.NoError(b, archive.Fill(context.Background(), a, *inspections))
	if a.Location().Shared() && *multiplied > 1 {
		require.NoError(b, archive.Multiply(context.Background(), a, *multiplied))
	}
	fmt.Fprintf(
		os.Stderr,
		"%s: %d inspections filled in %s; the database takes %.0f MB\n",
		engine,
		*inspections,
		time.Since(begin).Round(time.Second),
		sizeOf(b, a),
	)
	filled[engine] = a
	return a
}

// sizeOf is how much room the database takes, in MB.
func sizeOf(b *testing.B, a *archive.Archive) float64 {
	query := `SELECT page_count * page_size FROM pragma_page_count(), pragma_page_size()`
	if a.Location().Shared() {
		query = `SELECT pg_database_size(current_database())`
	}
	var bytes int64
	require.NoError(b, a.Database().QueryRow(query).Scan(&bytes))
	return float64(bytes) / 1e6
}

// timed runs something again and again and reports the median and the 95th percentile in milliseconds.
func timed(b *testing.B, do func(n int)) {
	var took []time.Duration
	for n := 0; b.Loop(); n++ {
		begin := time.Now()
		do(n)
		took = append(took, time.Since(begin))
	}
	slices.Sort(took)
	milliseconds := func(share float64) float64 {
		return float64(took[int(share*float64(len(took)-1))].Microseconds()) / 1000
	}
	b.ReportMetric(milliseconds(0.5), "ms-median")
	b.ReportMetric(milliseconds(0.95), "ms-95th")
}

func onEach(b *testing.B, bench func(b *testing.B, a *archive.Archive)) {
	for _, engine := range engines {
		b.Run(engine, func(b *testing.B) { bench(b, filledOn(b, engine)) })
	}
}

func BenchmarkFind(b *testing.B) {
	onEach(b, func(b *testing.B, a *archive.Archive) {
		timed(b, func(n int) {
			vehicle := rand.IntN(*inspections / 3)
			text := []string{archive.Plate(vehicle), archive.VIN(vehicle), archive.VIN(vehicle)[11:], archive.Job(vehicle * 3), slip(archive.VIN(vehicle)), slip(archive.Job(vehicle * 3)), "wagon misfire"}[n%7]
			found, err := a.Find(context.Background(), text)
			require.NoError(b, err)
			require.NotEmpty(b, found, text)
		})
	})
}

// slip makes two neighbours change places.
func slip(text string) string {
	at := len(text) / 2
	return text[:at] + text[at+1:at+2] + text[at:at+1] + text[at+2:]
}

func BenchmarkAdd(b *testing.B) {
	onEach(b, func(b *testing.B, a *archive.Archive) {
		begun := time.Now().UnixNano()
		timed(b, func(n int) {
			c := wagon
			c.name = fmt.Sprintf("new %d %d", begun, n)
			_, _, err := a.Add(context.Background(), archive.FromSaved(c.saved(b, version), ""))
			require.NoError(b, err)
		})
	})
}

func BenchmarkStatistics(b *testing.B) {
	onEach(b, func(b *testing.B, a *archive.Archive) {
		timed(b, func(int) {
			_, err := a.Statistics(context.Background(), archive.Filter{}, "")
			require.NoError(b, err)
		})
	})
}
