package region

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"valvegrade/internal/limit"
	"valvegrade/internal/yamlform"
)

// marksFile is the form of PHOTO.marks.yaml.
type marksFile struct {
	outlineForm `yaml:",inline"`
	By          string        `yaml:"by"`
	Others      []outlineForm `yaml:"others"`
	FindOthers  bool          `yaml:"find_others"`
	Painted     []strokeForm  `yaml:"painted"`
}

type outlineForm struct {
	Head *struct {
		Centre []float64 `yaml:"centre"`
		Axes   []float64 `yaml:"axes"`
		Angle  *float64  `yaml:"angle"`
	} `yaml:"head"`
	Stem *struct {
		From  []float64 `yaml:"from"`
		To    []float64 `yaml:"to"`
		Width *float64  `yaml:"width"`
	} `yaml:"stem"`
}

type strokeForm struct {
	Paint string      `yaml:"paint"`
	Width float64     `yaml:"width"`
	Path  [][]float64 `yaml:"path"`
}

// MarksSchema is the JSON Schema of what a marks file says.
//
//go:embed marks.schema.json
var MarksSchema []byte

// knownMarks says what may stand in a marks file.
const knownMarks = "head takes centre: [x, y], axes: [a, b] and angle; stem takes from: [x, y], to: [x, y] and width; " +
	"others takes a list of both, find_others true or false; painted takes strokes of paint, width and path"

