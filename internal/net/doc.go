// Package net runs the trained nets over a photo in two looks.
//
// The first look (Find) goes over the whole photo and says where valves are. The second (Read) looks at one valve
// through a window that this valve fills to a fixed share, so that framing does not matter, and answers for that valve
// alone: evidence on a grid that covers what the window shows of the photo. It looks twice: upright,
// and upside down through a window round what it outlined, or, at a valve with a long stem, upright and then at the head alone.
//
// Both nets see a frame of 320x256 pixels. A whole photo that is higher than wide is turned clockwise; photo or window
// is scaled into the frame (place.go, letterbox.go), OpenCV computes, and margin and turn are taken out of the answer
// again (sighting.go, crop.go), so that callers never see the frame. The nets are embedded in the program and named by
// the hash of their bytes.
//
// Calls on one Eyes take turns, so make one per worker for photos to run in parallel.
package net
