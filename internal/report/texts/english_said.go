package texts

// englishSaid are the sentences of the program that read otherwise in reports and on the page than on the terminal, by
// the form in which they stand in the code: days, which the terminal writes as its tables do, YYYY-MM-DD, are written in
// words there, as all others are.
var englishSaid = map[string]string{
	"%s on %s": "{1} on {day 2}",
	"the inspection is of %s, but by the camera's clock %q was taken on %s (%d of %d photos lie more than a day apart): check both dates": `the inspection is of {day 1}, but by the camera's clock "{2}" was taken on {day 3} ({4} of {5} photos lie more than a day apart): check both dates`,
	"%w: %s, then %s: correct the day or the reading in %s":                                                                               "{1}: {say 2}, then {say 3}: correct the day or the reading in {4}",
}
