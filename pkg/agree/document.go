package agree

import (
	_ "embed"
	"encoding/json"

	"valvegrade/pkg/measure"
)

// SchemaVersion is the version of the written form.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what Agreement.MarshalJSON writes.
//
//go:embed schema.json
var Schema []byte

// shareDecimals are those of shares, kappas and correlations.
const shareDecimals = 4

type kappaRecord struct {
	measure.Written
	SE measure.Number `json:"se"`
}

type shareRecord struct {
	Count int `json:"count"`
	Of    int `json:"of"`
	measure.Written
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
	Photos      int             `json:"photos"`
	Bias        measure.Written `json:"bias_points"`
	SD          measure.Number  `json:"sd_points"`
	Lower       measure.Written `json:"lower_limit_points"`
	Upper       measure.Written `json:"upper_limit_points"`
	Concordance measure.Written `json:"concordance"`
	Pearson     measure.Number  `json:"pearson"`
}

type fleissRecord struct {
	Kappa  measure.Number `json:"kappa"`
	NullSE measure.Number `json:"null_se"`
	Z      measure.Number `json:"z"`
}

type iccRecord struct {
	Photos        int             `json:"photos"`
	OneWaySingle  measure.Written `json:"one_way_single"`
	RandomSingle  measure.Written `json:"random_single"`
	FixedSingle   measure.Written `json:"fixed_single"`
	OneWayAverage measure.Written `json:"one_way_average"`
	RandomAverage measure.Written `json:"random_average"`
	FixedAverage  measure.Written `json:"fixed_average"`
}

type repeatRecord struct {
	Rater              string          `json:"rater"`
	Of                 string          `json:"of"`
	Valves             int             `json:"valves"`
	Ratings            int             `json:"ratings"`
	SD                 measure.Written `json:"sd_points"`
	Limit              measure.Number  `json:"limit_points"`
	SmallestDetectable measure.Number  `json:"smallest_detectable_points"`
}

type precisionRecord struct {
	Valves               int            `json:"valves"`
	RatedAgain           int            `json:"valves_rated_again"`
	RepeatabilitySD      measure.Number `json:"repeatability_sd_points"`
	BetweenSD            measure.Number `json:"between_raters_sd_points"`
	ReproducibilitySD    measure.Number `json:"reproducibility_sd_points"`
	RepeatabilityLimit   measure.Number `json:"repeatability_limit_points"`
	ReproducibilityLimit measure.Number `json:"reproducibility_limit_points"`
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
		r.Fleiss = &fleissRecord{
			measure.Rounded(f.Value, shareDecimals),
			measure.Rounded(f.NullSE, shareDecimals),
			measure.Rounded(f.Z, 2),
		}
	}
	if a.ICC != nil {
		r.ICC = a.ICC.record()
	}
	for _, p := range a.Repeats {
		r.Repeats = append(r.Repeats, p.record())
	}
	if p := a.Precision; p != nil {
		points := func(v float64) measure.Number { return measure.Rounded(v, measure.PointDecimals) }
		r.Precision = &precisionRecord{
			p.Items, p.Repeated, points(p.RepeatabilitySD), points(p.BetweenSD), points(p.ReproducibilitySD),
			points(p.RepeatabilityLimit), points(p.ReproducibilityLimit),
		}
	}
	return json.Marshal(r)
}
