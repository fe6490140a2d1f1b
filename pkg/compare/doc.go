// Package compare measures what changed on a valve between two photos: before and after a cleaning, or two odometer
// readings.
//
// Each photo is rolled out onto the map of the valve: clock position (the stem leans to 12) and distance from stem to
// rim, and the height along the stem. Pose, zoom and roll of the camera drop out. The two maps are registered, and only
// what both photos show is compared: index and coverage before and after with the difference, its 95 % interval and the
// smallest change that the two photos can show; for each zone and clock position what is left.
//
// # Intervals
//
// The interval of a difference follows from those before and after. Errors that both photos share drop out of it, as far
// as the draws of the two move alike and the two states are alike (shared.go): crusted before and bare after they share
// nothing, and the difference is no surer than either photo. The interval of a mean follows from those of its valves, of
// whose errors a tenth is taken to be common (mean.go). Verdicts, probabilities and shares removed rest on these intervals.
//
// # What registration can tell
//
// The direction in which the stem leans says where the camera stood, not where the valve stands. From one pose to the
// next it swings by some ten degrees, so clock positions are that rough as long as nothing better is known. Deposit
// that both photos show is better: where the patterns match at one turn of the valve and at no other, the maps are laid
// on each other by them (Registration.Method is "surface"), and that is positive evidence of one valve. After a good
// cleaning no common pattern is left, and after a turn of the valve in its guide the stem misleads; then the stem's
// direction stands (Method is "stem"). With a stem out of view nothing says what both photos show (Method is
// "outline"), and the whole valves are compared.
//
// The valves of one engine are alike, so no photo can prove that two bare heads are one valve. Refused is what cannot
// be: outlines that do not make a valve in any pose, proportions that no perspective explains, or too little in common
// to compare. Everything else is taken on the word of whoever named the photos.
package compare
