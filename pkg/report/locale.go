package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	format "golang.org/x/text/number"

	"valvegrade/internal/number"
	"valvegrade/internal/report/texts"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Locale writes numbers, dates and distances as readers of a region expect them. The zero value is not usable: see
// NewLocale.
type Locale struct {
	tag     language.Tag
	printer *message.Printer
	texts   *texts.Texts
	// Unit is that of every distance in the report.
	Unit inspection.Unit
}

// NewLocale returns the locale of a BCP 47 tag, such as "en-GB". Words come from the texts, whose language need not be
// the tag's.
func NewLocale(tag string, t *texts.Texts, unit inspection.Unit) (Locale, error) {
	parsed, err := language.Parse(tag)
	if err != nil {
		return Locale{}, fmt.Errorf("locale %q is not a language tag such as en-GB", tag)
	}
	return Locale{tag: parsed, printer: message.NewPrinter(parsed), texts: t, Unit: unit}, nil
}

// Between are the words for what lies between two inspections: a cleaning, or miles.
func (l Locale) Between(cleaned bool) texts.Between { return l.texts.Between(cleaned) }

// Number writes v with the given number of decimals, at most two, rounded as everywhere in the program, and a dash when
// it was not measured.
func (l Locale) Number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return l.texts.NotMeasured
	}
	return l.printer.Sprint(format.Decimal(number.Shown(v, decimals), format.Scale(decimals)))
}

// decimalComma reports whether decimals are written with a comma.
func (l Locale) decimalComma() bool { return strings.Contains(l.Number(0.5, 1), ",") }

// index writes an index as grade.IndexText does.
func (l Locale) index(v float64) string { return l.Number(v, grade.Decimals(v)) }

// Percent writes a percentage of 0 to 100 without decimals.
func (l Locale) Percent(v float64) string {
	if math.IsNaN(v) {
		return l.texts.NotMeasured
	}
	return fmt.Sprintf(l.texts.Percent, l.Number(v, 0))
}

// Share writes a share of 0 to 1 in percent.
func (l Locale) Share(v float64) string { return l.Percent(100 * v) }

// Range writes the interval of a measure with the given number of decimals: "29.1 to 41.3", "29 to 41".
func (l Locale) Range(m measure.Figure, decimals int) string {
	if !m.Known() {
		return l.texts.NotMeasured
	}
	return fmt.Sprintf(l.texts.Range, l.Number(m.Low, decimals), l.Number(m.High, decimals))
}

// Date writes a day: "March 9, 2026" in the United States, "9 March 2026" elsewhere.
func (l Locale) Date(day time.Time) string {
	layout := l.texts.DateDayFirst
	if region, _ := l.tag.Region(); region.String() == "US" {
		layout = l.texts.DateMonthFirst
	}
	return fmt.Sprintf(layout, day.Day(), l.texts.Months[day.Month()-1], day.Year())
}

// Moment writes the time of a record, YYYY-MM-DDThh:mm:ss in no zone: "March 9, 2026, 2:05 PM" in the United States, "9 March
// 2026, 14:05" elsewhere. What is no such time stands as it is.
func (l Locale) Moment(text string) string {
	at, err := time.Parse("2006-01-02T15:04:05", text)
	if err != nil {
		return text
	}
	layout := l.texts.TimeOfDay
	if region, _ := l.tag.Region(); slices.Contains(twelveHours, region.String()) {
		layout = l.texts.TimeOfHalfDay
	}
	return l.Date(at) + ", " + at.Format(layout)
}

// twelveHours are the regions that count to twelve twice a day, of those whose language the program has (Unicode CLDR).
var twelveHours = []string{"US", "CA", "AU", "NZ", "IN", "PH"}

// When tells the day of an inspection and its odometer reading, as far as they are known.
func (l Locale) When(i *inspection.Inspection) string { return strings.Join(l.when(i), ", ") }

func (l Locale) when(i *inspection.Inspection) []string {
	var told []string
	if i.Dated() {
		told = append(told, l.Date(i.Date))
	}
	if i.Odometer.Known() {
		told = append(told, l.Distance(i.Odometer))
	}
	return told
}

// Distance writes an odometer reading in the report's unit: "45,210 mi".
func (l Locale) Distance(o inspection.Odometer) string { return l.Far(o.In(l.Unit)) }

// Far writes a distance that is in the report's unit already.
func (l Locale) Far(v float64) string { return l.Number(v, 0) + "\u00a0" + string(l.Unit) }

// Paper is a size of paper.
type Paper string

// The sizes of paper.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// Paper is what the region writes on.
func (l Locale) Paper() Paper {
	region, _ := l.tag.Region()
	switch region.String() {
	case "US", "CA", "MX", "PH", "CL", "CO", "VE", "GT", "CR", "PA", "SV", "DO", "PR":
		return Letter
	}
	return A4
}
