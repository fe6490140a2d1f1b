package inspection

import (
	"regexp"
	"strings"
)

// usual are the ways in which people name such photos in the languages of the program, tried in this order. First those
// whose numbers are counted, before their words: "1. Zylinder 2. Ventil", "2nd valve of the 1st cylinder", and so on, lest
// the 2 be taken for that of the word before it. Then c2v1, cyl3_valve2, "cylinder 2 intake 1", "Zylinder 2 Ventil 1"; v1c2;
// "2. Zylinder Ventil 1"; 2-1 with nothing else that counts; cylinder alone. A number is never cut out of a longer one. A Z
// without a valve beside it counts for a camera's.
var usual = []*Pattern{
	usualPattern(`COUNT(?P<cylinder>\d{1,2})NTHCYLINDER(?:JOIN)?(?P<valve>\d)NTH(?:PORT)END`),
	usualPattern(`COUNT(?P<valve>\d)NTH(?:PORT)(?:JOIN)?(?P<cylinder>\d{1,2})NTHCYLINDEREND`),
	usualPattern(`(?:^|[^a-z])CYLINDERSEP(?P<cylinder>\d{1,2})JOIN(?P<valve>\d)NTH(?:PORT)END`),
	usualPattern(`COUNT(?P<valve>\d)NTH(?:PORT)(?:JOIN)?CYLINDERSEP(?P<cylinder>\d{1,2})(?:\D|$)`),
	usualPattern(`(?:^|[^a-z])CYLSEP(?P<cylinder>\d{1,2})SEP(?:VALVE|INTAKE)SEP(?P<valve>\d)(?:\D|$)`),
	usualPattern(`(?:^|[^a-z])VALVESEP(?P<valve>\d)SEPCYLSEP(?P<cylinder>\d{1,2})(?:\D|$)`),
	usualPattern(`COUNT(?P<cylinder>\d{1,2})NTHCYLINDERSEP(?:PORT)SEP(?P<valve>\d)(?:\D|$)`),
	usualPattern(`(?:^|[^a-z])(?:PORT)SEP(?P<valve>\d)JOIN(?P<cylinder>\d{1,2})NTHCYLINDEREND`),
	usualPattern(`^(?P<cylinder>\d{1,2})[-_. ](?P<valve>\d)(?:[ _-]?(?:[a-z]|\(\d+\)))?$`),
	notBeside(usualPattern(`(?:^|[^a-z])ALONESEP(?P<cylinder>\d{1,2})(?:\D|$)`), `COUNT\d{1,2}NTHCYLINDER`),
	notBeside(usualPattern(`COUNT(?P<cylinder>\d{1,2})NTHCYLINDEREND`), `CYLINDERSEP\d`),
}

// spoken are the words of names. COUNT is what may stand before a number that is counted: no letter, and not the point of a
// date.
var spoken = strings.NewReplacer(
	"SEP", `[ _.#-]*`, "COUNT", `(?:^|[^a-z\d.])`, "NTH", `(?:\.|st|nd|rd|th)[ _-]*`, "END", `(?:[^a-z]|$)`,
	"JOIN", `(?:[ _.,;#-]|of|the|am|im|vom|des|und|and)+`,
	"CYLINDER", `[cz]yl(?:inders?)?`, "ALONE", `(?:c|[cz]yl(?:inder)?)`, "CYL", `[cz](?:yl(?:inder)?)?`,
	"PORT", valveWords+"|"+intakeWords, "VALVE", valveWords, "INTAKE", intakeWords,
)

const (
	valveWords  = `v(?:alve|entil)?`
	intakeWords = `(?:in(?:t(?:ake)?)?(?:[ _.#-]*valve)?|ein(?:lass|laß)?(?:[ _.#-]*ventil)?)`
)

func usualPattern(text string) *Pattern { return &Pattern{form: inWords(text)} }

// notBeside is a pattern of names that another does not fit: "3. Zylinder 1" is of the third or of the first, and tells
// neither.
func notBeside(p *Pattern, other string) *Pattern {
	p.unless = inWords(other)
	return p
}

func inWords(text string) *regexp.Regexp { return regexp.MustCompile("(?i)" + spoken.Replace(text)) }
