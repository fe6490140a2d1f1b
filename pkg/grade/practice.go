package grade

var practices = [...]string{
	"nothing to do",
	"nothing to do; look again at the next service",
	"watch: inspect again in 15 000 to 20 000 mi",
	"plan a cleaning",
	"clean before chasing misfires elsewhere",
}

// Practice returns what is commonly done at a grade of 0 to 4. It is common practice only, to be confirmed with the maker's
// service information. It panics outside 0 to 4: a programming mistake.
func Practice(value int) string { return practices[value] }
