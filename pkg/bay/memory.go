package bay

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"valvegrade/internal/chart"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/report"
	"valvegrade/pkg/trend"
)

// ErrNoArchive is returned for what only an archive knows where there is none.
var ErrNoArchive = errors.New("there is no archive here: valvegrade archive add FOLDER begins one")

// Visit is an inspection of the archive, as a page shows it.
type Visit struct {
	archive.Kept
	// Cylinders are filled in for one that is shown in whole.
	Cylinders []PastCylinder `json:"cylinders"`
}

// PastCylinder is a cylinder of a visit.
type PastCylinder struct {
	Number int `json:"number"`
	Figure
	Valves []PastValve `json:"valves"`
}

// PastValve is a valve of a visit.
type PastValve struct {
	Number int `json:"number"`
	Figure
	// Photos are the hashes of its pictures.
	Photos []string `json:"photos"`
	// Outcome says in a sentence how today differs, "" where that is not known.
	Outcome string `json:"outcome"`
}

// Vehicle is one of the archive with its visits, the earliest first.
type Vehicle struct {
	archive.Found
	Seen []Visit `json:"seen"`
	// Growth are sentences on the growth of its deposits; Chart is true when there is a picture named growth.
	Growth []string          `json:"growth"`
	Chart  bool              `json:"chart"`
	Papers map[string]*Paper `json:"-"`
}

// Remembers reports whether there is an archive.
func (b *Bay) Remembers() bool { return b.options.Archive != nil }

func (b *Bay) archive() (*archive.Archive, error) {
	if b.options.Archive == nil {
		return nil, ErrNoArchive
	}
	return b.options.Archive, nil
}

// Find looks vehicles up in the archive, slips forgiven, as archive.Find does.
func (b *Bay) Find(ctx context.Context, text string) ([]archive.Found, error) {
	a, err := b.archive()
	if err != nil || strings.TrimSpace(text) == "" {
		return []archive.Found{}, err
	}
	found, err := a.Find(ctx, text)
	if found == nil {
		found = []archive.Found{}
	}
	return found, archive.Explain(err)
}

// Statistics are those of the whole archive, or of the inspections of which conditions as archive.ParseFilter reads
// them hold.
func (b *Bay) Statistics(ctx context.Context, where []string) (*archive.Statistics, error) {
	a, err := b.archive()
	if err != nil {
		return nil, err
	}
	filter, err := archive.ParseFilter(where)
	if err != nil {
		return nil, err
	}
	s, err := a.Statistics(ctx, filter, "")
	return s, archive.Explain(err)
}

// Vehicle returns one by its key, with the growth of its deposits over all visits; locale is a BCP 47 tag for the words of
// its picture.
func (b *Bay) Vehicle(ctx context.Context, id int64, locale string) (*Vehicle, error) {
	a, err := b.archive()
	if err != nil {
		return nil, err
	}
	found, err := a.VehicleOf(ctx, id)
	if err != nil {
		return nil, unknown(err)
	}
	kept, err := a.Inspections(ctx, id)
	if err != nil {
		return nil, archive.Explain(err)
	}
	v := &Vehicle{Found: *found, Seen: []Visit{}, Growth: []string{}, Papers: map[string]*Paper{}}
	var engines []*engine.Engine
	for _, k := range kept {
		v.Seen = append(v.Seen, Visit{Kept: k})
		graded, err := a.Graded(ctx, k.ID, "")
		if err != nil {
			return nil, unknown(err)
		}
		engines = append(engines, graded.Engine)
	}
	if len(kept) > 1 {
		l, err := localeOf(locale, kept[len(kept)-1].Unit)
		if err != nil {
			return nil, err
		}
		v.Growth, v.Chart = growth(engines, l, v.Papers)
	}
	return v, nil
}

// growth tells of the growth over the odometer where the inspections allow it, and draws it.
func growth(engines []*engine.Engine, l report.Locale, papers map[string]*Paper) (told []string, drawn bool) {
	t, err := trend.Of(engines, l.Unit)
	if err != nil {
		return []string{err.Error()}, false
	}
	told = append([]string{}, t.Notes...)
	if len(t.Series) == 0 || len(t.Series[0].Lines) == 0 {
		return told, false
	}
	var svg bytes.Buffer
	worst, err := t.Series[0].Chart(l.ChartWords(t.Vehicle))
	if err != nil || chart.Write(&svg, worst, trend.ChartWidth, trend.ChartHeight, "svg") != nil {
		return told, false
	}
	papers["growth"] = &Paper{"growth.svg", "image/svg+xml", svg.Bytes()}
	return told, true
}

