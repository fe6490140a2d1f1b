package verify

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// tolerance reports whether two different values at a path, neither an object nor a list, count as the same.
type tolerance func(path string, a, b any) bool

func exact(string, any, any) bool { return false }

// differences returns every place where a JSON text differs from what a value is written as, such as
// "cylinders[0].grade"; no text is null. Keys that only the text has are left to strange.
func differences(text json.RawMessage, value any, near tolerance) ([]string, error) {
	var a, b any
	if text != nil {
		if err := json.Unmarshal(text, &a); err != nil {
			return nil, err
		}
	}
	written, err := json.Marshal(value)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(written, &b); err != nil {
		return nil, err
	}
	return differ(nil, "", a, b, near), nil
}

// differing is differences between what two values are written as.
func differing(a, b any, near tolerance) ([]string, error) {
	text, err := json.Marshal(a)
	if err != nil {
		return nil, err
	}
	return differences(text, b, near)
}

// differ adds to places where a differs from b, which stand at path, in the order of the keys.
func differ(places []string, path string, a, b any, near tolerance) []string {
	switch b := b.(type) {
	case map[string]any:
		object, ok := a.(map[string]any)
		if !ok {
			return append(places, orAll(path))
		}
		for _, key := range slices.Sorted(maps.Keys(b)) {
			inner := key
			if path != "" {
				inner = path + "." + key
			}
			places = differ(places, inner, object[key], b[key], near)
		}
	case []any:
		list, ok := a.([]any)
		if !ok || len(list) != len(b) {
			return append(places, orAll(path))
		}
		for i, value := range b {
			places = differ(places, fmt.Sprintf("%s[%d]", path, i), list[i], value, near)
		}
	default:
		if a != b && !near(path, a, b) {
			places = append(places, orAll(path))
		}
	}
	return places
}

// orAll names the whole where the path is that of no part.
func orAll(path string) string {
	if path == "" {
		return "everything"
	}
	return path
}

// strange returns the keys that a has and b has not, at any depth that both have.
func strange(places []string, path string, a, b any) []string {
	switch b := b.(type) {
	case map[string]any:
		object, _ := a.(map[string]any)
		for _, key := range slices.Sorted(maps.Keys(object)) {
			inner := strings.TrimPrefix(path+"."+key, ".")
			if value, known := b[key]; known {
				places = strange(places, inner, object[key], value)
			} else {
				places = append(places, inner)
			}
		}
	case []any:
		list, _ := a.([]any)
		for i := range min(len(list), len(b)) {
			places = strange(places, fmt.Sprintf("%s[%d]", path, i), list[i], b[i])
		}
	}
	return places
}

// twice reports whether some object of a JSON text has a key twice: programs read the last one, people the first.
func twice(text json.RawMessage) bool {
	var read any
	if json.Unmarshal(text, &read) != nil {
		return false
	}
	once, err := json.Marshal(read)
	return err != nil || tokens(text) != tokens(once)
}

func tokens(text []byte) int {
	n, decoder := 0, json.NewDecoder(bytes.NewReader(text))
	for {
		if _, err := decoder.Token(); err != nil {
			return n
		}
		n++
	}
}
