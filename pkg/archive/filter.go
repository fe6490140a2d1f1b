package archive

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Filter chooses inspections; the zero value takes all.
type Filter struct {
	conditions []condition
}

type condition struct{ column, sign, value string }

// columns are what a filter may ask for, by the words of ParseFilter.
var columns = map[string]string{
	"vehicle": "v.reference", "family": "v.family", "year": "i.year", "stage": "i.stage", "technician": "i.technician",
	"job": "i.job", "grade": "i.grade", "km": "i.km", "version": "n.name", "method": "",
}

// numeric are those of them that hold whole numbers.
var numeric = []string{"year", "grade", "km"}

// signs are how a value may be compared; the longer ones are looked for first.
var signs = []string{">=", "<=", "!=", "=", ">", "<"}

// Filters are the words that ParseFilter knows.
func Filters() []string {
	var words []string
	for word := range columns {
		words = append(words, word)
	}
	slices.Sort(words)
	return words
}

// ParseFilter reads conditions such as "year>=2024", "method=blasting" or "stage!=after"; all of them must hold.
func ParseFilter(texts []string) (Filter, error) {
	var f Filter
	for _, text := range texts {
		at := strings.IndexAny(text, "<>=!")
		if at < 0 {
			return f, fmt.Errorf("%q is no condition: write it as year>=2024 or method=blasting", text)
		}
		c := condition{column: strings.ToLower(strings.TrimSpace(text[:at]))}
		for _, sign := range signs {
			if rest, found := strings.CutPrefix(text[at:], sign); found {
				c.sign, c.value = sign, strings.TrimSpace(rest)
				break
			}
		}
		_, known := columns[c.column]
		whole := slices.Contains(numeric, c.column)
		switch _, err := strconv.ParseInt(c.value, 10, 64); {
		case !known || c.sign == "":
			return f, fmt.Errorf("%q is no condition: ask for %s", text, strings.Join(Filters(), ", "))
		case whole && err != nil:
			return f, fmt.Errorf("%s is compared with a whole number, and %q is none", c.column, c.value)
		case !whole && c.sign != "=" && c.sign != "!=":
			return f, fmt.Errorf("%s can be equal or not (= or !=), and nothing else", c.column)
		}
		f.conditions = append(f.conditions, c)
	}
	return f, nil
}

// where writes the conditions for inspection i, vehicle v and version n, with their values after those of before.
func (f Filter) where(before ...any) (text string, args []any) {
	args = before
	var all []string
	for _, c := range f.conditions {
		var value any = c.value
		if slices.Contains(numeric, c.column) {
			value, _ = strconv.ParseInt(c.value, 10, 64) // ParseFilter has tried
		}
		args = append(args, value)
		place := "$" + strconv.Itoa(len(args))
		switch {
		case c.column == "method" && c.sign == "=":
			all = append(
				all,
				"EXISTS (SELECT 1 FROM cylinder m WHERE m.inspection = i.id AND LOWER(m.method) = LOWER("+place+"))",
			)
		case c.column == "method":
			all = append(
				all,
				"NOT EXISTS (SELECT 1 FROM cylinder m WHERE m.inspection = i.id AND LOWER(m.method) = LOWER("+place+"))",
			)
		case slices.Contains(numeric, c.column):
			all = append(all, columns[c.column]+" "+c.sign+" "+place)
		default:
			all = append(all, "LOWER("+columns[c.column]+") "+c.sign+" LOWER("+place+")")
		}
	}
	if all == nil {
		return "1 = 1", args
	}
	return strings.Join(all, " AND "), args
}

// whereCleaned is where for what was cleaned c: of an engine that was cleaned in several ways only those count that are
// asked for.
func (f Filter) whereCleaned() (text string, args []any) {
	text, args = f.where()
	var asked []string
	for _, c := range f.conditions {
		if c.column == "method" && c.sign == "=" {
			args = append(args, c.value)
			asked = append(asked, "LOWER($"+strconv.Itoa(len(args))+")")
		}
	}
	if asked == nil {
		return text, args
	}
	return text + " AND c.method IN (" + strings.Join(asked, ", ") + ")", args
}

// joined are the tables beside the inspection that a filter may speak of.
var joined = []struct{ name, text string }{
	{"v", " JOIN vehicle v ON v.id = i.vehicle"},
	{"n", " LEFT JOIN version n ON n.id = i.version"},
}

// inspections are the tables that the conditions speak of, and those named besides. No others: a join for each of many
// inspections costs more than all the rest.
func (f Filter) inspections(besides ...string) string {
	text := "inspection i"
	for _, table := range joined {
		asked := func(c condition) bool { return strings.HasPrefix(columns[c.column], table.name+".") }
		if slices.Contains(besides, table.name) || slices.ContainsFunc(f.conditions, asked) {
			text += table.text
		}
	}
	return text
}

// cleanings are those tables with what was cleaned, which alone is enough where nothing is asked for.
func (f Filter) cleanings() string {
	if len(f.conditions) == 0 {
		return "cleaning c"
	}
	return f.inspections() + " JOIN cleaning c ON c.inspection = i.id"
}
