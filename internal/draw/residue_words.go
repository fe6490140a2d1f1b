package draw

import (
	"math"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/grade"
)

// ResidueWords are the words on a residue map, so that a report can write it in its own language.
type ResidueWords struct {
	// Title and Outcome stand above the map; nothing does when both are "".
	Title, Outcome string
	// Cautions stand below the outcome, each on lines of its own.
	Cautions []string
	// Before and After name the two sides, Index and Stem what is written below them.
	Before, After, Index, Stem string
	// Zones name the zones, Classes bare, film, medium and heavy.
	Zones   map[compare.Zone]string
	Classes [4]string
	// OneOnly and Neither explain what is hatched and what is grey.
	OneOnly, Neither string
	// Number writes an index so that it keeps its grade, a dash when it was not measured.
	Number func(index float64) string
}

// EnglishResidue are the words of a map that stands alone: what the comparison came to is written above it.
func EnglishResidue(c *compare.Comparison) ResidueWords {
	words := ResidueWords{
		Title: c.Verdict.Words(), Outcome: c.Outcome(), Before: "before", After: "after", Index: "index", Stem: "stem",
		Zones:   map[compare.Zone]string{},
		OneOnly: "in one photo only, or unreadable", Neither: "in neither", Number: indexText,
	}
	for _, zone := range zones {
		words.Zones[zone] = string(zone)
	}
	for class, t := range tints {
		words.Classes[class] = t.name
	}
	if words.Title == "" {
		words.Title = "not compared"
	}
	for _, r := range c.Reasons {
		if c.Compared {
			words.Cautions = append(words.Cautions, r.Advice)
		}
	}
	if c.Forced {
		words.Title += " (forced: the photos do not register as one valve)"
	}
	return words
}

// zones in the order in which they are told.
var zones = [...]compare.Zone{compare.Rim, compare.Fillet, compare.Stem}

// indexText writes an index in a caption; a dash stands for one that was not measured.
func indexText(index float64) string {
	if math.IsNaN(index) {
		return "-"
	}
	return grade.IndexText(index)
}
