package raster

import "encoding/binary"

// RunEnd returns where the run of equal values that begins at from ends. Labels come in long runs, so it looks at eight
// at once.
func RunEnd(row []uint8, from int) int {
	value, to := row[from], from+1
	eight := uint64(value) * 0x0101010101010101
	for to+8 <= len(row) && binary.LittleEndian.Uint64(row[to:]) == eight {
		to += 8
	}
	for to < len(row) && row[to] == value {
		to++
	}
	return to
}
