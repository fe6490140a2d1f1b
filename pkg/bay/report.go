package bay

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"time"

	"valvegrade/internal/report/gather"
	"valvegrade/internal/report/pdf"
	"valvegrade/internal/report/texts"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Order is what a report is asked to be.
type Order struct {
	// Format is html, pdf, csv, json or txt.
	Format     string `json:"format"`
	Job        string `json:"job"`
	Customer   string `json:"customer"`
	Technician string `json:"technician"`
	Remarks    string `json:"remarks"`
	// Before is the ID of an earlier inspection, as that before the cleaning after which this one was made; "" for a
	// report of this one alone.
	Before string `json:"before"`
	// History adds the growth over the odometer by the other inspections of the vehicle.
	History bool   `json:"history"`
	Locale  string `json:"locale"`
}

var formats = map[string]struct {
	kind     string
	pictures bool
	write    func(*report.Model, io.Writer) error
}{
	"html": {"text/html; charset=utf-8", true, (*report.Model).WriteHTML},
	"csv":  {"text/csv; charset=utf-8", false, (*report.Model).WriteCSV},
	"json": {"application/json", false, (*report.Model).WriteJSON},
	"txt":  {"text/plain; charset=utf-8", false, (*report.Model).WriteText},
	"pdf": {"application/pdf", true, func(m *report.Model, w io.Writer) error {
		_, err := pdf.Write(m, w) // letters that its fonts lack are named in it
		return err
	}},
}

// Paper is a report as a file.
type Paper struct {
	Name, Type string
	Content    []byte
}

// ErrFormat is returned for a format that is none.
var ErrFormat = errors.New("a report is written as html, pdf, csv, json or txt")

// Report writes a report of the inspection, as the command report does. Whatever is still open in it is a
// *inspection.FileError.
func (j *Job) Report(ctx context.Context, o Order) (*Paper, error) {
	format, known := formats[o.Format]
	if !known {
		return nil, ErrFormat
	}
	model, err := j.model(ctx, o, format.pictures)
	if err != nil {
		return nil, err
	}
	var content bytes.Buffer
	if err := format.write(model, &content); err != nil {
		return nil, err
	}
	name := strings.Map(func(r rune) rune {
		if unfitForName(r) {
			return '_'
		}
		return r
	}, strings.Join(strings.Fields(model.Vehicle+" "+model.Visits[len(model.Visits)-1].Engine.Inspection.Date.Format(time.DateOnly)), "-"))
	return &Paper{name + "." + o.Format, format.kind, content.Bytes()}, nil
}

// model builds what a report says and shows, or takes what the last one was written from where that is the same.
func (j *Job) model(ctx context.Context, o Order, pictures bool) (*report.Model, error) {
	today := time.Now()
	visits := []*Job{j}
	if o.Before != "" {
		before, err := j.bay.Job(o.Before)
		if err != nil {
			return nil, err
		}
		visits = []*Job{before, j}
	}
	var others []*Job
	if o.History {
		others = j.bay.others(j, o.Before)
	}
	of, err := builtOf(o, pictures, slices.Concat(visits, others), today)
	if err != nil {
		return nil, err
	}
	if model := j.bay.built.again(of); model != nil {
		return model, nil
	}
	words, _ := texts.For(o.Locale)
	in := report.Input{
		Locale: o.Locale, Texts: words, Program: j.bay.Version(), Shop: j.bay.options.Shop,
		Job: report.Job{Number: o.Job, Customer: o.Customer, Technician: o.Technician, Remarks: o.Remarks, Date: today},
	}
	if err := j.bay.gather(ctx, visits, &in, pictures); err != nil {
		return nil, err
	}
	history, whole := history(ctx, others)
	in.History = history
	model, err := report.Build(in)
	if err != nil {
		return nil, err
	}
	if whole {
		j.bay.built.keep(of, model)
	}
	return model, nil
}

// localeOf is how numbers and words are written, as in a report.
func localeOf(tag string, unit inspection.Unit) (report.Locale, error) {
	words, _ := texts.For(tag)
	return report.NewLocale(cmp.Or(tag, "en-US"), words, unit)
}

// gather scores the photos of inspections, with their pictures or without.
func (b *Bay) gather(ctx context.Context, visits []*Job, in *report.Input, pictures bool) error {
	photos := 0
	var inspections []*inspection.Inspection
	for _, visit := range visits {
		i, err := visit.load()
		if err != nil && len(visits) > 1 {
			return visit.named(err)
		}
		if err != nil {
			return err
		}
		inspections, photos = append(inspections, i), photos+len(i.Photos)
	}
	options := gather.Options{Texts: in.Texts, PictureBytes: gather.PictureBytes(photos), NoPictures: !pictures}
	options.Options, options.Workers, options.Map = b.options.Options, b.options.Workers, len(visits) == 2
	options.Crew = new(score.Crew)
	defer options.Crew.Close()
	for _, i := range inspections {
		source, err := gather.Folder(ctx, i, options)
		if err != nil {
			return err
		}
		in.Visits = append(in.Visits, *source)
	}
	return nil
}

// others are the other inspections of a job's vehicle that are filled in, without one that is shown beside it anyway.
func (b *Bay) others(j *Job, except string) []*Job {
	ids, err := b.IDs()
	if err != nil {
		return nil
	}
	own, err := inspection.Read(j.dir)
	if err != nil {
		return nil
	}
	var found []*Job
	for _, id := range ids {
		if id == j.id || id == except {
			continue
		}
		i, err := inspection.Load(b.folderOf(id))
		if err != nil || !inspection.SameVehicle(i, own) || i.Engine != own.Engine {
			continue
		}
		if other, err := b.Job(id); err == nil {
			found = append(found, other)
		}
	}
	return found
}

// patienceForOthers is how long the photos of another inspection may take to be read.
const patienceForOthers = time.Minute

// history is what inspections say, each once its photos are read; whole is false where those of one were not in time, so
// that it is left out.
func history(ctx context.Context, inspections []*Job) (found []*engine.Engine, whole bool) {
	whole = true
	for _, j := range inspections {
		soon, end := context.WithTimeout(ctx, patienceForOthers)
		graded, err := j.whenGraded(soon)
		end()
		if err != nil {
			whole = false
			continue
		}
		found = append(found, graded.Engine)
	}
	return found, whole
}

// whenGraded waits until all photos are read and returns what they say together.
func (j *Job) whenGraded(ctx context.Context) (*engine.Graded, error) {
	changes, end := j.Listen()
	defer end()
	for {
		if together, all, err := j.allGraded(); all {
			return together, err
		}
		select {
		case <-changes:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

// allGraded is graded once all photos are read; all is false before.
func (j *Job) allGraded() (together *engine.Graded, all bool, err error) {
	j.lock.Lock()
	defer j.lock.Unlock()
	for _, s := range j.shots {
		if s.state != graded {
			return nil, false, nil
		}
	}
	together, err = j.graded()
	return together, true, err
}
