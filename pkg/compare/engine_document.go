package compare

import (
	"encoding/json"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

type valveRecord struct {
	Valve int `json:"valve"`
	result
}

type cylinderRecord struct {
	Cylinder int     `json:"cylinder"`
	Method   *string `json:"method"`
	// LeftAlone is written only where it is true.
	LeftAlone bool     `json:"left_alone,omitempty"`
	Verdict   *Verdict `json:"verdict"`
	Outcome   string   `json:"outcome"`
	changesRecord
	Valves []valveRecord `json:"valves"`
}

type engineRecord struct {
	Schema  int                `json:"schema"`
	Scale   int                `json:"scale"`
	Verdict *Verdict           `json:"verdict"`
	Outcome string             `json:"outcome"`
	Forced  bool               `json:"forced"`
	Before  inspection.Written `json:"before"`
	After   inspection.Written `json:"after"`
	changesRecord
	Cylinders []cylinderRecord `json:"cylinders"`
	Notes     []string         `json:"notes"`
}

// MarshalJSON writes the document that Schema describes. What was not measured is null.
func (e *Engine) MarshalJSON() ([]byte, error) {
	r := engineRecord{
		Schema: SchemaVersion, Scale: grade.Scale, Verdict: e.Verdict.record(), Outcome: e.Outcome(), Forced: e.Forced,
		changesRecord: e.Changes.record(),
		Before:        e.Before.Write(), After: e.After.Write(), Notes: append(append([]string{}, e.Notes...), e.ByHand()...),
	}
	for i := range e.Cylinders {
		r.Cylinders = append(r.Cylinders, e.Cylinders[i].record())
	}
	return json.Marshal(r)
}

func (c *Cylinder) record() cylinderRecord {
	r := cylinderRecord{
		Cylinder: c.Number, LeftAlone: c.LeftAlone, Verdict: c.Verdict.record(), Outcome: c.Outcome(),
		changesRecord: c.Changes.record(),
	}
	if c.Method != "" {
		r.Method = &c.Method
	}
	for _, v := range c.Valves {
		r.Valves = append(r.Valves, valveRecord{v.Number, v.record()})
	}
	return r
}
