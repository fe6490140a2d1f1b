// Package draw makes the overlay: the photo with what was measured drawn into it, and a caption strip that says it in
// words.
//
// Overlay is a pure function of the result: the same result gives the same pixels. Functions are safe for concurrent
// use.
package draw
