package inspection

import (
	"go.yaml.in/yaml/v4"

	"valvegrade/internal/yamlform"
)

// form is inspection.yaml as written, each entry with its line, before anything is believed.
type form struct {
	Vehicle scalar `yaml:"vehicle"`
	Engine  struct {
		Cylinders scalar `yaml:"cylinders"`
		Valves    scalar `yaml:"valves"`
		Family    scalar `yaml:"family"`
		// Banks are the rows of a V engine, each with its cylinders from the front.
		Banks [][]scalar `yaml:"banks"`
	} `yaml:"engine"`
	Plate      scalar            `yaml:"plate"`
	VIN        scalar            `yaml:"vin"`
	Job        scalar            `yaml:"job"`
	Technician scalar            `yaml:"technician"`
	Wish       scalar            `yaml:"wish"`
	Date       scalar            `yaml:"date"`
	Odometer   scalar            `yaml:"odometer"`
	Stage      scalar            `yaml:"stage"`
	Methods    map[string]scalar `yaml:"methods"`
	Notes      scalar            `yaml:"notes"`
	Photos     []photoForm       `yaml:"photos"`
	Overruled  []overruledForm   `yaml:"overruled"`
	lines      map[string]int    // of the keys at the left margin
}

// overruledForm is a grade given by a person.
type overruledForm struct {
	Cylinder, Valve, Grade, By, Reason scalar
	line                               int
}

// UnmarshalYAML keeps the line of the entry for what is missing in it.
func (o *overruledForm) UnmarshalYAML(n *yaml.Node) error {
	var fields struct {
		Cylinder scalar `yaml:"cylinder"`
		Valve    scalar `yaml:"valve"`
		Grade    scalar `yaml:"grade"`
		By       scalar `yaml:"by"`
		Reason   scalar `yaml:"reason"`
	}
	if err := yamlform.Into(n, &fields); err != nil {
		return err
	}
	*o = overruledForm{fields.Cylinder, fields.Valve, fields.Grade, fields.By, fields.Reason, n.Line}
	return nil
}

// signedForm says who decided something, and why.
type signedForm struct {
	By     scalar `yaml:"by"`
	Reason scalar `yaml:"reason"`
}

type photoForm struct {
	File     scalar
	Cylinder scalar
	Valve    scalar
	Valves   []scalar // instead of Valve, from left to right
	LeftOut  *signedForm
	line     int
}

// UnmarshalYAML keeps the line of the entry for what is missing in it.
func (p *photoForm) UnmarshalYAML(n *yaml.Node) error {
	var fields struct {
		File     scalar      `yaml:"file"`
		Cylinder scalar      `yaml:"cylinder"`
		Valve    scalar      `yaml:"valve"`
		Valves   []scalar    `yaml:"valves"`
		LeftOut  *signedForm `yaml:"left_out"`
	}
	if err := yamlform.Into(n, &fields); err != nil {
		return err
	}
	*p = photoForm{fields.File, fields.Cylinder, fields.Valve, fields.Valves, fields.LeftOut, n.Line}
	return nil
}

// scalar is a word or number exactly as written: YAML's own reading would take 2.5 for cylinder 2 and 010 for 8.
type scalar struct {
	text string
	line int
}

// UnmarshalYAML takes the written text. It is not called for an empty entry, which stays the zero value.
func (s *scalar) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind != yaml.ScalarNode {
		return &yamlform.Fault{Line: n.Line, Words: "a single value belongs here"}
	}
	s.text, s.line = n.Value, n.Line
	return nil
}

// parseForm reads a file strictly: an unknown or repeated key is an error, and so is a second document.
func parseForm(file []byte) (*form, error) {
	var f form
	tree, err := yamlform.Decode(file, &f)
	if err != nil {
		return nil, err
	}
	f.lines = keyLines(tree)
	return &f, nil
}

// keyLines maps each key at the left margin to its line, so that an entry left empty can be pointed at.
func keyLines(tree *yaml.Node) map[string]int {
	lines := map[string]int{}
	for i := 0; i+1 < len(tree.Content); i += 2 { // keys and values in turn
		lines[tree.Content[i].Value] = tree.Content[i].Line
	}
	return lines
}
