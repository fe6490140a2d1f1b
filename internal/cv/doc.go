// Package cv is the only door to OpenCV: the neural net and the image operations that the other rooms need.
//
// Go slices and images go in, fresh Go slices and images come out; no OpenCV matrix leaves the package. Arguments are
// checked in Go first. Every OpenCV function that can throw is called through a guard written in C++ (guard.hpp), which
// turns an exception into an error: without it any wrong argument would end the process, because Go cannot recover from a
// C++ exception.
//
// OpenCV runs on one thread, so that a result never depends on how work was split and that photos can be processed in
// parallel. All functions may be called concurrently; calls on one Net take turns, so give each worker a Net of its own.
//
// Coordinates are pixel-centre coordinates: x to the right, y downwards, (0,0) is the centre of the first pixel. In masks
// 0 is outside and any other value inside. Masks and pictures that come out have their origin at (0,0) and no padding
// between rows.
package cv
