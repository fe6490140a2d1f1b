package main

import (
	"embed"
	"fmt"
	"io"
	"os"
	"path"
	"strings"

	"github.com/urfave/cli/v2"
)

// The scripts ask the program itself what can follow, so they never fall behind its options.
//
//go:embed completion
var completionScripts embed.FS

func completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print a script that completes commands and options in your shell",
		ArgsUsage: "bash|zsh|fish",
		Description: `bash:  valvegrade completion bash > ~/.local/share/bash-completion/completions/valvegrade
zsh:   valvegrade completion zsh > a folder of $fpath, as _valvegrade
fish:  valvegrade completion fish > ~/.config/fish/completions/valvegrade.fish`,
		BashComplete: completeArgument("bash", "zsh", "fish"),
		Action: func(c *cli.Context) error {
			shell := c.Args().First()
			if c.Args().Len() != 1 {
				return hinted(misuse("completion takes one argument"), "valvegrade completion bash|zsh|fish")
			}
			var script string
			switch shell {
			case "bash", "zsh":
				text, err := completionScripts.ReadFile(path.Join("completion", shell))
				if err != nil {
					return err
				}
				script = string(text)
			case "fish":
				markFiles(c.App.Commands)
				text, err := c.App.ToFishCompletion()
				if err != nil {
					return err
				}
				script = text
			default:
				return hinted(misuse("no completion for %q", shell), "valvegrade completion bash|zsh|fish")
			}
			_, err := io.WriteString(c.App.Writer, script)
			return err
		},
	}
}

// completeValues offers the values of an option right behind it, else what the library offers.
func completeValues(values map[string][]string) cli.BashCompleteFunc {
	return func(c *cli.Context) {
		option := os.Args[len(os.Args)-2] // the last word is completionFlag
		if known, ok := values[strings.TrimLeft(option, "-")]; ok && strings.HasPrefix(option, "-") {
			offer(c, known)
			return
		}
		cli.DefaultCompleteWithFlags(c.Command)(c)
	}
}

// completeArgument offers the words that a command takes as its only argument.
func completeArgument(words ...string) cli.BashCompleteFunc {
	return func(c *cli.Context) {
		if !c.Args().Present() {
			offer(c, words)
		}
	}
}

func offer(c *cli.Context, words []string) {
	for _, word := range words {
		fmt.Fprintln(c.App.Writer, word)
	}
}

// markFiles notes which options take file names: those whose help calls their value so. Fish asks; the other shells
// offer files wherever nothing else fits.
func markFiles(commands []*cli.Command) {
	for _, command := range commands {
		markFiles(command.Subcommands)
		for _, flag := range command.Flags {
			if f, ok := flag.(*cli.StringFlag); ok {
				f.TakesFile = strings.Contains(f.Usage, "`FILE`") || strings.Contains(f.Usage, "`DIR`")
			}
		}
	}
}
