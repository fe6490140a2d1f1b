package inspection

import (
	"fmt"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// Pattern finds cylinder and valve in a file name, by groups named "cylinder" and "valve"; the latter may be missing.
type Pattern struct {
	form *regexp.Regexp
	// unless, where it is not nil, fits the names that tell nothing although form fits them.
	unless *regexp.Regexp
}

// NewPattern reads how names tell cylinder and valve: as they are written, with {cylinder}, {valve} (if names tell it)
// and * for anything in between, such as "cyl{cylinder}_{valve}"; or as a regular expression in Go's syntax with the
// groups (?P<cylinder>\d+) and (?P<valve>\d+). It is matched anywhere in the file name without its extension, capitals
// and small letters alike.
func NewPattern(text string) (*Pattern, error) {
	if strings.Contains(text, cylinderWord) {
		text = expression(text)
	}
	form, err := regexp.Compile("(?i)" + text)
	if err != nil {
		return nil, fmt.Errorf("pattern: %w", err)
	}
	if form.SubexpIndex("cylinder") < 0 {
		return nil, fmt.Errorf("pattern %q does not say where the cylinder stands: write {cylinder}", text)
	}
	return &Pattern{form: form}, nil
}

// The words that stand for numbers in a pattern.
const (
	cylinderWord = "{cylinder}"
	valveWord    = "{valve}"
)

// expression is the regular expression of a pattern in words. A number is never cut out of a longer one.
func expression(text string) string {
	start, end := "", ""
	if strings.HasPrefix(text, "{") {
		start = `(?:^|\D)`
	}
	if strings.HasSuffix(text, "}") {
		end = `(?:\D|$)`
	}
	words := strings.NewReplacer(
		regexp.QuoteMeta(cylinderWord), `(?P<cylinder>\d{1,2})`, regexp.QuoteMeta(valveWord), `(?P<valve>\d)`,
		regexp.QuoteMeta("*"), `.*?`,
	)
	return start + words.Replace(regexp.QuoteMeta(text)) + end
}

// place is what a file name says; a number that it does not say is 0. all is how many valves the photo shows where they
// are all that the cylinder has, else 0; shows what the photo was seen to show, nil where nobody looked.
type place struct {
	cylinder, valve, all int
	shows                *int
}

// place returns where the photo belongs, and false when the name does not match or names an impossible place.
func (p *Pattern) place(file string) (place, bool) {
	return p.in(strings.TrimSuffix(path.Base(file), path.Ext(file)))
}

// placeBelow is place for a photo whose folder may tell what its name does not, such as cyl1/valve2.jpg or
// c1v2/IMG_0012.jpg.
func (p *Pattern) placeBelow(file string) (place, bool) {
	found, ok := p.place(file)
	folder := path.Base(path.Dir(file))
	if ok || folder == "." {
		return found, ok
	}
	name := strings.TrimSuffix(path.Base(file), path.Ext(file))
	if found, ok = p.in(folder + " " + name); !ok {
		found, ok = p.in(folder)
	}
	return found, ok
}

// in returns the place that a name without extension tells.
func (p *Pattern) in(name string) (place, bool) {
	groups := p.form.FindStringSubmatch(name)
	if groups == nil || p.unless != nil && p.unless.MatchString(name) {
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
// that tell only the cylinder mean all its valves where the photo shows as many as the engine is known to have, else as
// the names tell of, or the photos themselves where no name tells of a second valve; and valve 1 where nothing tells of
// more.
func guess(dir string, files []string, o DraftOptions) []place {
	patterns := usual
	if o.Pattern != nil {
		patterns = []*Pattern{o.Pattern}
	}
	places := make([]place, len(files))
	told := 0
	for i, file := range files {
		places[i] = toldBy(file, patterns)
		told = max(told, places[i].valve)
	}
	most := max(told, o.Engine.Valves)
	for i := range places {
		p := &places[i]
		if p.cylinder > 0 && p.valve == 0 && o.Valves != nil {
			if p.shows = new(o.Valves(filepath.Join(dir, files[i]))); told < 2 && o.Engine.Valves == 0 { // valve 1 may be the first of two
				most = max(most, min(*p.shows, MostValves))
			}
		}
	}
	for i := range places {
		switch p := &places[i]; {
		case p.cylinder == 0 || p.valve > 0:
		case most > 1 && p.shows != nil && *p.shows == most:
			p.all = most
		case most <= 1 && (told == 0 || o.Engine.Valves == 1):
			p.valve = 1
		}
	}
	return places
}

// toldBy returns what the first pattern that fits finds in a file's name and folder, a place without numbers where none
// does.
func toldBy(file string, patterns []*Pattern) place {
	for _, p := range patterns {
		if found, ok := p.placeBelow(filepath.ToSlash(file)); ok {
			return found
		}
	}
	return place{}
}

// Named returns the cylinder and the valve that a photo's file name tells in one of the usual ways; a number that it
// does not tell is 0.
func Named(file string) (cylinder, valve int) {
	return named(strings.TrimSuffix(path.Base(file), path.Ext(file)))
}

// NamedFolder is Named for a folder, whose name has no extension: what follows a point in "Zyl. 2" is its number. One of
// figures and points alone is a day's, such as 3.2.
func NamedFolder(name string) (cylinder, valve int) {
	if strings.Trim(name, "0123456789.") == "" {
		return 0, 0
	}
	return named(name)
}

func named(name string) (cylinder, valve int) {
	for _, p := range usual {
		if found, ok := p.in(name); ok {
			return found.cylinder, found.valve
		}
	}
	return 0, 0
}
