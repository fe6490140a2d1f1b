// Package inspection is one engine on one day: a folder of photos and its inspection.yaml.
//
// Load reads the folder; Draft proposes the file for a folder that has none. What the photos say is the business of
// package engine. All values are plain data.
package inspection
