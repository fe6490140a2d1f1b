package compare

import (
	"encoding/json"
	"time"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

type inspectionRecord struct {
	Vehicle      string           `json:"vehicle"`
	Date         string           `json:"date"`
	Odometer     float64          `json:"odometer"`
	OdometerUnit inspection.Unit  `json:"odometer_unit"`
	Stage        inspection.Stage `json:"stage"`
}

type valveRecord struct {
	Valve int `json:"valve"`
	result
}

type cylinderRecord struct {
	Cylinder int          `json:"cylinder"`
	Method   *string      `json:"method"`
	Verdict  *Verdict     `json:"verdict"`
	Outcome  string       `json:"outcome"`
	Index    changeRecord `json:"index"`
	Coverage changeRecord `json:"coverage"`
	removedRecord
	Valves []valveRecord `json:"valves"`
}

type engineRecord struct {
	Schema    int              `json:"schema"`
	Scale     int              `json:"scale"`
	Verdict   *Verdict         `json:"verdict"`
	Forced    bool             `json:"forced"`
	Before    inspectionRecord `json:"before"`
	After     inspectionRecord `json:"after"`
	Cylinders []cylinderRecord `json:"cylinders"`
	Notes     []string         `json:"notes"`
}

// MarshalJSON writes the document that Schema describes. What was not measured is null.
func (e *Engine) MarshalJSON() ([]byte, error) {
	r := engineRecord{
		Schema: SchemaVersion, Scale: grade.Scale, Verdict: e.Verdict.record(), Forced: e.Forced,
		Before: recordInspection(e.Before), After: recordInspection(e.After), Notes: append([]string{}, e.Notes...),
	}
	for i := range e.Cylinders {
		r.Cylinders = append(r.Cylinders, e.Cylinders[i].record())
	}
	return json.Marshal(r)
}

func recordInspection(i *inspection.Inspection) inspectionRecord {
	return inspectionRecord{i.Vehicle, i.Date.Format(time.DateOnly), i.Odometer.Value, i.Odometer.Unit, i.Stage}
}

func (c *Cylinder) record() cylinderRecord {
	r := cylinderRecord{
		Cylinder: c.Number, Verdict: c.Verdict.record(), Outcome: c.Outcome(),
		Index: c.Index.record(), Coverage: c.Coverage.record(), removedRecord: c.Index.removedRecord(),
	}
	if c.Method != "" {
		r.Method = &c.Method
	}
	for _, v := range c.Valves {
		r.Valves = append(r.Valves, valveRecord{v.Number, v.record()})
	}
	return r
}