// unknown is ErrUnknown for what the archive does not have, or does not show to this shop.
func unknown(err error) error {
	if errors.Is(err, archive.ErrUnknown) {
		return ErrUnknown
	}
	return archive.Explain(err)
}

// Visit returns an inspection of the archive in whole.
func (b *Bay) Visit(ctx context.Context, id int64) (*Visit, error) {
	a, err := b.archive()
	if err != nil {
		return nil, err
	}
	kept, err := a.Inspection(ctx, id)
	if err != nil {
		return nil, unknown(err)
	}
	graded, err := a.Graded(ctx, id, "")
	if err != nil {
		return nil, unknown(err)
	}
	return visitOf(*kept, graded), nil
}

func visitOf(kept archive.Kept, graded *engine.Graded) *Visit {
	v := &Visit{Kept: kept}
	for _, c := range graded.Engine.Cylinders {
		cylinder := PastCylinder{Number: c.Number, Figure: figureOf(darkAndIndex(c.Dark, c.Index), c.Grades, c.BuildUp)}
		for _, one := range c.Valves {
			valve := PastValve{Number: one.Number, Figure: figureOf(one.Reading, one.Grades, one.BuildUp), Photos: []string{}}
			for _, s := range one.Shots {
				if s.SHA256 != "" && !slices.Contains(valve.Photos, s.SHA256) {
					valve.Photos = append(valve.Photos, s.SHA256)
				}
			}
			cylinder.Valves = append(cylinder.Valves, valve)
		}
		v.Cylinders = append(v.Cylinders, cylinder)
	}
	return v
}

// Remembered returns a JPEG of a photo in the archive, by its hash; only those of the own shop are found.
func (b *Bay) Remembered(ctx context.Context, hash string) ([]byte, error) {
	a, err := b.archive()
	if err != nil {
		return nil, err
	}
	data, err := a.Photo(ctx, hash)
	if err != nil {
		return nil, ErrUnknown
	}
	p, err := photo.Decode(hash, data, b.options.Limits)
	if err != nil {
		return nil, err
	}
	return encoded(fitted(p.Pixels, archivedSide), plainQuality), nil
}

// archivedSide is the longer side of a photo of the archive on the page, in pixels.
const archivedSide = 800

// Keep puts the inspection with its photos into the archive; again changes nothing. What is still open in it is a
// *inspection.FileError, or archive.ErrIncomplete.
func (j *Job) Keep(ctx context.Context) (archive.Outcome, error) {
	a, err := j.bay.archive()
	if err != nil {
		return "", err
	}
	i, err := j.load()
	if err != nil {
		return "", err
	}
	visit, err := archive.FromFolder(i)
	if err != nil {
		return "", err
	}
	outcome, err := a.Look(ctx, visit)
	if err != nil || outcome == archive.Known {
		return outcome, archive.Explain(err)
	}
	if err := visit.Score(ctx, j.bay.Batch(), nil); err != nil {
		return "", err
	}
	outcome, _, err = a.Add(ctx, visit)
	return outcome, archive.Explain(err)
}

// Resume begins an inspection of a vehicle that the archive knows, in a folder of that name: what is known of the
// vehicle is filled in.
func (b *Bay) Resume(ctx context.Context, vehicle int64, name string) (string, error) {
	a, err := b.archive()
	if err != nil {
		return "", err
	}
	known, err := a.VehicleOf(ctx, vehicle)
	if err != nil {
		return "", unknown(err)
	}
	id, err := b.Create(name)
	if err != nil {
		return "", err
	}
	j, err := b.Job(id)
	if err != nil {
		return "", err
	}
	j.lock.Lock()
	defer j.lock.Unlock()
	return id, j.edit(fmt.Sprintf("inspection of %s", known.Reference), func(f *inspection.Form) error {
		f.Vehicle, f.Engine = known.Reference, inspection.Layout{Cylinders: known.Cylinders, Valves: known.Valves}
		f.Card.Plate, f.Card.VIN, f.Card.Family = known.Plate, known.VIN, known.Family
		f.Date = time.Now().Format(time.DateOnly)
		return nil
	})
}
