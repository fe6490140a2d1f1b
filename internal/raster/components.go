package raster

import "bytes"

// Components returns the connected components of the pixels that are not 0 in a picture of that width, in the order of their first
// pixels; each lists its pixels, the first one first. Pixels that touch at a corner are connected when corners is true.
//
// OpenCV's connected components take as long on the grid of a net, and only label.
func Components(pixels []uint8, width int, corners bool) [][]int {
	// A border of zeros around spares every pixel the question whether it lies on the edge.
	wide := width + 2
	open := make([]uint8, wide*(len(pixels)/width+2))
	for y := range len(pixels) / width {
		for x, v := range pixels[y*width:][:width] {
			if v != 0 {
				open[(y+1)*wide+x+1] = 1
			}
		}
	}
	steps := []int{-wide, -1, 1, wide}
	if corners {
		steps = append(steps, -wide-1, -wide+1, wide-1, wide+1)
	}
	var found [][]int
	for start := 0; ; {
		next := bytes.IndexByte(open[start:], 1)
		if next < 0 {
			return found
		}
		start += next
		component := flood(open, start, steps)
		for k, at := range component {
			component[k] = (at/wide-1)*width + at%wide - 1
		}
		found = append(found, component)
	}
}

// flood returns the pixels that hang together with start, and closes them.
func flood(open []uint8, start int, steps []int) []int {
	open[start] = 0
	reached := []int{start}
	for next := 0; next < len(reached); next++ {
		for _, step := range steps {
			if to := reached[next] + step; open[to] != 0 {
				open[to] = 0
				reached = append(reached, to)
			}
		}
	}
	return reached
}
