// Package texture measures the relief of a surface from its grey values: co-occurrence, local binary patterns, and the
// energy of bands of detail.
//
// Every measure respects a mask: what lies outside neither counts nor leaks in. Pictures are only read, functions are
// pure and safe for concurrent use, and a measure without a single countable pixel is NaN.
package texture
