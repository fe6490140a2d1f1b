package archive

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// What people can do something about; Explain wraps them.
var (
	ErrFull = errors.New("no room is left on the disk of the archive")
	ErrBusy = errors.New("another program keeps the archive busy: try again in a moment")
	ErrGone = errors.New("the database does not answer")
	// ErrCrowded is that of a server that has no connection left.
	ErrCrowded = errors.New("the database serves as many programs as it may: start fewer, or raise its max_connections")
)

// busyTime is how long a statement waits for another program that writes.
const busyTime = 15 * time.Second

// connect opens the database without asking it anything.
func connect(l Location) (*sql.DB, error) {
	if l.Shared() {
		return connectServer(l)
	}
	if err := os.MkdirAll(filepath.Dir(l.file), 0o750); err != nil {
		return nil, err
	}
	if info, err := os.Stat(l.file); err == nil && info.IsDir() {
		return nil, errors.New("it is a folder: name the file in it, such as archive.db")
	}
	// WAL lets others read while one writes. With synchronous=full what was committed is on the disk after a power cut.
	options := url.Values{"_txlock": {"immediate"}, "_pragma": {
		fmt.Sprintf("busy_timeout(%d)", busyTime.Milliseconds()),
		"journal_mode(wal)", "synchronous(full)", "foreign_keys(on)", "secure_delete(on)", "cache_size(-32000)", "temp_store(memory)",
	}}
	db, err := sql.Open("sqlite", "file:"+(&url.URL{Path: l.file}).EscapedPath()+"?"+options.Encode())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1) // one writes at a time in any case, and waiting in a queue is fairer than asking again
	return db, nil
}

// connections is how many a program holds at most: a server has a hundred by default, for all machines.
const connections = 8

func connectServer(l Location) (*sql.DB, error) {
	config, err := pgx.ParseConfig(l.url.String())
	if err != nil {
		return nil, errors.New("the address of the database cannot be understood: postgres://USER@HOST/DATABASE")
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = busyTime
	}
	if config.RuntimeParams["application_name"] == "" {
		config.RuntimeParams["application_name"] = "valvegrade"
	}
	db := stdlib.OpenDB(*config)
	db.SetMaxOpenConns(connections)
	db.SetMaxIdleConns(connections)
	return db, nil
}

// Explain says in plain words what is wrong with the database, where people can do something about it.
func Explain(err error) error {
	var file *sqlite.Error
	var server *pgconn.PgError
	var connecting *pgconn.ConnectError
	var line *net.OpError
	var name *net.DNSError
	switch {
	case err == nil, errors.Is(err, context.Canceled):
		return err
	case errors.As(err, &file):
		switch file.Code() & 0xff { // the rest says where it happened
		case sqlite3.SQLITE_FULL:
			return ErrFull
		case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
			return ErrBusy
		case sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT:
			return fmt.Errorf(
				"the file is no archive, or damaged (%s): restore a backup",
				strings.ToLower(file.Error()),
			)
		case sqlite3.SQLITE_CANTOPEN:
			return errors.New("the file cannot be opened: check that its folder exists and may be written to")
		case sqlite3.SQLITE_READONLY:
			return errors.New("the file may only be read")
		case sqlite3.SQLITE_IOERR:
			return fmt.Errorf("the disk of the archive failed: %w", err)
		}
	case errors.As(err, &server) && server.Code == "53300": // too_many_connections
		return ErrCrowded
	case errors.As(err, &connecting) && errors.As(err, &server) && (strings.HasPrefix(server.Code, "28") || server.Code == "3D000"): // login, database
		return fmt.Errorf("the server refuses: %s", server.Message)
	case errors.As(err, &connecting), errors.As(err, &line), errors.As(err, &name), errors.Is(err, os.ErrDeadlineExceeded),
		errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, driver.ErrBadConn):
		return fmt.Errorf("%w: %s", ErrGone, reasonOf(err))
	case errors.As(err, &server):
		switch {
		case server.Code == "53100": // disk_full
			return ErrFull
		case server.Code == "42501": // insufficient_privilege
			return fmt.Errorf("this login may not do that: %s", server.Message)
		case strings.HasPrefix(server.Code, "57P"), strings.HasPrefix(server.Code, "08"):
			return fmt.Errorf("%w: %s", ErrGone, server.Message)
		}
	case errors.Is(err, fs.ErrPermission):
		return errors.New("the file may not be written to")
	}
	return err
}

// reasonOf is the innermost message, which names no login and no database; of several attempts it is the last one's.
func reasonOf(err error) string {
	for {
		inner := errors.Unwrap(err)
		if attempts, several := err.(interface{ Unwrap() []error }); several && len(attempts.Unwrap()) > 0 {
			inner = attempts.Unwrap()[len(attempts.Unwrap())-1]
		}
		if inner == nil {
			return err.Error()
		}
		err = inner
	}
}

// retriable reports whether the server ended a transaction to let another pass.
func retriable(err error) bool {
	var server *pgconn.PgError
	return errors.As(err, &server) && (server.Code == "40001" || server.Code == "40P01") // serialization, deadlock
}

// attempts is how often a transaction is tried that the server ended to let another pass.
const attempts = 5

// within does work in one transaction: all of it or nothing. work may be done several times.
func (a *Archive) within(ctx context.Context, work func(tx *sql.Tx) error) error {
	var err error
	for try := range attempts {
		if err = a.once(ctx, work); !retriable(err) {
			break
		}
		time.Sleep(time.Duration(1<<try) * 10 * time.Millisecond)
	}
	return Explain(err)
}

func (a *Archive) once(ctx context.Context, work func(tx *sql.Tx) error) error {
	tx, err := a.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }() // after Commit it does nothing
	if err := work(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// atOneMoment reads all that it reads as it was at one moment, while others may write.
func (a *Archive) atOneMoment(ctx context.Context, read func(tx *sql.Tx) error) error {
	tx, err := a.db.BeginTx(ctx, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true})
	if err != nil {
		return Explain(err)
	}
	defer func() { _ = tx.Rollback() }() // there is nothing to commit
	return Explain(read(tx))
}
