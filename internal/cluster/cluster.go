// Package cluster starts a PostgreSQL server of its own for tests and measurements: in a temporary folder, reached
// through a socket in it and through a free port of this machine, and gone afterwards.
package cluster

import (
	"bytes"
	"context"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Server is a running PostgreSQL.
type Server struct {
	dir, bin string
	port     int
	ahead    time.Duration // of this machine's clock
	process  *exec.Cmd
}

// Owner is the login that owns every database of a Server; it needs no password.
const Owner = "valvegrade"

// patience is how long a server may take to answer: one that was killed reads its whole folder first, which a busy disk draws out.
const patience = 5 * time.Minute

// binaries is where Debian puts the server's programs, by version.
const binaries = "/usr/lib/postgresql/*/bin"

// Start makes a cluster and starts it.
func Start() (*Server, error) {
	found, err := filepath.Glob(binaries)
	if err != nil || len(found) == 0 {
		return nil, fmt.Errorf("PostgreSQL is not installed: scripts/install-deps.sh --tests")
	}
	dir, err := os.MkdirTemp("", "valvegrade-postgres-")
	if err != nil {
		return nil, err
	}
	s := &Server{dir: dir, bin: slices.Max(found)}
	if err := s.prepare(); err != nil {
		s.Remove()
		return nil, err
	}
	if err := s.Run(); err != nil {
		s.Remove()
		return nil, err
	}
	return s, nil
}

func (s *Server) prepare() error {
	// The server refuses root, and must be able to enter its folder.
	if os.Getuid() == 0 {
		u, err := user.Lookup("postgres")
		if err != nil {
			return err
		}
		uid, _ := strconv.Atoi(u.Uid)
		gid, _ := strconv.Atoi(u.Gid)
		if err := os.Chown(s.dir, uid, gid); err != nil {
			return err
		}
	}
	if err := s.as(s.tool("initdb"), "-D", s.data(), "-U", Owner, "-A", "trust", "-E", "UTF8", "--no-locale", "-N").Run(); err != nil {
		return fmt.Errorf("initdb: %w", err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0") // asks the system for a port that is free
	if err != nil {
		return err
	}
	defer listener.Close()
	s.port = listener.Addr().(*net.TCPAddr).Port
	return nil
}

// Run starts the server, again after Kill, and waits until it answers.
func (s *Server) Run() error {
	var out bytes.Buffer
	command := []string{s.tool("postgres"), "-D", s.data(), "-k", s.dir, "-p", strconv.Itoa(s.port), "-h", "127.0.0.1",
		"-c", "max_connections=200", "-c", "log_min_messages=fatal"}
	if s.ahead != 0 {
		library, err := filepath.Glob(clockLibrary)
		if err != nil || len(library) == 0 {
			return fmt.Errorf("libfaketime is not installed: scripts/install-deps.sh --tests")
		}
		command = append([]string{"env", "LD_PRELOAD=" + library[0], "FAKETIME_DONT_FAKE_MONOTONIC=1",
			fmt.Sprintf("FAKETIME=%+ds", int(s.ahead.Seconds()))}, command...)
	}
	s.process = s.as(command[0], command[1:]...)
	s.process.Stderr = &out
	if err := s.process.Start(); err != nil {
		return err
	}
	for begun := time.Now(); time.Since(begun) < patience; time.Sleep(50 * time.Millisecond) {
		if s.as(s.tool("pg_isready"), "-q", "-h", s.dir, "-p", strconv.Itoa(s.port)).Run() == nil {
			return nil
		}
	}
	return fmt.Errorf("PostgreSQL did not start: %s", out.String())
}

// URL names a database of the server, as the login.
func (s *Server) URL(login, database string) string {
	u := url.URL{Scheme: "postgres", User: url.User(login), Host: "127.0.0.1:" + strconv.Itoa(s.port), Path: database,
		RawQuery: "sslmode=disable"}
	return u.String()
}

// Make makes an empty database that Owner owns, and returns its URL.
func (s *Server) Make(database string) (string, error) {
	return s.URL(Owner, database), s.SQL("postgres", "CREATE DATABASE "+database)
}

// SQL runs statements as Owner.
func (s *Server) SQL(database, statements string) error {
	command := s.as(
		s.tool("psql"),
		"-q",
		"-X",
		"-v",
		"ON_ERROR_STOP=1",
		"-h",
		s.dir,
		"-p",
		strconv.Itoa(s.port),
		"-U",
		Owner,
		"-d",
		database,
		"-c",
		statements,
	)
	if out, err := command.CombinedOutput(); err != nil {
		return fmt.Errorf("psql: %w: %s", err, out)
	}
	return nil
}

// Kill ends the server and all its processes at once, as a failure of power would.
func (s *Server) Kill() error {
	text, err := os.ReadFile(filepath.Join(s.data(), "postmaster.pid"))
	if err != nil {
		return err
	}
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return err
	}
	if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
		return err
	}
	_ = s.process.Wait() // it was killed
	return nil
}

// clockLibrary is where Debian puts libfaketime, which sets the clock of a single program.
const clockLibrary = "/usr/lib/*/faketime/libfaketime.so.1"

// SetClock starts the server again with a clock that is ahead of this machine's, or behind.
func (s *Server) SetClock(ahead time.Duration) error {
	_ = s.Stop() // it may be stopped already
	_ = s.process.Wait()
	s.ahead = ahead
	return s.Run()
}

// Stop ends the server in order; Remove takes its folder away, too.
func (s *Server) Stop() error {
	return s.as(s.tool("pg_ctl"), "-D", s.data(), "-m", "immediate", "-w", "stop").Run()
}

// Remove stops the server and removes all that it had.
func (s *Server) Remove() {
	if s.process != nil {
		_ = s.Stop()
		_ = s.process.Wait()
	}
	_ = os.RemoveAll(s.dir)
}

func (s *Server) data() string            { return filepath.Join(s.dir, "data") }
func (s *Server) tool(name string) string { return filepath.Join(s.bin, name) }

// as runs a program of the server as the login postgres where root asks for it.
func (s *Server) as(program string, args ...string) *exec.Cmd {
	if os.Getuid() == 0 {
		program, args = "runuser", append([]string{"-u", "postgres", "--", program}, args...)
	}
	command := exec.CommandContext(context.Background(), program, args...)
	command.Dir = s.dir
	return command
}
