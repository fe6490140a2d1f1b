package inspection

import (
	"errors"
	"fmt"
	"time"
)

// Written are the facts of an inspection among the keys of a document that embeds them. What nobody wrote down is null.
type Written struct {
	Vehicle      string   `json:"vehicle"`
	Date         *string  `json:"date"`
	Odometer     *float64 `json:"odometer"`
	OdometerUnit *Unit    `json:"odometer_unit"`
	Stage        Stage    `json:"stage"`
	Assumed      []string `json:"assumed,omitempty"`
	Heard        []Place  `json:"heard,omitempty"`
}

// Write returns the written form.
func (i *Inspection) Write() Written {
	w := Written{Vehicle: i.Vehicle, Stage: i.Stage, Assumed: i.Assumed, Heard: i.Heard}
	if i.Dated() {
		w.Date = new(i.Date.Format(time.DateOnly))
	}
	if i.Odometer.Known() {
		w.Odometer, w.OdometerUnit = new(i.Odometer.Value), new(i.Odometer.Unit)
	}
	return w
}

// Inspection reads the written form; the rest of the inspection is empty.
func (w Written) Inspection() (*Inspection, error) {
	i := &Inspection{Vehicle: w.Vehicle, Stage: w.Stage, Assumed: w.Assumed, Heard: w.Heard}
	if w.Vehicle == "" {
		return nil, errors.New("vehicle is missing")
	}
	if w.Date != nil {
		var err error
		if i.Date, err = ParseDay(*w.Date); err != nil {
			return nil, err
		}
	}
	switch {
	case (w.Odometer == nil) != (w.OdometerUnit == nil):
		return nil, errors.New("an odometer reading without its unit, or a unit without a reading")
	case w.Odometer == nil:
	case !(*w.Odometer >= 0 && *w.Odometer <= MostDistance):
		return nil, fmt.Errorf("odometer %v is no reading", *w.Odometer)
	case *w.OdometerUnit != Miles && *w.OdometerUnit != Kilometres:
		return nil, fmt.Errorf("odometer unit %q is neither mi nor km", *w.OdometerUnit)
	default:
		i.Odometer = Odometer{*w.Odometer, *w.OdometerUnit}
	}
	if !w.Stage.Known() {
		return nil, fmt.Errorf("stage %q is none of routine, before, after", w.Stage)
	}
	return i, nil
}
