// Package photo turns the bytes of an image file into an upright picture with its capture facts, or into a typed error,
// and measures whether a valve can be judged in it.
//
// Everything from outside passes through here once: limits are checked before pixels are decoded, decoding is pure Go
// and guarded, and what comes out is one clean, opaque, tightly packed *image.NRGBA that the other packages may trust.
// A Photo is never modified after it was made and may be read by many goroutines.
package photo
