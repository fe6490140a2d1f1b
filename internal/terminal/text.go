package terminal

import (
	"strconv"
	"strings"
	"unicode"
)

// Printable returns the text as it is when a terminal can show it, else quoted: a file name with control characters must not
// move the cursor or break the table. Letters of all scripts and emoji are fine.
func Printable(text string) string {
	unsafe := func(r rune) bool { return !unicode.IsPrint(r) && r != '\u200d' && r != '\ufe0f' } // joiners inside emoji
	if strings.IndexFunc(text, unsafe) < 0 {
		return text
	}
	return strconv.Quote(text)
}
