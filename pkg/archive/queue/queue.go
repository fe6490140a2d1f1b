package queue

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"
	"github.com/riverqueue/river/rivermigrate"
	"github.com/riverqueue/river/rivertype"

	"valvegrade/pkg/archive"
)

// Task is a photo to be scored. Its JSON is what makes two tasks the same.
type Task struct {
	Shop    string   `json:"shop"`
	Photo   int64    `json:"photo"`
	Marks   string   `json:"marks"`
	Version string   `json:"version"` // of program and net that the result must be of
	Nets    []string `json:"nets"`    // their hashes in the store, none for the built-in ones
	Adopt   bool     `json:"adopt"`
}

// Kind implements river.JobArgs.
func (Task) Kind() string { return "score-photo" }

// mostTries is how often a task is tried: with the pauses of one second, then 16, 81, 256 and 625 it is given up after
// about a quarter of an hour.
const mostTries = 6

// InsertOpts implements river.JobArgsWithInsertOpts. A task that waits or runs is not put in twice.
func (Task) InsertOpts() river.InsertOpts {
	return river.InsertOpts{
		MaxAttempts: mostTries,
		UniqueOpts: river.UniqueOpts{ByArgs: true, ByState: []rivertype.JobState{
			rivertype.JobStateAvailable, rivertype.JobStatePending, rivertype.JobStateRetryable, rivertype.JobStateRunning,
			rivertype.JobStateScheduled,
		}},
	}
}

// driver is River's for the archive's database. Both take their transactions from database/sql, so that a task ends in
// the transaction that writes its result.
func driver(a *archive.Archive) riverdriver.Driver[*sql.Tx] {
	if a.Location().Shared() {
		return riverdatabasesql.New(a.Database())
	}
	return riversqlite.New(a.Database())
}

// quiet drops what River says of its own workings; what matters is told by tasks and errors.
var quiet = slog.New(slog.DiscardHandler)

// prepare makes River's tables, or brings them to its version. In a shared database a shop sees its own tasks alone.
func prepare(ctx context.Context, a *archive.Archive) error {
	owns, err := a.Owns(ctx)
	if err != nil {
		return err
	}
	if !owns {
		if _, err := a.Database().ExecContext(ctx, `SELECT 1 FROM river_job WHERE 1 = 0`); err != nil {
			var missing *pgconn.PgError
			if errors.As(err, &missing) && missing.Code == "42P01" { // undefined_table
				return errors.New("the owner of the database has to run valvegrade work once, which makes the queue")
			}
			return archive.Explain(err)
		}
		return nil
	}
	migrator, err := rivermigrate.New(driver(a), &rivermigrate.Config{Logger: quiet})
	if err != nil {
		return err
	}
	whole, err := prepared(ctx, a, migrator)
	if err == nil && !whole {
		err = a.Alone(ctx, func() error { return migrate(ctx, a, migrator) })
	}
	if err != nil {
		return fmt.Errorf("the queue's tables: %w", archive.Explain(err))
	}
	return nil
}

// prepared reports whether there is nothing to do for prepare.
func prepared(ctx context.Context, a *archive.Archive, migrator *rivermigrate.Migrator[*sql.Tx]) (whole bool, err error) {
	found, err := migrator.Validate(ctx, nil)
	if err != nil || !found.OK || !a.Location().Shared() {
		return err == nil && found.OK, err
	}
	err = a.Database().QueryRowContext(ctx, `SELECT EXISTS (SELECT FROM pg_policies WHERE tablename = 'river_job' AND policyname = 'own')
		AND NOT EXISTS (SELECT FROM pg_indexes WHERE indexname IN ('river_job_args_index', 'river_job_metadata_index'))`).Scan(&whole)
	return whole, err
}

func migrate(ctx context.Context, a *archive.Archive, migrator *rivermigrate.Migrator[*sql.Tx]) error {
	if _, err := migrator.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil || !a.Location().Shared() {
		return err
	}
	_, err := a.Database().ExecContext(ctx, onServer)
	return err
}

// onServer lets each login see and put in its own tasks; the owner of the tables sees all. It takes away two indexes into
// the tasks' JSON, which nothing here asks for and every task would be written into three times.
const onServer = `DO $$ BEGIN
	DROP INDEX IF EXISTS river_job_args_index, river_job_metadata_index;
	ALTER TABLE river_job ENABLE ROW LEVEL SECURITY;
	DROP POLICY IF EXISTS own ON river_job;
	CREATE POLICY own ON river_job USING (args ->> 'shop' = current_user) WITH CHECK (args ->> 'shop' = current_user);
	IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'valvegrade_shop') THEN
		GRANT SELECT, INSERT, UPDATE ON river_job, river_queue TO valvegrade_shop;
		GRANT SELECT ON river_migration TO valvegrade_shop;
		GRANT USAGE ON SEQUENCE river_job_id_seq TO valvegrade_shop;
	END IF;
END $$`

// Order says what is to be scored again.
type Order struct {
	Filter archive.Filter
	// Version is that of program and Nets, the contents of ONNX files; none for the built-in ones.
	Version string
	Nets    [][]byte
	// Adopt makes the results count once an inspection is wholly scored.
	Adopt bool
}

// batch is how many tasks one statement puts in: a server takes thousands, SQLite writes one after the other anyway.
const batch = 2000

