package score

import (
	"encoding/json"
	"math"
	"strconv"

	"valvegrade/internal/number"
)

// Number is a measured value, or the fact that nothing was measured, which is its zero value and null in JSON.
type Number struct {
	value float64
	known bool
}

// rounded returns v to the given number of decimals, so that the same measurement always prints the same; NaN and
// infinities are not measured.
func rounded(v float64, decimals int) Number {
	if known := number.Known(v, decimals); known != nil {
		return Number{value: *known, known: true}
	}
	return Number{}
}

// Known reports whether there is a value.
func (n Number) Known() bool { return n.known }

// Value returns the value, NaN when it was not measured.
func (n Number) Value() float64 {
	if !n.known {
		return math.NaN()
	}
	return n.value
}

// MarshalJSON writes the shortest plain decimal, or null.
func (n Number) MarshalJSON() ([]byte, error) {
	if !n.known {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, n.value, 'f', -1, 64), nil
}

// UnmarshalJSON reads a JSON number or null.
func (n *Number) UnmarshalJSON(data []byte) error {
	var v *float64
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	*n = Number{}
	if v != nil {
		*n = Number{value: *v, known: true}
	}
	return nil
}
