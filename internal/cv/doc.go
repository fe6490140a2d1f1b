// Package cv is the only door to OpenCV: the neural net, the blur that comparing needs, and smaller pictures to look
// at.
//
// Go slices go in, fresh Go slices come out; no OpenCV matrix leaves the package. Arguments are
// checked in Go first. Every OpenCV function that can throw is called through a guard written in C++ (guard.hpp), which
// turns an exception into an error: without it any wrong argument would end the process, because Go cannot recover from
// a C++ exception.
//
// OpenCV runs on one thread, so that a result never depends on how work was split and that photos can be processed in
// parallel. All functions may be called concurrently; calls on one Net take turns, so give each worker a Net of its
// own.
package cv
