package main

import (
	"slices"
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
	begin := 2
	for begin < len(args) {
		sub := subcommand(command, args[begin])
		if sub == nil {
			break
		}
		command = sub
		begin++
	}
	var flags, rest []string
	for i := begin; i < len(args); i++ {
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
	ordered := append(slices.Clone(args[:begin]), flags...)
	if len(command.Subcommands) > 0 { // the library would look for one behind the dashes
		return append(ordered, rest...)
	}
	return append(append(ordered, "--"), rest...)
}

// subcommand is the command of that name below another, nil for none.
func subcommand(command *cli.Command, name string) *cli.Command {
	for _, sub := range command.Subcommands {
		if sub.HasName(name) {
			return sub
		}
	}
	return nil
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
