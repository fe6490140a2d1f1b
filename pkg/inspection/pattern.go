package inspection

import (
	"fmt"
	"path"
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
