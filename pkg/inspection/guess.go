package inspection

import (
	"fmt"
	"path"
	"regexp"
	"strconv"
	"strings"
)

// Pattern finds cylinder and valve in a file name, by groups named "cylinder" and "valve"; the latter may be missing.
type Pattern struct{ form *regexp.Regexp }

// NewPattern compiles a regular expression in Go's syntax with a group (?P<cylinder>\d+) and, if names tell it, a group
// (?P<valve>\d+). It is matched anywhere in the file name without its extension, capitals and small letters alike.
func NewPattern(text string) (*Pattern, error) {
	form, err := regexp.Compile("(?i)" + text)
	if err != nil {
		return nil, fmt.Errorf("pattern: %w", err)
	}
	if form.SubexpIndex("cylinder") < 0 {
		return nil, fmt.Errorf("pattern %q has no group (?P<cylinder>...)", text)
	}
	return &Pattern{form}, nil
}

// usual are the ways in which people name such photos, tried in this order: c2v1, cyl3_valve2, "cylinder 2 intake 1";
// v1c2; 2-1 with nothing else that counts; cylinder alone. A number is never cut out of a longer one.
var usual = []*Pattern{
	usualPattern(`(?:^|[^a-z])c(?:yl(?:inder)?)?SEP(?P<cylinder>\d{1,2})SEP(?:v(?:alve)?|in(?:t(?:ake)?)?(?:SEPvalve)?)SEP(?P<valve>\d)(?:\D|$)`),
	usualPattern(`(?:^|[^a-z])v(?:alve)?SEP(?P<valve>\d)SEPc(?:yl(?:inder)?)?SEP(?P<cylinder>\d{1,2})(?:\D|$)`),
	usualPattern(`^(?P<cylinder>\d{1,2})[-_. ](?P<valve>\d)(?:[ _-]?(?:[a-z]|\(\d+\)))?$`),
	usualPattern(`(?:^|[^a-z])c(?:yl(?:inder)?)?SEP(?P<cylinder>\d{1,2})(?:\D|$)`),
}

func usualPattern(text string) *Pattern {
	return &Pattern{regexp.MustCompile("(?i)" + strings.ReplaceAll(text, "SEP", `[ _.#-]*`))}
}

// place is what a file name says; a number that it does not say is 0.
type place struct{ cylinder, valve int }

// place returns where the photo belongs, and false when the name does not match or names an impossible place.
func (p *Pattern) place(file string) (place, bool) {
	name := strings.TrimSuffix(path.Base(file), path.Ext(file))
	groups := p.form.FindStringSubmatch(name)
	if groups == nil {
		return place{}, false
	}
	var found place
	found.cylinder, _ = strconv.Atoi(groups[p.form.SubexpIndex("cylinder")])
	if valve := p.form.SubexpIndex("valve"); valve >= 0 && groups[valve] != "" {
		found.valve, _ = strconv.Atoi(groups[valve])
		if found.valve < 1 || found.valve > MostValves {
			return place{}, false
		}
	}
	return found, found.cylinder >= 1 && found.cylinder <= MostCylinders
}

// guess returns the place of each file, in order, by the pattern or, when it is nil, by the usual ways of naming. Names
// that tell only the cylinder mean valve 1 when no name in the folder tells a valve.
func guess(files []string, pattern *Pattern) []place {
	patterns := usual
	if pattern != nil {
		patterns = []*Pattern{pattern}
	}
	places := make([]place, len(files))
	valvesTold := false
	for i, file := range files {
		for _, p := range patterns {
			if found, ok := p.place(file); ok {
				places[i] = found
				valvesTold = valvesTold || found.valve > 0
				break
			}
		}
	}
	for i := range places {
		if places[i].cylinder > 0 && places[i].valve == 0 && !valvesTold {
			places[i].valve = 1
		}
	}
	return places
}

// Named returns the cylinder and the valve that a photo's file name tells in one of the usual ways; a number that it
// does not tell is 0.
func Named(file string) (cylinder, valve int) {
	for _, p := range usual {
		if found, ok := p.place(file); ok {
			return found.cylinder, found.valve
		}
	}
	return 0, 0
}
