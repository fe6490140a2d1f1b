package yamlguard

import (
	"errors"

	"github.com/goccy/go-yaml/ast"
)

// errSecond is what to say of a text with a second document: the library reads the first and passes over the others in silence.
var errSecond = errors.New("what stands from here on, below a line of --- or ..., would not be read: leave one document in the file")

// second returns the line in which a second document begins, 0 when there is none. What holds nothing is none.
func second(tree *ast.File) (line int) {
	documents := 0
	for _, document := range tree.Docs {
		if _, directive := document.Body.(*ast.DirectiveNode); directive || document.Body == nil {
			continue
		}
		if documents++; documents == 2 {
			return document.Body.GetToken().Position.Line
		}
	}
	return 0
}
