package inspection

import (
	"fmt"
	"time"
)

// firstYear is before that of any engine looked at here: an earlier one is a slip, such as 26 for 2026, or stands for a
// day that nobody knew.
const firstYear = 1900

// ParseDay reads a day written as YYYY-MM-DD, midnight UTC.
func ParseDay(text string) (time.Time, error) {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return time.Time{}, fmt.Errorf("date %q is not a day written as YYYY-MM-DD", text)
	}
	if day.Year() < firstYear {
		return time.Time{}, fmt.Errorf("date %q lies before the year %d: write all four digits of the year", text, firstYear)
	}
	return day, nil
}

// Day returns the day that a moment falls on where it was told, midnight UTC, as ParseDay does: midnight UTC itself lies
// within another day in most places.
func Day(moment time.Time) time.Time {
	year, month, day := moment.Date()
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
}
