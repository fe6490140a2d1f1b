package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/ratings"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/agree"
)

var aboutAgree = `Says how well the shop's own eye and the program agree, from a list of grades given by hand. The list is text in
UTF-8, separated by commas, semicolons or tabs, and its first line names the columns: photo and grade (0 to 4), and if you like
rater (for several people), index (0 to 100, a deposit index given by eye), valve (photos of one valve are repeats) and
valve_in_photo (which valve of the photo, counted from the left; without it the largest is meant).
A photo may be rated again by the same rater: the middle rating, of two the higher, counts in the agreement, all in the repeatability.

  photo,rater,grade
  c1v1.jpg,Ann,2
  c1v1.jpg,Ben,3

Rate the photos before looking at the program's grades. The program scores the photos of the list, found in the folder of the
list or in --photos; with --results it takes a saved result instead; lines of a rater named program are taken as they are.
A photo that is not there, or not in the saved result, counts as a refused one.

  valvegrade agree ratings.csv
  valvegrade agree --json a.json --chart ann.svg --rater Ann ratings.csv

A weighted kappa of 1 is complete agreement, 0 no more than chance. About 95 % of differences lie within the limits of agreement.

` + exitHelp + `

` + caution

func agreeCommand() *cli.Command {
	return &cli.Command{
		Name:        "agree",
		Usage:       "compare grades given by eye with the program's, and raters with each other",
		ArgsUsage:   "RATINGS.csv",
		Description: aboutAgree,
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "photos", Usage: "look for the photos in `DIR` instead of the folder of the list"},
			&cli.StringFlag{
				Name:  "results",
				Usage: "take the program's grades from `FILE`, written by score --json, instead of scoring",
			},
			&cli.BoolFlag{
				Name:  "all-pairs",
				Usage: "compare the raters with each other, too, not only with the program",
			},
			&cli.StringFlag{
				Name:  "json",
				Usage: "write the agreement to `FILE`, - for standard output instead of the table",
			},
			&cli.StringFlag{
				Name:  "chart",
				Usage: "draw one rater against the program to `FILE`, .svg or .png: indices, or else grades",
			},
			&cli.StringFlag{Name: "rater", Usage: "chart the rater `NAME` instead of the first"},
		}, measuringFlags()...),
		Action: runAgree,
	}
}

func runAgree(c *cli.Context) error {
	ratings, err := readRatings(c)
	if err != nil {
		return err
	}
	if name := c.String("rater"); name != "" &&
		(name == programRater || !slices.Contains(agree.Raters(ratings), name)) {
		return hinted(
			misuse("--rater %q is no rater of the list", name),
			"the list has %s",
			quoted(agree.Raters(ratings)),
		)
	}
	if err := onlyCharted(c, "rater"); err != nil {
		return err
	}
	program, err := openProgram(c, ratings)
	if err != nil {
		return err
	}
	if _, _, err := chartFile(c); err != nil {
		return err
	}
	if err := prepareFiles(c, program.read, map[string]string{"--json": c.String("json"), "--chart": c.String("chart")}); err != nil {
		return err
	}
	own, err := program.rate(c)
	if err != nil {
		return err
	}
	ratings = append(ratings, own...)
	reference := programRater
	if c.Bool("all-pairs") || !slices.Contains(agree.Raters(ratings), programRater) { // it may have refused every photo
		reference = ""
	}
	a, err := agree.Analyse(ratings, reference)
	if err != nil {
		return err
	}
	a.Notes = append(program.notes, a.Notes...)
	if err := showAgreement(c, a); err != nil {
		return err
	}
	if program.refused {
		return errRefused
	}
	return nil
}

// quoted writes names one after the other, each in quotation marks.
func quoted(names []string) string {
	marked := make([]string, len(names))
	for n, name := range names {
		marked[n] = strconv.Quote(name)
	}
	return strings.Join(marked, ", ")
}

func readRatings(c *cli.Context) ([]agree.Rating, error) {
	if c.Args().Len() != 1 {
		return nil, hinted(misuse("agree takes one list of ratings"), "valvegrade agree RATINGS.csv")
	}
	path := c.Args().First()
	file, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	list, err := ratings.Read(path, file)
	if err != nil {
		return nil, hinted(misuse("%w", err), "valvegrade agree --help shows how a list looks")
	}
	return list, nil
}

func showAgreement(c *cli.Context, a *agree.Agreement) error {
	path, format, err := chartFile(c)
	if err != nil {
		return err
	}
	var pair agree.Pair
	if path != "" {
		if pair, err = chartedPair(c, a); err != nil { // found out before anything is written
			return err
		}
	}
	if err := writeFile(c.String("json"), c.App.Writer, indented(a)); err != nil {
		return err
	}
	if path != "" {
		if err := writeFile(path, c.App.Writer, func(w io.Writer) error { return pair.WriteChart(w, format) }); err != nil {
			return err
		}
	}
	if c.String("json") == toStdout {
		return nil
	}
	return terminal.Agreement(c.App.Writer, a, terminal.Width(c.App.Writer))
}

// chartedPair is the pair that the chart shows: a rater and the program.
func chartedPair(c *cli.Context, a *agree.Agreement) (agree.Pair, error) {
	for _, p := range a.Pairs {
		if p.Second == programRater && (!c.IsSet("rater") || p.First == c.String("rater")) {
			return p, nil
		}
	}
	return agree.Pair{}, fmt.Errorf("no chart: no photo was graded both by the rater and by the program")
}
