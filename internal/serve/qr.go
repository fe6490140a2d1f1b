package serve

import (
	"strings"

	"rsc.io/qr"
)

// quiet zone of a QR code in modules, as ISO/IEC 18004 asks for.
const margin = 4

// QR draws a text as a QR code for a terminal, two modules to a letter, dark on light whatever the terminal's colours.
func QR(text string) (string, error) {
	code, err := qr.Encode(text, qr.L)
	if err != nil {
		return "", err
	}
	blocks := map[[2]bool]string{{false, false}: " ", {true, false}: "▀", {false, true}: "▄", {true, true}: "█"}
	var drawn strings.Builder
	for y := -margin; y < code.Size+margin; y += 2 {
		drawn.WriteString("\x1b[30;107m")
		for x := -margin; x < code.Size+margin; x++ {
			drawn.WriteString(blocks[[2]bool{code.Black(x, y), code.Black(x, y+1)}])
		}
		drawn.WriteString("\x1b[0m\n")
	}
	return drawn.String(), nil
}
