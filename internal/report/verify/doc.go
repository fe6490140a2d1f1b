// Package verify holds saved results against the photos that they speak of: a grade that anyone can re-derive is the
// point.
//
// Read takes the results from a report, a scored inspection or a plain document of photos; the photos are scored again
// elsewhere; Compare says of each whether bytes, version and figures are the same, and if not, why. Rewrite does so
// for what a report says of before and after, and for its sentences.
package verify
