// Package schema checks the written forms against their published JSON Schemas. Tests use it; the program does not.
package schema

import (
	"bytes"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// place stands for where a schema lies. Without it the library takes the working folder, and fails where that has a
// blank in its name.
const place = "https://valvegrade.invalid/schema.json"

// later begins the remark in a schema, beside the keys that an object requires, on those that it does not require because
// earlier versions of the program did not write them, separated by ", ".
const later = "also written, but not by earlier versions: "

// Check returns nil when the JSON text, of whatever version of the program, keeps the JSON Schema, else what breaks it. A
// text or schema that is no JSON is an error too.
func Check(schema, text []byte) error {
	definition, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		return err
	}
	return check(definition, text)
}

// CheckToday is Check of a text that this version wrote: it has all keys, those that earlier versions did not write, too.
func CheckToday(schema, text []byte) error {
	definition, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		return err
	}
	requireAll(definition)
	return check(definition, text)
}

// requireAll makes every object within a definition require what only earlier versions did not write.
func requireAll(definition any) {
	switch part := definition.(type) {
	case map[string]any:
		remark, _ := part["$comment"].(string)
		if keys, found := strings.CutPrefix(remark, later); found {
			required, _ := part["required"].([]any)
			for key := range strings.SplitSeq(keys, ", ") {
				required = append(required, key)
			}
			part["required"] = required
		}
		for _, inner := range part {
			requireAll(inner)
		}
	case []any:
		for _, inner := range part {
			requireAll(inner)
		}
	}
}

func check(definition any, text []byte) error {
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat() // dates are promises, too
	if err := compiler.AddResource(place, definition); err != nil {
		return err
	}
	compiled, err := compiler.Compile(place)
	if err != nil {
		return err
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return err
	}
	return compiled.Validate(document)
}
