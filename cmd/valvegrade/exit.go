package main

import "errors"

// The exit codes, the same for every command; exitHelp is how --help tells them.
const (
	exitOK      = 0
	exitFailed  = 1
	exitUsage   = 2
	exitRefused = 3
)

const exitHelp = `EXIT CODES:
  0  done; every photo was scored
  1  the program failed or was interrupted
  2  wrong usage; nothing was done
  3  done, but some photo was refused (the others are scored and written)`

// errRefused ends a run that did all it could but had to refuse a photo.
var errRefused = errors.New("some photo was refused")

// errDiffers ends a run of verify in which something does not match; the table has said what.
var errDiffers = errors.New("the report and the photos differ")
