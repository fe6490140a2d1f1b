package terminal

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Printable returns the text as it is when a terminal can show it, else quoted: a file name with control characters
// must not move the cursor or break the table. Letters of all scripts and emoji are fine.
func Printable(text string) string {
	if utf8.ValidString(text) && strings.IndexFunc(text, unsafe) < 0 {
		return text
	}
	return strconv.Quote(text)
}

// Escaped returns the text with everything that a terminal would obey instead of showing it written as Go writes it in
// quotes, such as \x1b: for sentences, of which only a part may come from outside.
func Escaped(text string) string {
	if utf8.ValidString(text) && strings.IndexFunc(text, unsafe) < 0 {
		return text
	}
	var safe strings.Builder
	for at := 0; at < len(text); {
		r, size := utf8.DecodeRuneInString(text[at:])
		part := text[at : at+size]
		if r == utf8.RuneError && size == 1 || unsafe(r) {
			part = strings.Trim(strconv.Quote(part), `"`)
		}
		safe.WriteString(part)
		at += size
	}
	return safe.String()
}

// unsafe reports whether a terminal may do something else than show the letter.
func unsafe(r rune) bool {
	joins := r == '\u200c' || r == '\u200d' || r == '\ufe0f' // inside Persian words and emoji
	return !unicode.IsPrint(r) && !joins
}
