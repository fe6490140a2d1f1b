package terminal

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Printable returns the text as it is when a terminal can show it, else quoted: a file name with control characters must not
// move the cursor or break the table. Letters of all scripts and emoji are fine.
func Printable(text string) string {
	joins := func(r rune) bool { return r == '\u200c' || r == '\u200d' || r == '\ufe0f' } // inside Persian words and emoji
	unsafe := func(r rune) bool { return !unicode.IsPrint(r) && !joins(r) }
	if utf8.ValidString(text) && strings.IndexFunc(text, unsafe) < 0 {
		return text
	}
	return strconv.Quote(text)
}
