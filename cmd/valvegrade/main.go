// Command valvegrade grades intake-valve deposits in photos. It only talks: flags, files, messages and exit codes; all
// measuring is done by the packages under pkg.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	_ "valvegrade/internal/memory" // before the first thread
	"valvegrade/internal/stdout"
)

func main() {
	os.Exit(run(os.Args, stdout.Writer(), os.Stderr))
}

// run is the whole program but for the process: it returns the exit code.
//
// The first interrupt cancels the work, so that what is done can be kept; a second one ends the program at once.
func run(args []string, out, stderr io.Writer) int {
	ctx, forget := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer forget()
	context.AfterFunc(ctx, forget)

	app := newApp(out, stderr)
	err := safely(func() error { return app.RunContext(ctx, flagsFirst(app, args)) })
	var usage *usageError
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, errRefused), errors.Is(err, errDiffers):
		return exitRefused // the table, or the JSON, has said why
	case errors.As(err, &usage):
		complain(stderr, err)
		return exitUsage
	default:
		complain(stderr, err)
		return exitFailed
	}
}

// safely turns a mistake of the program into an error, so that it ends as others do and not with the exit code of wrong
// usage.
func safely(work func() error) (err error) {
	defer func() {
		if failure := recover(); failure != nil {
			err = hinted(
				fmt.Errorf("the program failed: %v", failure),
				"what was written until then is whole; please report what you did",
			)
		}
	}()
	return work()
}
