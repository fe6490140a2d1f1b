package main

import (
	"context"
	"fmt"
	"strconv"
	"sync"
	"time"

	"github.com/urfave/cli/v2"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/queue"
	"valvegrade/pkg/score"
)

const aboutRescore = `Has photos of the archive scored again: by a new net, or by this version of the program. One task a photo is put into the
queue, and valvegrade work does them, on this machine and on any number of others.

Results stand beside the earlier ones; archive statistics --versions tells what changes. With --adopt they count, for each
inspection as soon as all its photos are scored.

  valvegrade archive rescore --net new.onnx --where year=2025
  valvegrade work --until-empty`

func archiveRescoreCommand() *cli.Command {
	return &cli.Command{
		Name: "rescore", Usage: "put photos into the queue, to be scored again", Description: aboutRescore,
		Flags: archiveFlags(netFlag(), whereFlag(),
			&cli.BoolFlag{Name: "adopt", Usage: "let the new results count once an inspection has them all"}),
		Action: func(c *cli.Context) error {
			f, err := filterOption(c)
			if err != nil {
				return err
			}
			nets, err := chosenNets(c)
			if err != nil {
				return err
			}
			return withArchive(c, func(a *archive.Archive) error {
				version := score.Options{Program: programVersion(), Nets: nets}.Version()
				put, err := queue.Put(
					c.Context,
					a,
					queue.Order{Filter: f, Version: version, Nets: nets, Adopt: c.Bool("adopt")},
				)
				switch {
				case put == 0 && err == nil:
					note(c.App.ErrWriter, "nothing to do: every such photo has been judged by %s, or waits for it", version)
				case put > 0:
					note(c.App.ErrWriter, "%s to be scored by %s, which valvegrade work does", waiting(put), version)
				}
				return err
			})
		},
	}
}

func archiveQueueCommand() *cli.Command {
	return &cli.Command{
		Name: "queue", Usage: "how far the scoring is, how long it will take, and what failed",
		Flags: archiveFlags(
			&cli.BoolFlag{Name: "wait", Usage: "say so every 10 seconds, until nothing is left"},
			jsonFlag(),
		),
		Action: func(c *cli.Context) error {
			return withArchive(c, func(a *archive.Archive) error {
				for {
					p, err := queue.Look(c.Context, a)
					if err != nil {
						return err
					}
					if err := show(c, p, func() error { return showQueue(c, p) }); err != nil {
						return err
					}
					if !c.Bool("wait") || p.Waiting+p.Running+p.Again == 0 {
						return nil
					}
					select {
					case <-c.Context.Done():
						return nil
					case <-time.After(10 * time.Second):
					}
				}
			})
		},
	}
}

// waiting is "3 photos wait".
func waiting(photos int) string {
	if photos == 1 {
		return "1 photo waits"
	}
	return fmt.Sprintf("%d photos wait", photos)
}

func showQueue(c *cli.Context, p *queue.Progress) error {
	left := "nobody works on them"
	switch {
	case p.Waiting+p.Running+p.Again == 0:
		left = "nothing is left"
	case p.PerSecond > 0:
		left = fmt.Sprintf("%.1f a second, %s left", p.PerSecond, p.Left)
	}
	_, err := fmt.Fprintf(
		c.App.Writer,
		"%s, %d being scored, %d to be tried again, %d failed for good, %d done: %s\n",
		waiting(p.Waiting),
		p.Running,
		p.Again,
		p.Dead,
		p.Done,
		left,
	)
	if err != nil || len(p.Failures) == 0 {
		return err
	}
	rows := [][]string{{"TASK", "PHOTO", "TRIES", "FOR GOOD", "ERROR"}}
	for _, f := range p.Failures {
		rows = append(
			rows,
			[]string{
				strconv.FormatInt(f.Task, 10),
				strconv.FormatInt(f.Photo, 10),
				strconv.Itoa(f.Tries),
				yes(f.Dead),
				f.Error,
			},
		)
	}
	return printColumns(c, rows)
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

const aboutWork = `Scores the photos that archive rescore put into the queue, until it is interrupted; those begun are finished first. Start it
on as many machines as there are, with the same archive and photos (VALVEGRADE_ARCHIVE, VALVEGRADE_PHOTOS). Whatever is
ended in whatever way, no photo is lost and none has two results. A task that fails is tried again after a second, then
later each time, six times in all; archive queue shows those that failed for good.`

func workCommand() *cli.Command {
	return &cli.Command{
		Name: "work", Usage: "score the photos that wait in the archive's queue", Description: aboutWork,
		Flags: archiveFlags(
			&cli.IntFlag{Name: "workers", Usage: "score `N` photos at the same time", DefaultText: "one per core"},
			&cli.BoolFlag{Name: "until-empty", Usage: "end when nothing is left to do"},
		),
		Action: func(c *cli.Context) error {
			if c.IsSet("workers") && c.Int("workers") < 1 {
				return misuse("--workers must be 1 or more")
			}
			return withArchive(c, func(a *archive.Archive) error { return work(c, a) })
		},
	}
}

func work(c *cli.Context, a *archive.Archive) error {
	stop := context.AfterFunc(c.Context, func() { note(c.App.ErrWriter, "finishing the photos that were begun") })
	defer stop()
	var lock sync.Mutex
	done, said := 0, map[string]bool{}
	options := queue.Options{Workers: c.Int("workers"), Program: programVersion(), UntilEmpty: c.Bool("until-empty")}
	options.Done = func(t queue.Task, err error) {
		lock.Lock()
		defer lock.Unlock()
		if err == nil {
			done++
			return
		}
		if text := err.Error(); !said[text] { // once, not for each of a million photos
			said[text] = true
			note(c.App.ErrWriter, "photo %d: %v", t.Photo, err)
		}
	}
	options.Trouble = func(err error) {
		if err == nil {
			note(c.App.ErrWriter, "the work goes on")
			return
		}
		note(c.App.ErrWriter, "%v", err)
	}
	err := queue.Work(c.Context, a, options)
	note(c.App.ErrWriter, "%s scored", counted(done, "photo"))
	return err
}
