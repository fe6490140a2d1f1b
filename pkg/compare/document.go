package compare

import (
	_ "embed"
	"encoding/json"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
)

// SchemaVersion is the version of the written form.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what Comparison.MarshalJSON and Engine.MarshalJSON write.
//
//go:embed schema.json
var Schema []byte

// Decimals of written values.
const (
	shareDecimals = 4
	angleDecimals = 1
)

// status says whether two photos were compared.
type status string

const (
	compared status = "compared"
	refused  status = "refused"
)

type changeRecord struct {
	Before         measure.Number `json:"before"`
	BeforeLow      measure.Number `json:"before_low"`
	BeforeHigh     measure.Number `json:"before_high"`
	After          measure.Number `json:"after"`
	AfterLow       measure.Number `json:"after_low"`
	AfterHigh      measure.Number `json:"after_high"`
	Difference     measure.Number `json:"difference"`
	DifferenceLow  measure.Number `json:"difference_low"`
	DifferenceHigh measure.Number `json:"difference_high"`
	Detectable     measure.Number `json:"smallest_detectable_change"`
	Less           measure.Number `json:"less_probability"`
	removedRecord
}

type removedRecord struct {
	Share measure.Number `json:"removed_share"`
	Low   measure.Number `json:"removed_share_low"`
	High  measure.Number `json:"removed_share_high"`
}

type photoRecord struct {
	Photo     string  `json:"photo"`
	Valve     int     `json:"valve_in_photo"`
	Valves    int     `json:"valves_in_photo"`
	SHA256    *string `json:"sha256"`
	Version   string  `json:"version"`
	Grade     *int    `json:"grade"`
	GradeName *string `json:"grade_name"`
	measure.WrittenIndex
	Reasons []reason.Reason `json:"reasons"`
}

type registrationRecord struct {
	Method      Method         `json:"method"`
	Turn        measure.Number `json:"turn_deg"`
	Correlation measure.Number `json:"pattern_correlation"`
}

type partRecord struct {
	Zone           Zone           `json:"zone,omitempty"`
	Hour           int            `json:"hour,omitempty"`
	Share          measure.Number `json:"share"`
	IndexBefore    measure.Number `json:"index_before"`
	IndexAfter     measure.Number `json:"index_after"`
	DarkBefore     measure.Number `json:"dark_before"`
	DarkAfter      measure.Number `json:"dark_after"`
	CoverageBefore measure.Number `json:"coverage_before"`
	CoverageAfter  measure.Number `json:"coverage_after"`
}

// result is what a comparison says, by itself or as one valve of an engine.
type result struct {
	Status   status              `json:"status"`
	Verdict  *Verdict            `json:"verdict"`
	Outcome  string              `json:"outcome"`
	Forced   bool                `json:"forced"`
	Reasons  []reason.Reason     `json:"reasons"`
	Before   *photoRecord        `json:"before"`
	After    *photoRecord        `json:"after"`
	Common   measure.Number      `json:"comparable_share"`
	Register *registrationRecord `json:"registration"`
	changesRecord
	Zones []partRecord `json:"zones"`
	Clock []partRecord `json:"clock"`
}

// changesRecord holds the figures; the share removed stands once more beside them, that of the index.
type changesRecord struct {
	Index    changeRecord `json:"index"`
	Dark     changeRecord `json:"dark"`
	Coverage changeRecord `json:"coverage"`
	removedRecord
}

func (c Changes) record() changesRecord {
	return changesRecord{c.Index.record(), c.Dark.record(), c.Coverage.record(), c.Index.removedRecord()}
}

// MarshalJSON writes the document that Schema describes. What was not measured is null.
func (c *Comparison) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Schema int `json:"schema"`
		Scale  int `json:"scale"`
		result
	}{SchemaVersion, grade.Scale, c.record()})
}

func (c *Comparison) record() result {
	r := result{
		Status: refused, Verdict: c.Verdict.record(), Outcome: c.Outcome(), Forced: c.Forced,
		Reasons: append([]reason.Reason{}, c.Reasons...),
		Before:  c.Before.record(), After: c.After.record(), Common: measure.Rounded(c.Common, shareDecimals),
		changesRecord: c.Changes.record(),
	}
	if c.Compared {
		r.Status = compared
	}
	if g := c.Registration; g != nil {
		r.Register = &registrationRecord{
			g.Method, measure.Rounded(g.Turn, angleDecimals), measure.Rounded(g.Correlation, shareDecimals),
		}
	}
	if c.Zones != nil {
		for _, zone := range []Zone{Rim, Fillet, Stem} {
			part := c.Zones[zone].record()
			part.Zone = zone
			r.Zones = append(r.Zones, part)
		}
	}
	for i, p := range c.Clock {
		part := p.record()
		part.Hour = i + 1
		r.Clock = append(r.Clock, part)
	}
	return r
}

func (v Verdict) record() *Verdict {
	if v == "" {
		return nil
	}
	return &v
}

func (v *View) record() *photoRecord {
	if v == nil {
		return nil
	}
	r := &photoRecord{
		Photo: v.Photo, Valve: v.Valve, Valves: v.Valves, Version: v.Version, Reasons: append([]reason.Reason{}, v.Reasons...),
		WrittenIndex: measure.WriteIndex(v.Index),
	}
	if v.SHA256 != "" {
		r.SHA256 = &v.SHA256
	}
	if v.Grade != nil {
		r.Grade, r.GradeName = &v.Grade.Value, &v.Grade.Name
	}
	return r
}

func (c Change) record() changeRecord {
	r := changeRecord{
		Detectable: points(c.Detectable), Less: measure.Rounded(c.Less(), shareDecimals), removedRecord: c.removedRecord(),
	}
	for _, row := range []struct {
		figure           measure.Figure
		value, low, high *measure.Number
	}{
		{c.Before, &r.Before, &r.BeforeLow, &r.BeforeHigh},
		{c.After, &r.After, &r.AfterLow, &r.AfterHigh},
		{c.Difference, &r.Difference, &r.DifferenceLow, &r.DifferenceHigh},
	} {
		w := row.figure.Write(measure.PointDecimals)
		*row.value, *row.low, *row.high = w.Value, w.Low, w.High
	}
	return r
}

func (c Change) removedRecord() removedRecord {
	w := c.Removed().Write(shareDecimals)
	return removedRecord{w.Value, w.Low, w.High}
}

func (p Part) record() partRecord {
	return partRecord{
		Share:       measure.Rounded(p.Share, shareDecimals),
		IndexBefore: points(p.Before.Index()), IndexAfter: points(p.After.Index()),
		DarkBefore: points(p.Before.Dark()), DarkAfter: points(p.After.Dark()),
		CoverageBefore: points(p.Before.Coverage()), CoverageAfter: points(p.After.Coverage()),
	}
}

func points(v float64) measure.Number { return measure.Rounded(v, measure.PointDecimals) }
