// Package measure holds the values that measuring gives and everything else is made of: a Figure with its interval, the
// Shares of the deposit classes, and their written forms.
//
// Inside, what was not measured is NaN; written, it is null, which is the zero value of Number. It is never 0.
// Intervals are 95 % and two-sided.
package measure
