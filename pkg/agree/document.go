package agree

import (
	_ "embed"
	"encoding/json"

	"valvegrade/internal/number"
)

// SchemaVersion is the version of the written form.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what Agreement.MarshalJSON writes.
//
//go:embed schema.json
var Schema []byte

// Written values have four decimals for shares, kappas and correlations, two for index points.
const (
	shareDecimals = 4
	pointDecimals = 2
)

type rangeRecord struct {
	Value *float64 `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

func rangeOf(value, low, high float64, decimals int) rangeRecord {
	return rangeRecord{number.Known(value, decimals), number.Known(low, decimals), number.Known(high, decimals)}
}

type kappaRecord struct {
	rangeRecord
	SE *float64 `json:"se"`
}

type shareRecord struct {
	Count int `json:"count"`
	Of    int `json:"of"`
	rangeRecord
}

type pairRecord struct {
	First           string       `json:"first"`
	Second          string       `json:"second"`
	Photos          int          `json:"photos"`
	Table           Table        `json:"table"`
	Same            shareRecord  `json:"same"`
	WithinOne       shareRecord  `json:"within_one"`
	KappaQuadratic  kappaRecord  `json:"kappa_quadratic"`
	KappaLinear     kappaRecord  `json:"kappa_linear"`
	KappaUnweighted kappaRecord  `json:"kappa_unweighted"`
	Index           *indexRecord `json:"index"`
}

type indexRecord struct {
	Photos      int         `json:"photos"`
	Bias        rangeRecord `json:"bias_points"`
	SD          *float64    `json:"sd_points"`
	Lower       rangeRecord `json:"lower_limit_points"`
	Upper       rangeRecord `json:"upper_limit_points"`
	Concordance rangeRecord `json:"concordance"`
	Pearson     *float64    `json:"pearson"`
}

type fleissRecord struct {
	Kappa  *float64 `json:"kappa"`
	NullSE *float64 `json:"null_se"`
	Z      *float64 `json:"z"`
}

type iccRecord struct {
	Photos        int         `json:"photos"`
	OneWaySingle  rangeRecord `json:"one_way_single"`
	RandomSingle  rangeRecord `json:"random_single"`
	FixedSingle   rangeRecord `json:"fixed_single"`
	OneWayAverage rangeRecord `json:"one_way_average"`
	RandomAverage rangeRecord `json:"random_average"`
	FixedAverage  rangeRecord `json:"fixed_average"`
}

type repeatRecord struct {
	Rater              string      `json:"rater"`
	Of                 string      `json:"of"`
	Valves             int         `json:"valves"`
	Ratings            int         `json:"ratings"`
	SD                 rangeRecord `json:"sd_points"`
	Limit              *float64    `json:"limit_points"`
	SmallestDetectable *float64    `json:"smallest_detectable_points"`
}

type precisionRecord struct {
	Valves               int      `json:"valves"`
	RepeatabilitySD      *float64 `json:"repeatability_sd_points"`
	BetweenSD            *float64 `json:"between_raters_sd_points"`
	ReproducibilitySD    *float64 `json:"reproducibility_sd_points"`
	RepeatabilityLimit   *float64 `json:"repeatability_limit_points"`
	ReproducibilityLimit *float64 `json:"reproducibility_limit_points"`
}

type agreementRecord struct {
	Schema    int              `json:"schema"`
	Photos    int              `json:"photos"`
	Raters    []string         `json:"raters"`
	Pairs     []pairRecord     `json:"pairs"`
	Fleiss    *fleissRecord    `json:"fleiss"`
	ICC       *iccRecord       `json:"icc"`
	Repeats   []repeatRecord   `json:"repeats"`
	Precision *precisionRecord `json:"precision"`
	Notes     []string         `json:"notes"`
}

// MarshalJSON writes the document that Schema describes. What is not determined is null.
func (a *Agreement) MarshalJSON() ([]byte, error) {
	r := agreementRecord{
		Schema: SchemaVersion, Photos: a.Photos, Raters: append([]string{}, a.Raters...), Pairs: []pairRecord{},
		Repeats: []repeatRecord{}, Notes: append([]string{}, a.Notes...),
	}
	for _, p := range a.Pairs {
		r.Pairs = append(r.Pairs, p.record())
	}
	if f := a.Fleiss; f != nil {
		r.Fleiss = &fleissRecord{number.Known(f.Value, shareDecimals), number.Known(f.NullSE, shareDecimals), number.Known(f.Z, 2)}
	}
	if a.ICC != nil {
		r.ICC = a.ICC.record()
	}
	for _, p := range a.Repeats {
		r.Repeats = append(r.Repeats, p.record())
	}
	if p := a.Precision; p != nil {
		points := func(v float64) *float64 { return number.Known(v, pointDecimals) }
		r.Precision = &precisionRecord{
			p.Items, points(p.RepeatabilitySD), points(p.BetweenSD), points(p.ReproducibilitySD),
			points(p.RepeatabilityLimit), points(p.ReproducibilityLimit),
		}
	}
	return json.Marshal(r)
}
