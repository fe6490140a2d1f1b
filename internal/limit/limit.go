// Package limit is the one place of what the program refuses to take on, each bound with its reason. README's section
// on what is refused says the same; a test holds the two together.
package limit

import "time"

// A photo. Its decoder sees it only when it keeps these bounds, and is stopped when it takes longer than it may.
const (
	// PhotoBytes is the largest file: an uncompressed picture of PhotoPixels fits.
	PhotoBytes = 256 << 20
	// PhotoPixels is the largest width times height: telephones make up to about 50 million pixels in one exposure.
	PhotoPixels = 64_000_000
	// PhotoSide is the longest side: no camera makes longer ones, and a strip of one row's height costs as much as a
	// picture.
	PhotoSide = 16_384
	// PhotoShortSide is the shortest side allowed: below it no texture of deposit is left to judge.
	PhotoShortSide = 160
	// PhotoScans is how many scans a JPEG may have: encoders write one to about twenty, and each costs a pass over the
	// picture, however few bytes it has.
	PhotoScans = 100
	// PhotoMemory is what a file and its decoded picture may take together, so that a worker stays near half a gigabyte
	// whatever the format: 64 million pixels of a plain JPEG take 100 to 200 MB, of a PNG with 16 bits 512.
	PhotoMemory = 400 << 20
	// HEICMemory is what the HEIC decoder may take, which has a memory of its own: that of a picture of 48 million
	// pixels, as telephones make them.
	HEICMemory = 320 << 20
	// PhotoTime is how much of one processor's time reading a photo may take: 64 million pixels take 1 to 3 seconds, 48
	// million in HEIC 4 to 6. What other work takes meanwhile does not count.
	PhotoTime = 10 * time.Second
	// KeptPixels is the most that is kept of a photo: larger ones are averaged down by a whole number. The valve is
	// judged on about 640 pixels, and what comes after decoding takes some 10 bytes for each pixel kept.
	KeptPixels = 16_000_000
)

// A saved result or a report in JSON. What it holds is counted before any of it is decoded, for `{},` takes three bytes
// in the file and half a thousand in memory.
const (
	// SavedBytes is the largest file: a photo takes about 3 KB, with the map of its valve 8 to 12, so that over a thousand
	// fit.
	SavedBytes = 16 << 20
	// SavedGroups is how many objects and lists it may hold; a photo has about a dozen.
	SavedGroups = 100_000
	// SavedValues is how many values it may hold; a photo has about 110.
	SavedValues = 1_000_000
	// SavedDepth is how deep they may lie in each other; results have up to eight levels.
	SavedDepth = 32
)

// A list of ratings in CSV.
const (
	// RatingBytes is the largest list: a hundred thousand ratings take about 4 MB.
	RatingBytes = 8 << 20
	// Ratings is how many it may hold: more than anyone rates by eye in years.
	Ratings = 100_000
	// Raters is how many people may have rated: each pair of them is compared, and forty make 780 pairs.
	Raters = 40
	// Faults is how many of one file are collected: by then the reader knows what is wrong with it.
	Faults = 100
)

// Other files.
const (
	// MarksBytes is the largest marks file: outlines take about 200 bytes, a long stroke of paint 3 KB.
	MarksBytes = 256 << 10
	// ShopBytes is the largest shop file: a name and an address need no more.
	ShopBytes = 64 << 10
	// FormBytes is the largest inspection.yaml; a thousand photos take about 60 KB.
	FormBytes = 256 << 10
	// FormDepth, FormParts and FormEntries bound what a form or a marks file may hold before it is read: how deep, how
	// many values, keys and lists in all (a photo has eight), and how many entries one place of it has.
	FormDepth, FormParts, FormEntries = 16, 40_000, 200
	// NetBytes is the largest net; the built-in one has 4 MB.
	NetBytes = 64 << 20
	// NetTime is how long loading and trying a net may take; the built-in one takes a tenth of a second.
	NetTime = 10 * time.Second
	// LogoBytes and LogoPixels bound a logo, which is shown some hundred pixels wide.
	LogoBytes  = 8 << 20
	LogoPixels = 16_000_000
)