// Put puts in a task for each photo that the order takes and its version has not seen, and returns how many. A photo
// whose task waits already gets no second.
func Put(ctx context.Context, a *archive.Archive, o Order) (int, error) {
	if err := prepare(ctx, a); err != nil {
		return 0, err
	}
	nets := []string{}
	for _, onnx := range o.Nets {
		hash, err := a.KeepNet(ctx, onnx)
		if err != nil {
			return 0, err
		}
		nets = append(nets, hash)
	}
	looks, err := a.Unseen(ctx, o.Filter, o.Version)
	if err != nil {
		return 0, err
	}
	client, err := river.NewClient(driver(a), &river.Config{Logger: quiet})
	if err != nil {
		return 0, err
	}
	put := 0
	for len(looks) > 0 {
		part := looks[:min(batch, len(looks))]
		looks = looks[len(part):]
		tasks := make([]river.InsertManyParams, len(part))
		for n, l := range part {
			tasks[n] = river.InsertManyParams{Args: Task{l.Shop, l.Photo, l.Marks, o.Version, nets, o.Adopt}}
		}
		done, err := client.InsertMany(ctx, tasks)
		if err != nil {
			return put, archive.Explain(err)
		}
		for _, one := range done {
			if !one.UniqueSkippedAsDuplicate {
				put++
			}
		}
	}
	return put, nil
}

// Progress is how far the queue is.
type Progress struct {
	Waiting int `json:"waiting"`
	Running int `json:"running"`
	// Again are tasks that failed and will be tried again, Dead those that were given up.
	Again int `json:"to_be_tried_again"`
	Dead  int `json:"dead"`
	// Done counts those of the last day.
	Done int `json:"done"`
	// PerSecond is how many were done a second in the last minute; Left is what the rest will take at that rate, 0
	// where none was done.
	PerSecond float64       `json:"photos_per_second"`
	Left      time.Duration `json:"-"`
	// Failures are the last errors of tasks that failed.
	Failures []Failure `json:"failures"`
}

// Failure is a task that failed, and why.
type Failure struct {
	Task  int64  `json:"task"`
	Photo int64  `json:"photo"`
	Dead  bool   `json:"dead"`
	Tries int    `json:"tries"`
	Error string `json:"error"`
}

// mostFailures is how many failures are told.
const mostFailures = 20

// rateOver is the time that the rate is taken over.
const rateOver = time.Minute

// Look says how far the queue is.
func Look(ctx context.Context, a *archive.Archive) (*Progress, error) {
	if err := prepare(ctx, a); err != nil {
		return nil, err
	}
	p, err := count(ctx, a)
	if err != nil {
		return nil, err
	}
	return p, p.failures(ctx, a)
}

// count asks how many tasks are in which state.
func count(ctx context.Context, a *archive.Archive) (*Progress, error) {
	p := &Progress{Failures: []Failure{}}
	found, err := a.Database().QueryContext(ctx, `SELECT state, COUNT(*),
			SUM(CASE WHEN finalized_at BETWEEN `+moment(a, -rateOver)+` AND `+moment(a, rateOver)+` THEN 1 ELSE 0 END)
		FROM river_job WHERE kind = 'score-photo' GROUP BY state`)
	if err != nil {
		return nil, archive.Explain(err)
	}
	defer found.Close()
	for found.Next() {
		var state rivertype.JobState
		var n, lately int
		if err := found.Scan(&state, &n, &lately); err != nil {
			return nil, err
		}
		switch state {
		case rivertype.JobStateAvailable, rivertype.JobStatePending, rivertype.JobStateScheduled:
			p.Waiting += n
		case rivertype.JobStateRunning:
			p.Running += n
		case rivertype.JobStateRetryable:
			p.Again += n
		case rivertype.JobStateDiscarded:
			p.Dead += n
		case rivertype.JobStateCompleted:
			p.Done += n
			p.PerSecond = float64(lately) / rateOver.Seconds()
		}
	}
	if err := found.Err(); err != nil {
		return nil, archive.Explain(err)
	}
	if left := p.Waiting + p.Running + p.Again; p.PerSecond > 0 {
		p.Left = time.Duration(float64(left) / p.PerSecond * float64(time.Second)).Round(time.Second)
	}
	return p, nil
}

// failures adds the last errors of tasks that failed.
func (p *Progress) failures(ctx context.Context, a *archive.Archive) error {
	client, err := river.NewClient(driver(a), &river.Config{Logger: quiet})
	if err != nil {
		return err
	}
	jobs, err := client.JobList(ctx, river.NewJobListParams().Kinds(Task{}.Kind()).First(mostFailures).
		States(rivertype.JobStateDiscarded, rivertype.JobStateRetryable).
		OrderBy(river.JobListOrderByID, river.SortOrderDesc))
	if err != nil {
		return archive.Explain(err)
	}
	for _, job := range jobs.Jobs {
		f := Failure{Task: job.ID, Dead: job.State == rivertype.JobStateDiscarded, Tries: job.Attempt}
		if len(job.Errors) > 0 {
			f.Error = job.Errors[len(job.Errors)-1].Error
		}
		var task Task
		if err := json.Unmarshal(job.EncodedArgs, &task); err != nil {
			return err
		}
		f.Photo = task.Photo
		p.Failures = append(p.Failures, f)
	}
	return nil
}
