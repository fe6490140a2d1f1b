package main

import (
	"time"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/report"
	"valvegrade/pkg/report/texts"
	"valvegrade/pkg/score"
)

// reportFacts reads what is known without looking at an inspection.
func reportFacts(c *cli.Context) (report.Input, error) {
	words, ok := texts.For(c.String("locale"))
	if !ok {
		words = &texts.English
		note(c.App.ErrWriter, "there are no texts in the language of %q yet: they are English, numbers as that locale writes them", c.String("locale"))
	}
	unit, err := unitOption(c)
	if err != nil {
		return report.Input{}, err
	}
	paper := report.Paper(c.String("paper"))
	if paper != "" && paper != report.A4 && paper != report.Letter {
		return report.Input{}, misuse("--paper %q is neither a4 nor letter", paper)
	}
	in := report.Input{
		Texts: words, Locale: c.String("locale"), Unit: unit, Paper: paper,
		Program: score.Options{Program: programVersion()}.Version(),
		Job: report.Job{
			Number: c.String("job"), Customer: c.String("customer"), Technician: c.String("technician"), Remarks: c.String("remarks"), Date: time.Now(),
		},
	}
	if _, err := report.NewLocale(in.Locale, in.Texts, in.Unit); err != nil {
		return in, misuse("--locale: %w", err)
	}
	if day := c.String("date"); day != "" {
		if in.Job.Date, err = time.Parse(time.DateOnly, day); err != nil {
			return in, misuse("--date %q is not a day written as YYYY-MM-DD", day)
		}
	}
	if file := c.String("shop"); file != "" {
		if in.Shop, err = report.ReadShop(file); err != nil {
			return in, misuse("--shop: %w", err)
		}
	}
	if file := c.String("logo"); file != "" {
		if in.Shop.Logo, err = report.ReadLogo(file); err != nil {
			return in, misuse("--logo: %w", err)
		}
	}
	return in, nil
}
