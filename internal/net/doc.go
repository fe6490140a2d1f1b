// Package net runs the trained net over one photo: photo in, evidence on a grid that covers exactly that photo out.
//
// The net looks through a frame of 320x256 pixels. Run turns a portrait photo clockwise, shrinks the photo into the frame
// (place.go, letterbox.go), lets OpenCV compute, and takes the letterbox margin and the turn out of the answer again
// (crop.go), so that callers never see the frame. The net itself is embedded in the program and named by the hash of its
// bytes.
//
// Calls on one Net take turns, so make one per worker for photos to run in parallel.
package net
