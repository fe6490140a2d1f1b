// Package agree says how well raters agree: two technicians, or the shop's own eye and the program.
//
// Analyse does everything that a list of ratings allows. The statistics it is made of stand
// beside it, one subject a file, and may be used alone: kappa for grades, limits of agreement and concordance for the
// deposit index, intraclass correlation for many raters, repeatability for one rater who looked twice.
//
// A figure that the data do not determine is NaN inside and null in JSON, never 0. Arguments of wrong shape are errors.
// Intervals are 95 % and two-sided. All functions are pure and safe for concurrent use.
package agree
