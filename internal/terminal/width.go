package terminal

import (
	"io"
	"os"
	"strconv"

	"golang.org/x/term"
)

// usualWidth is that of a terminal unless one says otherwise, in columns.
const usualWidth = 80

// Width is how many columns wide lines on w may be: as wide as the terminal, or as the variable COLUMNS says.
func Width(w io.Writer) int {
	if file, ok := w.(*os.File); ok {
		if width, _, err := term.GetSize(int(file.Fd())); err == nil && width > 0 {
			return width
		}
	}
	if width, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && width > 0 {
		return width
	}
	return usualWidth
}
