package verify

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
)

// differences returns every place where a JSON text differs from what a value is written as, such as "cylinders[0].grade"; no text is
// null. Keys that only the text has are left to a later version.
func differences(text json.RawMessage, value any) ([]string, error) {
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
	return differ(nil, "", a, b), nil
}

// differ adds to places where a differs from b, which stand at path, in the order of the keys.
func differ(places []string, path string, a, b any) []string {
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
			places = differ(places, inner, object[key], b[key])
		}
	case []any:
		list, ok := a.([]any)
		if !ok || len(list) != len(b) {
			return append(places, orAll(path))
		}
		for i, value := range b {
			places = differ(places, fmt.Sprintf("%s[%d]", path, i), list[i], value)
		}
	default:
		if a != b {
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
