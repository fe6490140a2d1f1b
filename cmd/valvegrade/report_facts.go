package main

import (
	"errors"
	"io/fs"
	"time"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
)

// reportFacts reads what is known without looking at an inspection.
func reportFacts(c *cli.Context) (report.Input, error) {
	words, translated := texts.For(c.String("locale"))
	unit, err := unitOption(c)
	if err != nil {
		return report.Input{}, err
	}
	paper := report.Paper(c.String("paper"))
	if paper != "" && paper != report.A4 && paper != report.Letter {
		return report.Input{}, misuse("--paper %q is neither a4 nor letter", paper)
	}
	separator, err := separatorOption(c)
	if err != nil {
		return report.Input{}, err
	}
	in := report.Input{
		Texts: words, Locale: c.String("locale"), Unit: unit, Paper: paper, Separator: separator,
		Workshop: c.Bool("workshop"),
		Job: report.Job{
			Number: c.String("job"), Customer: c.String("customer"), Technician: c.String("technician"),
			Remarks: c.String("remarks"), Date: time.Now(),
		},
	}
	if _, err := report.NewLocale(in.Locale, in.Texts, in.Unit); err != nil {
		return in, misuse("--locale: %w", err)
	}
	if !translated {
		note(c.App.ErrWriter, "the report is in English; only its numbers are written as in %s", in.Locale)
	}
	if day := c.String("date"); day != "" {
		if in.Job.Date, err = inspection.ParseDay(day); err != nil {
			return in, misuse("--%w", err)
		}
	}
	in.Shop, err = shopOf(c)
	return in, err
}

// separatorFlag says how the columns of CSV are parted, by what where it does not say.
func separatorFlag(otherwise string) cli.Flag {
	return &cli.StringFlag{
		Name:        "separator",
		Usage:       "part the columns of CSV by `SIGN`, comma or semicolon; with semicolons decimals have a comma",
		DefaultText: otherwise,
	}
}

// separatorOption reads it, "" where it does not say.
func separatorOption(c *cli.Context) (report.Separator, error) {
	s := report.Separator(c.String("separator"))
	if s != "" && s != report.Comma && s != report.Semicolon {
		return "", misuse("--separator %q is neither comma nor semicolon", s)
	}
	return s, nil
}

// cannotUse explains why the file of an option cannot be used.
func cannotUse(option string, err error) error {
	var fault *fs.PathError
	if errors.As(err, &fault) {
		return misuse("%s: cannot read %q: %w", option, fault.Path, fault.Err)
	}
	return misuse("%s: %w", option, err)
}
