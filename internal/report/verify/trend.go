package verify

import (
	"fmt"
	"time"

	"valvegrade/pkg/trend"
)

// growth says what of the growth over the odometer does not follow: names, lines and forecasts from the readings in the
// report, and the readings of its own inspections from these. Those of earlier inspections, which are not in it, are taken at
// their word, and so are the sentences on what was left out.
func (s *Saved) growth() (t *trend.Trend, faults []string, err error) {
	if t, err = trend.Read(s.report.Trend); err != nil {
		return nil, []string{"growth over the odometer: " + err.Error()}, nil
	}
	where, err := differences(s.report.Trend, t, exact)
	for _, path := range where {
		faults = append(faults, fmt.Sprintf("growth over the odometer: %s does not follow from its readings", path))
	}
	if t.Vehicle != s.engines[0].Inspection.Vehicle {
		faults = append(faults, "growth over the odometer: it is of another vehicle")
	}
	for _, series := range t.Series {
		for _, e := range s.engines {
			if r := t.At(series, e.Inspection); r != nil && r.Inspections == 1 && r.Index != series.Of(e) {
				faults = append(faults, fmt.Sprintf("growth over the odometer: %s does not read what the inspection of %s does",
					series.Name(), e.Inspection.Date.Format(time.DateOnly)))
			}
		}
	}
	return t, faults, err
}
