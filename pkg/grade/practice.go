package grade

import "strings"

// Soonest and Latest are the miles after which a valve of grade 2 is commonly inspected again.
const Soonest, Latest = 15000, 20000

var practices = [...]string{
	"nothing to do",
	"nothing to do; look again at the next service",
	"watch: inspect again in %s",
	"plan a cleaning",
	"clean before chasing misfires elsewhere",
}

// Practice returns what is commonly done at a grade of 0 to 4. It is common practice only, to be confirmed with the
// maker's service information. It panics outside 0 to 4: a programming mistake.
func Practice(value int) string {
	return strings.Replace(PracticeForm(value), "%s", "15 000 to 20 000 mi", 1)
}

// PracticeForm is Practice with %s in the place of the distance from Soonest to Latest, for those who write distances
// their own way; most grades have none.
func PracticeForm(value int) string { return practices[value] }

// Practised returns the grade whose practice holds for a valve of the given grade; -1 where the photo cannot say, and
// another one is wanted. thin is true where its dark deposit is thin all over: a valve caked with a thin coat is to be
// cleaned as one of grade 3, not before all else.
func (d Decision) Practised(value int, thin bool) int {
	switch d {
	case CleaningDue:
		if value == Grades-1 && !thin {
			return value
		}
		return Grades - 2
	case NothingToDo:
		return min(value, 1)
	case NotYetDue:
		return 2
	}
	return -1
}
