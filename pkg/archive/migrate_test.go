package archive_test

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
)

var kills = flag.Int("kills", 4, "how often a program is killed while it makes or changes the tables of an archive")

// openVariable makes this program one that opens the archive that it names and ends, for the parent to kill.
const openVariable = "VALVEGRADE_TEST_OPEN"

func openAsChild(place string) int {
	location, err := archive.Locate(place)
	if err != nil {
		return 1
	}
	fmt.Println("ready")
	a, err := archive.Open(context.Background(), archive.Options{Location: location, Program: "1.0.0"})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	a.Close()
	return 0
}

// place is what the child finds the archive by.
func place(o archive.Options) string {
	if file := o.Location.File(); file != "" {
		return file
	}
	return o.Location.String()
}

// opening is a child that is about to open an archive.
func opening(t *testing.T, o archive.Options) *exec.Cmd {
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), openVariable+"="+place(o))
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, child.Start())
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	require.Equal(t, "ready\n", line)
	return child
}

// older is an archive of an earlier format, with inspections where it has tables.
func older(t *testing.T, engine string, format int) archive.Options {
	o, ctx := emptyOn(t, engine), context.Background()
	if format > 0 {
		require.NoError(t, archive.Make(ctx, o.Location, format))
		require.NoError(t, archive.FillOld(ctx, o.Location, 60))
	}
	return o
}

// A program is killed at random moments while it makes an archive, or brings one to this format. The next one to start
// finds each step done or not begun, and does the rest.
func TestAProgramThatIsKilledWhileItChangesTheTables(t *testing.T) {
	for _, engine := range engines {
		for _, from := range []int{0, 2} {
			t.Run(fmt.Sprint(engine, " from ", from), func(t *testing.T) {
				whole := older(t, engine, from)
				begin := time.Now()
				require.NoError(t, opening(t, whole).Wait())
				takes, found := time.Since(begin), map[int]int{}
				for range *kills {
					o, ctx := older(t, engine, from), context.Background()
					child := opening(t, o)
					time.Sleep(time.Duration(rand.Int64N(int64(takes) * 2 / 3)))
					_ = child.Process.Kill()
					_ = child.Wait() // it was killed, or had ended
					format, err := archive.FormatOf(ctx, o.Location)
					require.NoError(t, err)
					found[format]++
					a := opened(t, o)
					checked, err := a.Check(ctx, archive.CheckOptions{Figures: true})
					require.NoError(t, err)
					assert.Equal(t, from > 0, checked.Inspections > 0)
					add(t, a, wagon)
					format, err = archive.FormatOf(ctx, o.Location)
					require.NoError(t, err)
					assert.Equal(t, archive.Format, format)
				}
				t.Logf("opening takes %s; formats found after %d kills: %v", takes.Round(time.Millisecond), *kills, found)
			})
		}
	}
}

// A program waits in the middle of a step, and is killed there: nothing of the step is left.
func TestAProgramThatIsKilledInTheMiddleOfAStep(t *testing.T) {
	o, ctx := older(t, "PostgreSQL", 2), context.Background()
	blocking, err := archive.Connect(o.Location)
	require.NoError(t, err)
	defer blocking.Close()
	tx, err := blocking.Begin()
	require.NoError(t, err)
	_, err = tx.Exec(`UPDATE cylinder SET method = method WHERE inspection = 1`) // the second index waits for its end
	require.NoError(t, err)
	child := opening(t, o)
	require.Eventually(t, func() bool {
		var waits bool
		err := blocking.QueryRow(`SELECT EXISTS (SELECT FROM pg_stat_activity WHERE datname = current_database()
			AND wait_event_type = 'Lock')`).Scan(&waits)
		return err == nil && waits
	}, time.Minute, 20*time.Millisecond)
	require.NoError(t, child.Process.Kill())
	_ = child.Wait() // it was killed
	require.NoError(t, tx.Rollback())
	a := opened(t, o)
	format, err := archive.FormatOf(ctx, o.Location)
	require.NoError(t, err)
	assert.Equal(t, archive.Format, format)
	var indexes int
	err = a.Database().QueryRow(`SELECT COUNT(*) FROM pg_indexes WHERE indexname IN ('inspection_told', 'cleaning_pkey')`).Scan(&indexes)
	require.NoError(t, err)
	assert.Equal(t, 2, indexes)
}

// A shop's login cannot change the tables, and is told who can.
func TestAnOldArchiveAsksForItsOwner(t *testing.T) {
	o, ctx := older(t, "PostgreSQL", 2), context.Background()
	require.NoError(t, server.SQL("postgres", `CREATE ROLE late LOGIN IN ROLE valvegrade_shop`))
	location, err := archive.Locate(server.URL("late", database(t, o)))
	require.NoError(t, err)
	_, err = archive.Open(ctx, archive.Options{Location: location})
	require.ErrorContains(t, err, "the owner of the database has to open it once")
}

func database(t *testing.T, o archive.Options) (name string) {
	db, err := archive.Connect(o.Location)
	require.NoError(t, err)
	defer db.Close()
	require.NoError(t, db.QueryRow(`SELECT current_database()`).Scan(&name))
	return name
}
