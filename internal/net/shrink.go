package net

import "image"

// span is the run of source pixels that one target pixel covers along one axis. Weights are shares of the run and sum to 1;
// only the first and the last can be smaller than the others.
type span struct {
	first   int
	weights []float32
}

// spans divides a source axis of n pixels into m equal parts. Parts may be shorter than a pixel (m > n).
func spans(n, m int) []span {
	parts := make([]span, m)
	for i := range parts {
		// Part i is [i*n, (i+1)*n) in units of 1/m pixel, so all cuts are whole numbers and nothing is lost to rounding.
		from, to := i*n, (i+1)*n
		first, last := from/m, (to-1)/m
		weights := make([]float32, last-first+1)
		for j := range weights {
			left, right := max(from, (first+j)*m), min(to, (first+j+1)*m)
			weights[j] = float32(float64(right-left) / float64(n))
		}
		parts[i] = span{first, weights}
	}
	return parts
}

// shrink cuts img into width x height equal rectangles and calls take with each row of them: their RGB means, three values of 0
// to 255 per rectangle, good until the next call. Source pixels are squares of even colour; a cut one counts by the share
// that lies inside.
func shrink(img *image.NRGBA, width, height int, take func(y int, means []float32)) {
	sourceWidth := img.Rect.Dx()
	columns, rows := spans(sourceWidth, width), spans(img.Rect.Dy(), height)
	means := make([]float32, 3*width)
	line := make([]float32, 4*sourceWidth)
	for y, row := range rows {
		clear(line)
		for i, weight := range row.weights {
			start := (row.first + i) * img.Stride
			addRow(line, img.Pix[start:start+4*sourceWidth], weight)
		}
		for x, column := range columns {
			var r, g, b float32
			for i, weight := range column.weights {
				at := 4 * (column.first + i)
				r += weight * line[at]
				g += weight * line[at+1]
				b += weight * line[at+2]
			}
			means[3*x], means[3*x+1], means[3*x+2] = r, g, b
		}
		take(y, means)
	}
}

// addRow adds a weighted row of RGBA pixels to line; alpha is left out.
func addRow(line []float32, row []uint8, weight float32) {
	// A table turns byte to weighted float in one load, which is faster than converting each byte.
	var weighted [256]float32
	for v := range weighted {
		weighted[v] = weight * float32(v)
	}
	for i := 0; i+4 <= len(row) && i+4 <= len(line); i += 4 {
		pixel, sum := row[i:i+4:i+4], line[i:i+4:i+4]
		sum[0] += weighted[pixel[0]]
		sum[1] += weighted[pixel[1]]
		sum[2] += weighted[pixel[2]]
	}
}
