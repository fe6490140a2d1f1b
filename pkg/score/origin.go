package score

import "encoding/json"

// telltales are keys at the top of what other commands write; a Document has none of them.
var telltales = []struct{ key, command string }{
	{"verdict", "compare"},
	{"growth_per", "trend"},
	{"raters", "agree"},
	{"cautions", "report"},
}

// origin says of a text without a list of photos where it comes from, as far as a key tells.
func origin(text []byte) string {
	var keys map[string]json.RawMessage
	_ = json.Unmarshal(text, &keys) // what is no object has no keys
	for _, t := range telltales {
		if _, found := keys[t.key]; found {
			return "valvegrade " + t.command + " wrote it"
		}
	}
	return "it has no list of photos"
}
