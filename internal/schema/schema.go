// Package schema checks the written forms against their published JSON Schemas. Tests use it; the program does not.
package schema

import (
	"bytes"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// place stands for where a schema lies. Without it the library takes the working folder, and fails where that has a
// blank in its name.
const place = "https://valvegrade.invalid/schema.json"

// Check returns nil when the JSON text keeps the JSON Schema, else what breaks it. A text or schema that is no JSON is
// an error too.
func Check(schema, text []byte) error {
	definition, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		return err
	}
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
