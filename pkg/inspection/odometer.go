package inspection

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"valvegrade/internal/number"
)

// Unit is a unit of distance.
type Unit string

// The units of an odometer.
const (
	Miles      Unit = "mi"
	Kilometres Unit = "km"
)

// KilometresPerMile is exact: the international mile of 1959.
const KilometresPerMile = 1.609344

// SameReading is how far apart, in either unit, two odometer readings count as one: they are whole numbers, and
// converting may move one by less than this.
const SameReading = 1

// Odometer is a reading with its unit. Value is 0 or more; Unit is "" for a reading that nobody wrote down.
type Odometer struct {
	Value float64
	Unit  Unit
}

// Known reports whether there is a reading.
func (o Odometer) Known() bool { return o.Unit != "" }

// In returns the reading in another unit, NaN when it is not known.
func (o Odometer) In(unit Unit) float64 {
	switch {
	case !o.Known():
		return math.NaN()
	case o.Unit == unit:
		return o.Value
	case unit == Miles:
		return o.Value / KilometresPerMile
	default:
		return o.Value * KilometresPerMile
	}
}

// Thousands returns so many miles in the unit, to whole thousands: distances of rules of thumb, which nobody knows
// better. The unit of a reading that nobody wrote down, "", is taken for Miles.
func (u Unit) Thousands(miles float64) float64 {
	const thousand = 1000
	if u == Kilometres {
		miles *= KilometresPerMile
	}
	return thousand * math.Round(miles/thousand)
}

// String writes the reading in whole units, as ParseOdometer reads it: "45 210 mi".
func (o Odometer) String() string { return number.Thousands(o.Value) + " " + string(o.Unit) }

// MostDistance is beyond any vehicle, in either unit: a larger number is a slip of the pen.
const MostDistance = 5e6

// odometerForm is a number, whose thousands may stand apart by points, blanks, commas or apostrophes, and a word. A point
// with three digits behind it stands for thousands: in many countries 84.200 is 84 thousand, and no odometer shows
// thousandths.
var odometerForm = regexp.MustCompile(`^(?:(\d{1,3}(?:\.\d{3})+)|(\d+|\d{1,3}(?:[ ,'’]\d{3})+)(\.\d+)?) ?([a-z]*)\.?$`)

// blanks are those that typesetting puts between thousands.
var blanks = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ")

// thousands takes away what stands between thousands.
var thousands = strings.NewReplacer(".", "", " ", "", ",", "", "'", "", "’", "")

// units are the ways of writing them, in small letters.
var units = map[string]Unit{
	"mi": Miles, "mile": Miles, "miles": Miles,
	"km": Kilometres, "kms": Kilometres, "kilometre": Kilometres, "kilometres": Kilometres, "kilometer": Kilometres, "kilometers": Kilometres,
}

// thousandth finds three digits behind the point of a number whose thousands do not stand apart by points.
var thousandth = regexp.MustCompile(`^\.\d{3}$`)

// ParseOdometer reads a number with its unit as people write them, such as "45210 mi", "45,210 miles", "45.210 mi" or
// "72 760 KM".
// What may be read in two ways is an error.
func ParseOdometer(text string) (Odometer, error) {
	parts := odometerForm.FindStringSubmatch(strings.ToLower(blanks.Replace(strings.TrimSpace(text))))
	if parts == nil {
		return Odometer{}, fmt.Errorf("odometer %q is not a number with mi or km, such as 45210 mi", text)
	}
	if thousandth.MatchString(parts[3]) {
		return Odometer{}, fmt.Errorf("odometer %q may mean thousands: write it without the point", text)
	}
	value, err := strconv.ParseFloat(thousands.Replace(parts[1]+parts[2])+parts[3], 64)
	if err != nil || value > MostDistance {
		return Odometer{}, fmt.Errorf("odometer %q is more than any vehicle runs", text)
	}
	word := parts[4]
	if word == "" {
		return Odometer{}, errors.New("odometer has no unit: write mi or km behind the number")
	}
	unit, known := units[word]
	if !known {
		return Odometer{}, fmt.Errorf("odometer unit %q is neither mi nor km", word)
	}
	return Odometer{Value: value, Unit: unit}, nil
}
