package bay

import (
	"context"
	"maps"
	"time"

	"github.com/sourcegraph/conc/iter"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/report"
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
	first, err := before.whole(ctx)
	if err != nil {
		return nil, before.named(err)
	}
	second, err := j.whole(ctx)
	if err != nil {
		return nil, j.named(err)
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
	for n := range found.Cylinders {
		painter := painter{before: visit{before, first}, after: visit{j, second}, words: words}
		if err := c.addValves(&found.Cylinders[n], &painter); err != nil {
			return nil, err
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

// whole is the inspection with what all its photos say, named by inspection and file, once they are read. Whatever is
// still open in it is a *inspection.FileError.
func (j *Job) whole(ctx context.Context) (*engine.Graded, error) {
	if _, err := j.load(); err != nil {
		return nil, err
	}
	j.lock.Lock()
	err := j.refresh(time.Now(), true)
	j.lock.Unlock()
	if err != nil {
		return nil, err
	}
	g, err := j.whenGraded(ctx)
	if err != nil {
		return nil, err
	}
	return g.Below(j.id + "/"), nil
}

// addValves tells of the valves of a cylinder and draws them, several at a time.
func (c *Change) addValves(cylinder *compare.Cylinder, p *painter) error {
	type drawn struct {
		told   ChangedValve
		papers map[string]*Paper
	}
	valves, err := iter.MapErr(cylinder.Valves, func(v *compare.Valve) (d drawn, err error) {
		d.told = changedValve(cylinder, v)
		d.papers, err = p.draw(&d.told, v)
		return d, err
	})
	if err != nil {
		return err
	}
	for _, v := range valves {
		c.Valves = append(c.Valves, v.told)
		maps.Copy(c.Papers, v.papers)
	}
	return nil
}

// changedValve tells of a valve without pictures.
func changedValve(cylinder *compare.Cylinder, v *compare.Valve) ChangedValve {
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
	return told
}
