// Package bay is the work at the car: inspection folders that fill up while somebody looks into an engine.
//
// A Bay watches a folder of inspections. Each Job is one of them: photos that arrive, by upload or written into the
// folder by the scope, are graded at once; Sheet says how everything stands, and Listen when that changes. Whatever is
// decided (which valve a photo shows, an outline by hand, a grade overruled) goes into the same files that the command
// line reads and writes: inspection.yaml, PHOTO.marks.yaml, results.json. Each is written whole or not at all, read
// again before it is changed, and every change can be taken back.
//
// Names of folders and photos that come from outside are looked up among those that are there, never opened as paths.
// All methods are safe for concurrent use.
package bay
