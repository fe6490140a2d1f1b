// Package region finds the valves in a photo: which pixels are the head of each, which its stem.
//
// A Finder looks twice: at the whole photo for where valves are, then at each through a window of its own. Geometry (an
// ellipse for the head, a line for the stem) tidies and checks what the second look proposes, and marks set by hand
// replace it. The evidence about deposit comes from the second look, too, and is handed on in Region.Evidence for
// package deposit.
//
// A Finder is not safe for concurrent use: make one per worker. A Region is never modified after it was made.
package region
