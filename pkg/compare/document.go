package compare

import (
	_ "embed"
	"encoding/json"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
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
	pointDecimals = 2
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
	Before         *float64 `json:"before"`
	BeforeLow      *float64 `json:"before_low"`
	BeforeHigh     *float64 `json:"before_high"`
	After          *float64 `json:"after"`
	AfterLow       *float64 `json:"after_low"`
	AfterHigh      *float64 `json:"after_high"`
	Difference     *float64 `json:"difference"`
	DifferenceLow  *float64 `json:"difference_low"`
	DifferenceHigh *float64 `json:"difference_high"`
	Detectable     *float64 `json:"smallest_detectable_change"`
}

type removedRecord struct {
	Share *float64 `json:"removed_share"`
	Low   *float64 `json:"removed_share_low"`
	High  *float64 `json:"removed_share_high"`
}

type photoRecord struct {
	Photo     string          `json:"photo"`
	SHA256    *string         `json:"sha256"`
	Version   string          `json:"version"`
	Grade     *int            `json:"grade"`
	GradeName *string         `json:"grade_name"`
	Index     *float64        `json:"index"`
	IndexLow  *float64        `json:"index_low"`
	IndexHigh *float64        `json:"index_high"`
	Reasons   []reason.Reason `json:"reasons"`
}

type registrationRecord struct {
	Method      Method   `json:"method"`
	Turn        *float64 `json:"turn_deg"`
	Correlation *float64 `json:"pattern_correlation"`
}

type partRecord struct {
	Zone           Zone     `json:"zone,omitempty"`
	Hour           int      `json:"hour,omitempty"`
	Share          *float64 `json:"share"`
	IndexBefore    *float64 `json:"index_before"`
	IndexAfter     *float64 `json:"index_after"`
	CoverageBefore *float64 `json:"coverage_before"`
	CoverageAfter  *float64 `json:"coverage_after"`
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
	Common   *float64            `json:"comparable_share"`
	Register *registrationRecord `json:"registration"`
	Index    changeRecord        `json:"index"`
	Coverage changeRecord        `json:"coverage"`
	removedRecord
	Zones []partRecord `json:"zones"`
	Clock []partRecord `json:"clock"`
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
		Before:  c.Before.record(), After: c.After.record(), Common: number.Known(c.Common, shareDecimals),
		Index: c.Index.record(), Coverage: c.Coverage.record(), removedRecord: c.Index.removedRecord(),
	}
	if c.Compared {
		r.Status = compared
	}
	if g := c.Registration; g != nil {
		r.Register = &registrationRecord{g.Method, number.Known(g.Turn, angleDecimals), number.Known(g.Correlation, shareDecimals)}
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
		Photo: v.Photo, Version: v.Version, Reasons: append([]reason.Reason{}, v.Reasons...),
		Index: points(v.Index.Value), IndexLow: points(v.Index.Low), IndexHigh: points(v.Index.High),
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
	return changeRecord{
		Before: points(c.Before.Value), BeforeLow: points(c.Before.Low), BeforeHigh: points(c.Before.High),
		After: points(c.After.Value), AfterLow: points(c.After.Low), AfterHigh: points(c.After.High),
		Difference: points(c.Difference.Value), DifferenceLow: points(c.Difference.Low), DifferenceHigh: points(c.Difference.High),
		Detectable: points(c.Detectable),
	}
}

func (c Change) removedRecord() removedRecord {
	removed := c.Removed()
	return removedRecord{
		number.Known(removed.Value, shareDecimals), number.Known(removed.Low, shareDecimals), number.Known(removed.High, shareDecimals),
	}
}

func (p Part) record() partRecord {
	return partRecord{
		Share:       number.Known(p.Share, shareDecimals),
		IndexBefore: points(p.Before.Index()), IndexAfter: points(p.After.Index()),
		CoverageBefore: points(p.Before.Coverage()), CoverageAfter: points(p.After.Coverage()),
	}
}

func points(v float64) *float64 { return number.Known(v, pointDecimals) }
