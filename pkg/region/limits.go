package region

// The constants that decide. Lengths are shares, so they hold for every photo size; none was chosen on a photo set that
// is used for measuring. scripts/calibrate shows what others would refuse.
const (
	// A frame state (too dark, blurred, ...) is a reason from this probability on.
	stateLimit = 0.5
	// Whether there is a valve that can be judged both looks say together: the logits of the first one's probabilities
	// that a valve is here and that the photo shows one, and this share of those of the second one that its window can be
	// judged and of the overlap that it expects of its mask, must reach the limit in sum. Each counts as at most so sure.
	// Of pictures without a valve that nothing was trained on 2 % reach it; at as many, place and window alone would
	// refuse twice as many good photos.
	secondLookWeight, leastBelief, surestBelief = 0.5, 0.8, 0.995
	// Of a photo that shows no valve to be judged a fault is told as the reason where the first look holds a valve for
	// at least this probable, or where the look that sees none is as sure of the fault as this.
	likelyValve, surelyFault = 0.4, 0.6
	// A fault with at least this probability is told as the reason of a photo that cannot be judged.
	suspicion = 0.15
	// Below this overlap, which the net expects of its own mask with the truth, there is no valve.
	leastOverlap = 0.1
	// Below this confidence an outline is no use, and the photo is refused.
	leastConfidence = 0.4
	// A valve smaller than this share of the photo is no valve.
	smallestValve = 0.002
	// A valve that shows less than this share of the largest one's pixels is not graded beside it.
	otherValveShare = 0.12
	// One that the edge of the photo cuts off must show more: a slice of a neighbour was not what the photo is of.
	cutOffValveShare = 0.4
	// A valve of which more than this share lies within another one is a part of that.
	mostlyShared = 0.5
	// One that shares more than this of the smaller with an outline set by hand is the valve that was outlined, however far
	// off the net's own outline is: neighbours share hardly anything.
	sameValveShare = 0.2
	// A background hole inside the valve is filled up to this share of the valve: metal has no holes, but a large one
	// is something in front of the valve.
	largestHole = 0.05
	// Islands of stem in the head (or of head in the stem) below this share of the largest one take the colour around.
	islandShare = 0.2
	// A part that was cut off the valve (by a tool, by the text of the camera) belongs to it when this share of the
	// part lies inside the head's ellipse or in line with the stem.
	belongsShare = 0.5
	// In line with the stem: within this many stem widths of its centre line.
	besideStem = 0.6
	// Head cells outside the convex hull of the stem and of the head's ellipse grown by this factor are stray.
	// Generous, because thick crust stands out over the rim.
	strayLevel = 1.35
	// The head is cut off when about this share of its area lies beyond the edge of the photo: a trained rater works in
	// steps of 5 %, so what is lost by less shows in no grade.
	cutOffShare = 0.05
	// The outline is smoothed by a Gaussian of this sigma, as a share of the radius of a disc of the valve's area. The
	// net counts as at most so sure, in logits, of valve or of background.
	smoothShare, surest = 0.02, 4
	// Inside the fitted rim the head's logit is favoured by this much, growing from 0 at the rim over this share of its
	// radius.
	rimFavour, rimRamp = 1.0, 0.06
	// A stem with fewer pixels than this share of the head's is not visible.
	smallestStem = 0.005
	// Below this confidence the outline is called uncertain.
	lowConfidence = 0.7
	// Confidence is this share of the net's own expectation, the rest is the sharpness of the mask.
	overlapWeight = 0.5
)
