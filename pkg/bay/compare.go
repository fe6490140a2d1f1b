package bay

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"strings"
	"sync"

	"valvegrade/internal/draw"
	"valvegrade/internal/lossless"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Change is two inspections of one engine, compared: what a page shows of it.
type Change struct {
	Before  Side   `json:"before"`
	After   Side   `json:"after"`
	Verdict string `json:"verdict"`
	// Headline is what all of it comes to, in the language asked for; Engine the mean of Compared of the Of valves that
	// count.
	Headline  string            `json:"headline"`
	Engine    Changed           `json:"engine"`
	Compared  int               `json:"compared"`
	Of        int               `json:"of"`
	Cylinders []ChangedCylinder `json:"cylinders"`
	Valves    []ChangedValve    `json:"valves"`
	Notes     []string          `json:"notes"`
	Growth    []string          `json:"growth"`
	// Chart is true when there is a picture named growth.
	Chart  bool              `json:"chart"`
	Papers map[string]*Paper `json:"-"` // pictures by name
}

// Side names one of the two inspections, its odometer reading as a locale writes it, in the unit of the later one.
type Side struct {
	ID       string `json:"id"`
	Date     string `json:"date"`
	Odometer string `json:"odometer"`
	Stage    string `json:"stage"`
}

// ChangedValve is one valve in both.
type ChangedValve struct {
	Cylinder int `json:"cylinder"`
	Valve    int `json:"valve"`
	// LeftAlone is true for a cylinder that was not cleaned while others were.
	LeftAlone bool `json:"left_alone"`
	// Outcome is the result in a sentence, or why nothing was compared.
	Outcome string   `json:"outcome"`
	Reasons []string `json:"reasons"`
	Before  Figure   `json:"before"`
	After   Figure   `json:"after"`
	Changed
	// Common is the share of the readable valve that both photos show; null when that is not known.
	Common measure.Number `json:"common"`
	// BeforePicture, AfterPicture and Residue are names of pictures, "" where there are none. The first two lie on each
	// other.
	BeforePicture string `json:"before_picture"`
	AfterPicture  string `json:"after_picture"`
	Residue       string `json:"residue"`
}

// Compare compares an earlier inspection with this one; locale is a BCP 47 tag for the words in its pictures.
func (j *Job) Compare(ctx context.Context, earlier, locale string) (*Change, error) {
	before, err := j.bay.Job(earlier)
	if err != nil {
		return nil, err
	}
	first, heads, err := before.mapped(ctx)
	if err != nil {
		return nil, err
	}
	second, otherHeads, err := j.mapped(ctx)
	if err != nil {
		return nil, err
	}
	found, err := compare.Inspections(first, second, compare.Options{})
	if err != nil {
		return nil, err
	}
	l, err := localeOf(locale, found.After.Odometer.Unit)
	if err != nil {
		return nil, err
	}
	c := &Change{
		Before: sideOf(before.id, found.Before, l), After: sideOf(j.id, found.After, l), Verdict: string(found.Verdict),
		Notes:  append(append([]string{}, found.Notes...), found.ByHand()...),
		Growth: []string{}, Valves: []ChangedValve{}, Papers: map[string]*Paper{},
	}
	c.Headline, c.Engine = report.Headline(l, first, second, found), changedOf(found.Changes)
	c.Compared, c.Of = found.Compared()
	for _, cylinder := range found.Cylinders {
		c.Cylinders = append(c.Cylinders, ChangedCylinder{cylinder.Number, cylinder.Method, cylinder.LeftAlone, changedOf(cylinder.Changes)})
	}
	words := l.ResidueWords(l.Between(found.Cleaned()))
	for _, cylinder := range found.Cylinders {
		for _, valve := range cylinder.Valves {
			if err := c.add(&cylinder, valve, heads, otherHeads, words); err != nil {
				return nil, err
			}
		}
	}
	engines, _ := history(ctx, j.bay.others(j, earlier))
	engines = append(engines, first.Engine, second.Engine)
	c.Growth, c.Chart = growth(engines, l, c.Papers)
	return c, nil
}

func sideOf(id string, i *inspection.Inspection, l report.Locale) Side {
	return Side{id, i.Date.Format("2006-01-02"), l.Distance(i.Odometer), string(i.Stage)}
}

// mapped scores the photos of an inspection with their maps, named by inspection and file, and draws their heads as seen
// along the stem; by photo and place in it.
func (j *Job) mapped(ctx context.Context) (*engine.Graded, map[string]*image.NRGBA, error) {
	i, err := inspection.Load(j.dir)
	if err != nil {
		return nil, nil, err
	}
	o := j.bay.Batch()
	o.Map = true
	var lock sync.Mutex
	heads := map[string]*image.NRGBA{}
	o.Picture = func(valves []*score.Result) error {
		for _, r := range valves {
			if r.Status != score.Scored {
				continue
			}
			head := draw.HeadOn(r)
			lock.Lock()
			heads[headName(r.SHA256, r.Valve)] = head
			lock.Unlock()
		}
		return nil
	}
	g, err := engine.Grade(ctx, i, o, nil)
	if err != nil {
		return nil, nil, err
	}
	return g.Below(j.id + "/"), heads, nil
}

func headName(hash string, valve int) string { return fmt.Sprintf("%s-%d", hash, valve) }

// add tells of one valve and draws its pictures.
func (c *Change) add(cylinder *compare.Cylinder, v compare.Valve, heads, otherHeads map[string]*image.NRGBA, words draw.ResidueWords) error {
	told := ChangedValve{
		Cylinder:  cylinder.Number,
		Valve:     v.Number,
		LeftAlone: cylinder.LeftAlone,
		Outcome:   v.Outcome(),
		Reasons:   []string{},
		Common:    measure.Rounded(v.Common, 3),
		Changed:   changedOf(v.Changes),
	}
	told.Before = figureOf(indexOnly(v.Index.Before), grade.Probabilities{}, "")
	told.After = figureOf(indexOnly(v.Index.After), grade.Probabilities{}, "")
	for _, r := range v.Reasons {
		if v.Compared {
			told.Reasons = append(told.Reasons, r.Advice)
		}
	}
	name := strings.ReplaceAll(inspection.ValveName(cylinder.Number, v.Number), ".", "-")
	if v.Compared && v.Registration != nil {
		first, second := heads[headName(v.Before.SHA256, v.Before.Valve)], otherHeads[headName(v.After.SHA256, v.After.Valve)]
		if first != nil && second != nil {
			told.BeforePicture, told.AfterPicture = name+"-before", name+"-after"
			if err := errors.Join(c.keep(told.BeforePicture, first), c.keep(told.AfterPicture, draw.Onto(second, v.Registration))); err != nil {
				return err
			}
		}
	}
	if v.Residue != nil {
		told.Residue = name + "-residue"
		if err := c.keep(told.Residue, draw.ResidueMap(v.Comparison, words)); err != nil {
			return err
		}
	}
	c.Valves = append(c.Valves, told)
	return nil
}

func (c *Change) keep(name string, picture image.Image) error {
	var data bytes.Buffer
	if err := lossless.WritePNG(&data, picture); err != nil {
		return err
	}
	c.Papers[name] = &Paper{name + ".png", "image/png", data.Bytes()}
	return nil
}
