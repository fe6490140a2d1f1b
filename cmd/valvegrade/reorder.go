package main

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// completionFlag must stay last: the library looks for it there.
const completionFlag = "--generate-bash-completion"

// flagsFirst moves the flags of a command before its arguments, because the library reads none after the first argument
// and people add them at the end. What follows "--" is arguments, whatever it looks like.
func flagsFirst(app *cli.App, args []string) []string {
	if len(args) < 3 || args[len(args)-1] == completionFlag {
		return args
	}
	command := app.Command(args[1])
	if command == nil {
		return args
	}
	var flags, rest []string
	for i := 2; i < len(args); i++ {
		arg := args[i]
		if arg == "--" {
			rest = append(rest, args[i+1:]...)
			break
		}
		if len(arg) < 2 || arg[0] != '-' {
			rest = append(rest, arg)
			continue
		}
		flags = append(flags, arg)
		if i+1 < len(args) && wantsValue(command, arg) {
			i++
			flags = append(flags, args[i])
		}
	}
	ordered := append([]string{args[0], args[1]}, flags...)
	return append(append(ordered, "--"), rest...)
}

// wantsValue reports whether the next argument belongs to the flag.
func wantsValue(command *cli.Command, arg string) bool {
	name := strings.TrimLeft(arg, "-")
	for _, flag := range command.Flags {
		for _, known := range flag.Names() {
			if documented, ok := flag.(cli.DocGenerationFlag); ok && known == name {
				return documented.TakesValue()
			}
		}
	}
	return false
}
