// Package score is the whole measurement of one photo, and of many: photo, region, deposit, grade, result.
//
// A reader who wants to know what the program does should read Scorer.Score: it is the flow of the design, five calls
// in a row. Results are plain data with a stable JSON form (schema 1) and are safe to share once made.
package score
