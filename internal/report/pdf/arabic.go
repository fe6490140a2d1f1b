package pdf

import (
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Arabic letters join, and the form of each depends on its neighbours. Unicode keeps the forms as characters of their
// own, in blocks made for systems that cannot choose glyphs, and so does the font.

// letterForms are the forms of a letter: isolated and final, and, for those that join on both sides, initial and
// medial.
type letterForms []rune

func (f letterForms) joinsNext() bool { return len(f) == 4 }

const (
	isolated = iota
	final
	initial
	medial
)

// formsOf maps each letter, or lam with alef, to its forms. In these blocks the forms of a letter follow one another in
// the order above, and their compatibility decomposition is the letter. Left out is what would break the order: alef
// maksura inside a word, 0xfbe8 and 0xfbe9, which Arabic does not have.
var formsOf = sync.OnceValue(func() map[string]letterForms {
	forms := map[string]letterForms{}
	for _, block := range [][2]rune{{0xfb50, 0xfbb1}, {0xfbd3, 0xfbe7}, {0xfbfc, 0xfbff}, {0xfe80, 0xfefc}} {
		for r := block[0]; r <= block[1]; r++ {
			letter := norm.NFKC.String(string(r))
			if letter != string(r) {
				forms[letter] = append(forms[letter], r)
			}
		}
	}
	return forms
})

// joined replaces Arabic letters by the forms that they have beside their neighbours.
func joined(text string) string {
	letters := []rune(text)
	var out []rune
	open := false // the letter before reaches out to this one
	for i := 0; i < len(letters); i++ {
		if unicode.Is(unicode.Mn, letters[i]) { // marks stand above or below and join nothing
			out = append(out, letters[i])
			continue
		}
		forms := formsOf()[string(letters[i])]
		if i+1 < len(letters) {
			if both, ok := formsOf()[string(letters[i:i+2])]; ok {
				forms = both
				i++
			}
		}
		if forms == nil {
			out = append(out, letters[i])
			open = letters[i] == '\u0640' // a drawn-out stroke joins whatever follows
			continue
		}
		onward := forms.joinsNext() && reaches(letters[i+1:])
		out = append(out, forms[formBeside(open && len(forms) > 1, onward)])
		open = forms.joinsNext()
	}
	return string(out)
}

// reaches reports whether what follows begins, marks aside, with something that joins to the letter before it.
func reaches(following []rune) bool {
	for _, r := range following {
		if !unicode.Is(unicode.Mn, r) {
			return r == '\u0640' || len(formsOf()[string(r)]) > 1
		}
	}
	return false
}

func formBeside(before, after bool) int {
	switch {
	case before && after:
		return medial
	case before:
		return final
	case after:
		return initial
	}
	return isolated
}
