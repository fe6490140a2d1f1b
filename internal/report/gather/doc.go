// Package gather makes the input of a report: it scores an inspection's photos, or takes a saved result and looks for
// the photos that it speaks of, and draws the pictures.
//
// It stands apart from package report so that the formats need neither the net nor the photos.
package gather
