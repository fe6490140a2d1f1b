package measure

import (
	"encoding/json"
	"math"
	"strconv"
)

// Number is a value as it is written: rounded, or null in JSON for what was not measured, which is its zero value.
type Number struct {
	value float64
	known bool
}

// Rounded returns v to the given number of decimals, so that the same measurement always prints the same. NaN and
// infinities are not measured.
func Rounded(v float64, decimals int) Number {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Number{}
	}
	scale := math.Pow10(decimals)
	return Number{value: math.Round(v*scale)/scale + 0, known: true} // + 0 turns -0 into 0
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

// String writes the shortest plain decimal, "" for what was not measured.
func (n Number) String() string {
	if !n.known {
		return ""
	}
	return strconv.FormatFloat(n.value, 'f', -1, 64)
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
