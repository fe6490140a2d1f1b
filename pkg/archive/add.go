package archive

import (
	"context"
	"errors"
	"math"
	"strings"

	"valvegrade/pkg/inspection"
)

// Outcome says what adding a visit did.
type Outcome string

// The outcomes: new to the archive; nothing new; told in other words or with other photos, which count from now on; in the
// place of an inspection with the same photos of another day, odometer reading or stage; or known, with results of another
// version, which stand beside the earlier ones.
const (
	Added     Outcome = "added"
	Known     Outcome = "known"
	Renewed   Outcome = "renewed"
	Corrected Outcome = "corrected"
	Beside    Outcome = "other results"
)

// ErrIncomplete is returned for a visit without the vehicle's name, the day or the odometer reading, by which an
// archive tells one visit from another.
var ErrIncomplete = errors.New("vehicle, date and odometer must be known to keep an inspection")

func (v *Visit) complete() error {
	if i := v.Inspection; i.Vehicle == "" || !i.Dated() || !i.Odometer.Known() {
		return ErrIncomplete
	}
	return nil
}

// plainName is what makes two references one vehicle: the same but for blanks and capitals, as package inspection has
// it.
func plainName(reference string) string {
	return strings.ToLower(strings.Join(strings.Fields(reference), ""))
}

func kilometres(i *inspection.Inspection) int64 {
	return int64(math.Round(i.Odometer.In(inspection.Kilometres)))
}

// Add puts a visit with its results, and its photos where it has some, into the archive: all of it or nothing. The same
// visit again changes nothing.
func (a *Archive) Add(ctx context.Context, v *Visit) (Outcome, int64, error) {
	if v.Graded == nil {
		return "", 0, errors.New("archive: a visit without results")
	}
	if err := v.complete(); err != nil {
		return "", 0, err
	}
	sizes := map[string]int{}
	for _, p := range v.photos { // before the rows, which must never speak of a photo that is not there
		data, err := v.read(p)
		if err != nil {
			return "", 0, err
		}
		if _, err := a.keep(ctx, data); err != nil {
			return "", 0, err
		}
		sizes[p.hash] = len(data)
	}
	var outcome Outcome
	var id int64
	err := a.write(ctx, func(w writer) (err error) {
		outcome, id, err = w.visit(v, sizes)
		return err
	})
	return outcome, id, err
}

// visit writes a visit and returns the key of its inspection.
func (w writer) visit(v *Visit, sizes map[string]int) (Outcome, int64, error) {
	vehicle, err := w.vehicle(v.Inspection)
	if err != nil {
		return "", 0, err
	}
	version, err := w.version(v.Graded.Version)
	if err != nil {
		return "", 0, err
	}
	id, outcome, err := w.inspection(v, vehicle, version)
	if err != nil {
		return "", 0, err
	}
	photos, err := w.photos(v, sizes)
	if err != nil {
		return "", 0, err
	}
	if outcome != Known {
		if err := errors.Join(w.shots(v, id, photos), w.overruledBy(v, id)); err != nil {
			return "", 0, err
		}
	}
	written, err := w.results(v, photos, version)
	if err != nil {
		return "", 0, err
	}
	if outcome == Known {
		if written > 0 {
			outcome = Beside
		}
		return outcome, id, nil
	}
	if outcome == Renewed || outcome == Corrected {
		if err := w.count(id, version, v.Graded); err != nil {
			return "", 0, err
		}
	}
	if err := w.mention(vehicle, id, ofVisit(v.Inspection.Card.Job, v.Inspection.Card.Wish)); err != nil {
		return "", 0, err
	}
	return outcome, id, w.pair(vehicle)
}
