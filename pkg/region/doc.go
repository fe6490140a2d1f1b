// Package region finds the principal valve in a photo: which pixels are its head, which its stem.
//
// A Finder runs the embedded net over the photo once; geometry (an ellipse for the head, a line for the stem) tidies and
// checks what the net proposes, and marks set by hand replace it. The net's evidence about deposit comes from the same run
// and is handed on in Region.Evidence for package deposit.
//
// A Finder is not safe for concurrent use: make one per worker. A Region is never modified after it was made.
package region
