package yamlform

import (
	"fmt"

	"go.yaml.in/yaml/v4"

	"valvegrade/internal/limit"
)

// measured returns a *Fault for a tree that is larger than any form, before it is made one: the library compares each
// key of a mapping with every other.
func measured(tree *yaml.Node) error {
	parts := 0
	var walk func(node *yaml.Node, depth int) error
	walk = func(node *yaml.Node, depth int) error {
		parts++
		switch {
		case depth > limit.FormDepth:
			return &Fault{node.Line, fmt.Sprintf("this lies more than %d levels deep", limit.FormDepth), nil}
		case parts > limit.FormParts:
			return &Fault{node.Line, "the file holds more than thousands of photos would", nil}
		case node.Kind == yaml.MappingNode && len(node.Content) > 2*limit.FormEntries:
			return &Fault{node.Line, fmt.Sprintf("more than %d entries stand here", limit.FormEntries), nil}
		}
		for _, part := range node.Content {
			if err := walk(part, depth+1); err != nil {
				return err
			}
		}
		return nil
	}
	return walk(tree, 1)
}
