package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/score"
)

// version is set by the Makefile at link time; without it the module's own version stands in.
var version string

func programVersion() string {
	if version != "" {
		return version
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "0.0.0-dev"
}

func versionCommand() *cli.Command {
	return &cli.Command{
		Name:  "version",
		Usage: "print the versions of program, net, scale and result format",
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return misuse("version takes no arguments")
			}
			return printVersion(c)
		},
	}
}

func printVersion(c *cli.Context) error {
	full := score.Options{Program: programVersion()}.Version()
	_, err := fmt.Fprintf(c.App.Writer, "valvegrade %s\nscale %d\nschema %d\n%s %s/%s\n",
		full, grade.Scale, score.SchemaVersion, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}