// ReadMarks reads a marks file. A missing file gives an error that is fs.ErrNotExist; what cannot be read as marks
// gives an ErrMarks and names the file, without its folder, and the line.
func ReadMarks(path string) (*Marks, error) {
	data, err := limit.ReadFile(path, limit.MarksBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if err != nil {
		return nil, wrongMarks("%s: %w", filepath.Base(path), err)
	}
	m, err := ParseMarks(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return m, nil
}

// ParseMarks reads the YAML of a marks file, all lengths in pixels of the upright photo, the first pixel's centre at
// (0,0):
//
//	head:
//	  centre: [320, 250.5]
//	  axes: [180, 120]     # semi-axes
//	  angle: 12            # degrees clockwise from the x axis to the first axis
//	stem:                  # leave out when hidden
//	  from: [300, 20]      # far end
//	  to: [318, 190]       # where it meets the head
//	  width: 44
//	others:                # further valves of the photo, outlined as well
//	  - {head: {centre: [520, 250], axes: [150, 110], angle: 170}}
//	find_others: true      # further valves, on which no outline lies, as the program finds them; else there are no others
//	painted:               # over what the program says of the surface
//	  - {paint: heavy, width: 30, path: [[310, 240], [330, 260]]}  # or bare, film, medium, aside (does not count)
//	by: Ann                # who set the marks
//
// head may be left out where something is painted: the program finds the outlines then.
//
// Other keys, missing ones, numbers that cannot be and a second document are ErrMarks and begin with
// the line.
func ParseMarks(data []byte) (*Marks, error) {
	if len(data) > limit.MarksBytes {
		return nil, wrongMarks("%w", &limit.TooLarge{Most: limit.MarksBytes})
	}
	file := new(marksFile)
	tree, err := yamlform.Decode(data, file)
	switch {
	case errors.Is(err, yamlform.ErrUnknownField):
		return nil, wrongMarks("%w: %s", err, knownMarks)
	case err != nil:
		return nil, wrongMarks("%w", err)
	}
	m, at, err := file.marks()
	if err != nil {
		return nil, wrongMarks("line %d: %w", line(tree, at), err)
	}
	return m, nil
}

// marks checks the form; at is the path of the first value at fault.
func (f *marksFile) marks() (m *Marks, at string, err error) {
	painted, err := f.strokes()
	if err != nil {
		return nil, "painted", err
	}
	if f.Head == nil && f.Stem == nil && len(f.Others) == 0 && len(painted) > 0 {
		return &Marks{Painted: painted, By: f.By}, "", nil
	}
	first, at, err := f.outline("")
	if err != nil {
		return nil, at, err
	}
	if len(f.Others) > mostOthers {
		return nil, "others", fmt.Errorf("others has more than %d outlines", mostOthers)
	}
	m = &Marks{Head: first.Head, Stem: first.Stem, FindOthers: f.FindOthers, Painted: painted, By: f.By}
	for n, other := range f.Others {
		o, at, err := other.outline(fmt.Sprintf("others.%d.", n))
		if err != nil {
			return nil, at, err
		}
		m.Others = append(m.Others, o)
	}
	return m, "", nil
}

// outline checks the form, whose path ends in a dot or is "" for the document; at is the path of the first value at fault.
func (f *outlineForm) outline(path string) (o Outline, at string, err error) {
	h, s := f.Head, f.Stem
	switch {
	case h == nil:
		return o, strings.TrimSuffix(path, "."), fmt.Errorf("head is missing: %s", knownMarks)
	case len(h.Centre) != 2:
		return o, path + "head.centre", errors.New("head needs centre: [x, y]")
	case len(h.Axes) != 2:
		return o, path + "head.axes", errors.New("head needs axes: [a, b]")
	case h.Angle == nil:
		return o, path + "head.angle", errors.New("head needs an angle")
	}
	o.Head = Ellipse{h.Centre[0], h.Centre[1], h.Axes[0], h.Axes[1], *h.Angle}
	if err := o.Head.validate(); err != nil {
		return o, path + "head", fmt.Errorf("head: %w", err)
	}
	o.Head = o.Head.ordered()
	switch {
	case s == nil:
		return o, "", nil
	case len(s.From) != 2:
		return o, path + "stem.from", errors.New("stem needs from: [x, y]")
	case len(s.To) != 2:
		return o, path + "stem.to", errors.New("stem needs to: [x, y]")
	case s.Width == nil:
		return o, path + "stem.width", errors.New("stem needs a width")
	}
	o.Stem = &Line{s.From[0], s.From[1], s.To[0], s.To[1], *s.Width}
	if err := o.Stem.validate(); err != nil {
		return o, path + "stem", fmt.Errorf("stem: %w", err)
	}
	return o, "", nil
}

func (f *marksFile) strokes() ([]Stroke, error) {
	if len(f.Painted) > mostStrokes {
		return nil, fmt.Errorf("painted has more than %d strokes", mostStrokes)
	}
	points := 0
	for _, form := range f.Painted {
		points += len(form.Path)
	}
	if points > mostPainted {
		return nil, fmt.Errorf("the strokes of painted have %d points, more than %d", points, mostPainted)
	}
	var strokes []Stroke
	for n, form := range f.Painted {
		s := Stroke{Paint: Paint(form.Paint), Width: form.Width}
		for _, p := range form.Path {
			if len(p) != 2 {
				return nil, fmt.Errorf("stroke %d: a point is [x, y]", n+1)
			}
			s.Path = append(s.Path, Point{p[0], p[1]})
		}
		if err := s.validate(); err != nil {
			return nil, fmt.Errorf("stroke %d: %w", n+1, err)
		}
		strokes = append(strokes, s)
	}
	return strokes, nil
}

// line returns the line of the key at a path such as "head.axes"; for a missing key that of the key which should hold
// it.
func line(tree *yaml.Node, at string) int {
	found := 1
	for _, name := range strings.Split(at, ".") {
		var value *yaml.Node
		if n, err := strconv.Atoi(name); err == nil && tree.Kind == yaml.SequenceNode {
			value = tree.Content[n]
			found = value.Line
		}
		for i := 0; i+1 < len(tree.Content); i += 2 { // keys and values in turn
			if tree.Content[i].Value == name {
				found, value = tree.Content[i].Line, tree.Content[i+1]
			}
		}
		if value == nil {
			break
		}
		tree = value
	}
	return found
}
