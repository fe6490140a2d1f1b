// Package drawn makes masks for tests.
package drawn

import "image"

// Mask draws rows of digits: each is the code of a pixel, 0 to 9. All rows are as long as the first.
func Mask(rows ...string) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, len(rows[0]), len(rows)))
	for y, row := range rows {
		for x, code := range row {
			m.Pix[y*m.Stride+x] = uint8(code - '0')
		}
	}
	return m
}
