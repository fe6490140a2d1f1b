// Package report writes what one inspection found, or what became of the engine between two, before and after a cleaning
// or two odometer readings, for the people who paid for it.
//
// Build brings everything together in one Model. WriteHTML, WriteCSV, WriteJSON and WriteText write it, and package
// report/pdf writes it for paper: they choose what to show and where, and never compute a figure. Package report/gather
// makes the input of Build from folders and saved results.
//
// All fixed words come from package report/texts, numbers and dates from Locale. What was not measured is NaN or nil
// and is written as a dash, an empty cell or null, never as 0. Texts from outside (names, notes, file names) are kept
// as given; each format escapes them in its own way.
package report
