package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts in testdata run the real program. Besides it they have the command exit, which runs a program and prints
// how it ended, and the fixtures of fixture_test.go.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"valvegrade": main, "exit": printExit})
}

func TestScripts(t *testing.T) {
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata", Cmds: fixtures, RequireUniqueNames: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", filepath.Join(testdata, "engine"))     // photos with a valve
			env.Setenv("HISTORY", filepath.Join(testdata, "history")) // saved inspections, invented
			env.Setenv("COLUMNS", "1000")                             // so that no sentence is broken
			return nil
		},
	})
}

// printExit runs its arguments and prints their exit code as the last line of standard output.
func printExit() {
	command := exec.Command(os.Args[1], os.Args[2:]...)
	command.Stdout, command.Stderr = os.Stdout, os.Stderr
	var ended *exec.ExitError
	if err := command.Run(); err != nil && !errors.As(err, &ended) {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Printf("exit %d\n", command.ProcessState.ExitCode())
}

func TestMistakeOfTheProgramIsAnError(t *testing.T) {
	err := safely(func() error { panic("index out of range") })
	var usage *usageError
	if err == nil || err.Error() != "the program failed: index out of range" || errors.As(err, &usage) {
		t.Error(err)
	}
}
