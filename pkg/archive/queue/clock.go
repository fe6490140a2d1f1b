package queue

import (
	"context"
	"fmt"
	"time"

	"valvegrade/pkg/archive"
)

// Of several clocks the database's counts: it says when a task was begun and may be tried again. This machine's may be
// ahead of it or behind, and either may jump.

// moment is the database's clock, so much later, in a statement.
func moment(a *archive.Archive, later time.Duration) string {
	seconds := int(later.Seconds())
	if a.Location().Shared() {
		return fmt.Sprintf(`now() + interval '%d seconds'`, seconds)
	}
	return fmt.Sprintf(`strftime('%%Y-%%m-%%d %%H:%%M:%%f', 'now', '%+d seconds')`, seconds)
}

// watch is the database's clock at a moment of this machine's, of which only the time that has passed since is taken.
type watch struct {
	database, here time.Time
	wrong          error // what is wrong with this machine's clock, nil for nothing
}

func look(ctx context.Context, a *archive.Archive) (watch, error) {
	w := watch{here: time.Now()}
	if !a.Location().Shared() {
		w.database = w.here
		return w, nil
	}
	err := a.Database().QueryRowContext(ctx, `SELECT now()`).Scan(&w.database)
	w.wrong = wrong(w.ahead())
	return w, archive.Explain(err)
}

// now is the database's clock now.
func (w watch) now() time.Time { return w.database.Add(time.Since(w.here)) }

// ahead is by how much this machine's clock is ahead of the database's.
func (w watch) ahead() time.Duration { return time.Now().Round(0).Sub(w.now()) }

// mostAhead is how far a clock may be wrong, either way, on a machine that looks after the tasks of others.
const mostAhead = time.Minute

// wrong says what is wrong with a clock that is ahead of the database's, or behind it.
func wrong(ahead time.Duration) error {
	word := "ahead of"
	if ahead < 0 {
		ahead, word = -ahead, "behind"
	}
	if ahead <= mostAhead {
		return nil
	}
	return fmt.Errorf("the clock of this machine is %s %s the database's: set it; until then others look after tasks whose "+
		"worker died", ahead.Round(time.Second), word)
}

// putRight lets begin now what can only lie in the future because a clock was put back: tasks that wait, tasks that
// somebody has begun, and the term of whoever looks after them. What is to be tried again by now waits from now on, even
// if no machine has a clock by which it could look after that.
func putRight(ctx context.Context, a *archive.Archive, owns bool) error {
	statements := []string{
		`UPDATE river_job SET scheduled_at = ` + moment(a, 0) + ` WHERE state IN ('available', 'retryable', 'scheduled')
			AND queue = 'default' AND priority = 1 AND scheduled_at > ` + moment(a, pauseAfter(mostTries)),
		`UPDATE river_job SET attempted_at = ` + moment(a, 0) + ` WHERE state = 'running' AND attempted_at > ` + moment(a, mostAhead),
		`UPDATE river_job SET state = 'available' WHERE state IN ('retryable', 'scheduled') AND scheduled_at <= ` + moment(a, 0),
	}
	if owns {
		statements = append(statements, `DELETE FROM river_leader WHERE expires_at > `+moment(a, mostAhead))
	}
	for _, statement := range statements {
		if _, err := a.Database().ExecContext(ctx, statement); err != nil {
			return archive.Explain(err)
		}
	}
	return nil
}
