// Package trend says how fast deposit grows on the valves of one engine, and when it will need a cleaning, from
// inspections at several odometer readings.
//
// Of is the whole of it. For each valve, each cylinder, and the engine it draws one line from cleaning to cleaning and
// fits it: least squares with the readings' own errors, widened where the readings scatter more; without known errors
// least squares or the median of slopes, which find them from the scatter. A forecast is made only where the data carry
// it; where not, a sentence says what is missing.
//
// The fits stand beside it and may be used alone. What the data do not determine is NaN or nil inside and null in JSON.
package trend
