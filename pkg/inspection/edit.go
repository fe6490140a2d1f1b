package inspection

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// edit returns the old text with those entries exchanged that the form says otherwise; false when the text is not laid
// out line by line, so that it has to be written anew.
func (f *Form) edit(old []byte) ([]byte, bool) {
	before, err := ParseForm(File, old)
	if err != nil || len(old) == 0 {
		return nil, false
	}
	form, err := parseForm(old)
	if err != nil {
		return nil, false
	}
	lines := strings.Split(strings.TrimSuffix(strings.TrimPrefix(string(old), "\uFEFF"), "\n"), "\n")
	for key, line := range form.lines {
		if line < 1 || line > len(lines) || !strings.HasPrefix(lines[line-1], key+":") {
			return nil, false
		}
	}
	now, then := f.blocks(), before.blocks()
	for n := len(now) - 1; n >= 0; n-- { // from below, so that the lines above keep their numbers
		if now[n].text == then[n].text {
			continue
		}
		lines = exchange(lines, form.lines, now[n])
		again, err := parseForm([]byte(strings.Join(lines, "\n") + "\n"))
		if err != nil {
			return nil, false
		}
		form.lines = again.lines
	}
	text := strings.Join(lines, "\n") + "\n"
	return []byte(f.withoutPlaced(text)), true
}

// exchange puts the text of a block where the entry of its key stands, or at the end.
func exchange(lines []string, at map[string]int, b block) []string {
	first, known := at[b.key]
	if !known {
		if b.text == "" {
			return lines
		}
		if b.remark != "" {
			b.text = "# " + b.remark + "\n" + b.text
		}
		return append(lines, append([]string{""}, strings.Split(b.text, "\n")...)...)
	}
	end := len(lines) + 1
	for _, line := range slices.Sorted(maps.Values(at)) {
		if line > first {
			end = line
			break
		}
	}
	// Remarks and blank lines above the next entry belong to that.
	for end > first+1 && (strings.TrimSpace(lines[end-2]) == "" || strings.HasPrefix(lines[end-2], "#")) {
		end--
	}
	var text []string
	if b.text != "" {
		text = strings.Split(b.text+remarkBehind(lines[first-1], b.text), "\n")
	}
	return slices.Concat(lines[:first-1], text, lines[end-1:])
}

var remarkForm = regexp.MustCompile(`[ \t]+#`)

// remarkBehind is what stands behind a value of one line, which stays.
func remarkBehind(line, text string) string {
	at := remarkForm.FindStringIndex(line)
	if at == nil || strings.Contains(text, "\n") || strings.ContainsAny(line[:at[0]], `"'`) {
		return ""
	}
	return line[at[0]:]
}

// unplacedHead is the line above the photos that Draft leaves to be filled in.
const unplacedHead = "# The names of these do not say which valve they show: fill in and take out the #, or delete."

var unplacedEntry = regexp.MustCompile(`(?m)^#  - file: (".*")\n#    cylinder:.*\n#    valve:.*\n?`)

// withoutPlaced takes photos out of Draft's list of unplaced ones that have a place now.
func (f *Form) withoutPlaced(text string) string {
	left := 0
	text = unplacedEntry.ReplaceAllStringFunc(text, func(entry string) string {
		file := unplacedEntry.FindStringSubmatch(entry)[1]
		for _, e := range f.Photos {
			if fmt.Sprintf("%q", e.File) == file {
				return ""
			}
		}
		left++
		return entry
	})
	if left == 0 {
		text = strings.Replace(text, "\n"+unplacedHead+"\n", "", 1)
	}
	return text
}
