package pdf

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// missing stands for a character that no face has.
const missing = '?'

// prepare makes a text from outside ready for paper: one line without control characters, letters composed and joined.
// What no face can show is replaced and added to the set.
func prepare(text string, lost map[rune]bool) string {
	return strings.Map(func(r rune) rune {
		if invisible(r) {
			return -1
		}
		if faceOf(regular, r) == nil || faceOf(bold, r) == nil {
			lost[r] = true
			return missing
		}
		return r
	}, joined(oneLine(text)))
}

// oneLine composes letters and leaves out line breaks, control characters and marks that turn the direction of writing.
func oneLine(text string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r == '\u00a0':
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r):
			return -1
		}
		return r
	}, norm.NFC.String(text))
	return strings.Join(strings.FieldsFunc(plain, func(r rune) bool { return r == ' ' }), " ")
}

// fact makes a text ready for what a viewer tells of the document. The library fails on characters beyond U+FFFF.
func fact(text string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return missing
		}
		return r
	}, oneLine(text))
}

// invisible characters only choose how their neighbours look, which is settled by now.
func invisible(r rune) bool {
	return unicode.Is(unicode.Variation_Selector, r) || unicode.Is(unicode.Join_Control, r)
}

// faceOf is the first face that has the character, nil when none has.
func faceOf(faces []*face, r rune) *face {
	for _, f := range faces {
		if f.has(r) {
			return f
		}
	}
	return nil
}

// span is a piece of a line in one face.
type span struct {
	face *face
	text string
}

// spans divides a prepared line among the faces.
func spans(line string, faces []*face) []span {
	var out []span
	for _, r := range line {
		f := faceOf(faces, r)
		if last := len(out) - 1; last >= 0 && out[last].face == f {
			out[last].text += string(r)
			continue
		}
		out = append(out, span{f, string(r)})
	}
	return out
}

// widthOf a line in units of the type size.
func widthOf(line string, faces []*face) float64 {
	width := 0.0
	for _, r := range line {
		width += faceOf(faces, r).advance(r)
	}
	return width
}

// wrap breaks a prepared text into lines of at most the given width, in units of the type size: between words, and
// within a word that is longer than a line.
func wrap(text string, faces []*face, width float64) []string {
	var lines []string
	line := ""
	for word := range strings.SplitSeq(text, " ") {
		longer := strings.TrimPrefix(line+" "+word, " ")
		if fitting(longer, faces, width) == len(longer) {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for n := fitting(line, faces, width); n < len(line); n = fitting(line, faces, width) {
			lines = append(lines, line[:n])
			line = line[n:]
		}
	}
	return append(lines, line)
}

// fitting is how many bytes of a text fit into the width, at least one character.
func fitting(text string, faces []*face, width float64) int {
	sum := 0.0
	for i, r := range text {
		if sum += faceOf(faces, r).advance(r); sum > width && i > 0 {
			return i
		}
	}
	return len(text)
}

// shorten cuts a line to the width, with an ellipsis.
func shorten(text string, faces []*face, width float64) string {
	if widthOf(text, faces) <= width {
		return text
	}
	return text[:fitting(text, faces, width-widthOf("…", faces))] + "…"
}
