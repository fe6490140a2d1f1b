package raster

// Flood appends to found the places of the pixels that hang together with the one at start and have its value,
// start first, and gives them another value, which must differ. width is that of the picture. Pixels that touch at
// a corner hang together when corners is true.
//
// OpenCV's connected components take as long on the grid of a net, and label a large photo in four bytes a pixel.
func Flood(found []int32, pixels []uint8, width, start int, value uint8, corners bool) []int32 {
	old := pixels[start]
	take := func(at int) {
		if at >= 0 && at < len(pixels) && pixels[at] == old {
			pixels[at] = value
			found = append(found, int32(at))
		}
	}
	next := len(found)
	take(start)
	for ; next < len(found); next++ {
		at := int(found[next])
		x := at % width
		take(at - width)
		take(at + width)
		if x > 0 {
			take(at - 1)
		}
		if x+1 < width {
			take(at + 1)
		}
		if !corners {
			continue
		}
		if x > 0 {
			take(at - width - 1)
			take(at + width - 1)
		}
		if x+1 < width {
			take(at - width + 1)
			take(at + width + 1)
		}
	}
	return found
}
