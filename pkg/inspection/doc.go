// Package inspection is one engine on one day: a folder of photos and its inspection.yaml, and what its photos say together.
//
// Load reads the folder; Draft proposes the file for a folder that has none. The photos are graded elsewhere; Combine brings
// their figures together: photos to valves, valves to cylinders, cylinders to the engine.
//
// An engine is written as JSON for whoever reads results; ReadDocument takes the facts of the inspection back from it.
//
// A figure that no photo carries is NaN inside and null in JSON, never 0. All values are plain data.
package inspection
