// Package jpegframe reads from the markers of a JPEG (ISO/IEC 10918-1, annex B) how much work its decoding will be.
package jpegframe

import (
	"bytes"
	"encoding/binary"
)

// Frame is what the markers say.
type Frame struct {
	// Progressive is true when scans refine each other.
	Progressive bool
	// Samples are those of all components for each pixel of the picture: 1 to 3, or 4 with black.
	Samples float64
	// Scans is the number of passes over the picture.
	Scans int
}

const (
	markerSOF0, markerSOF2 = 0xc0, 0xc2
	markerSOI, markerEOI   = 0xd8, 0xd9
	markerSOS              = 0xda
)

// Read walks the markers of a file, whatever it holds between them.
func Read(data []byte) Frame {
	frame := Frame{Samples: 4} // until the frame header says less
	for at := 0; ; {
		next := bytes.IndexByte(data[at:], 0xff)
		if next < 0 || at+next+1 >= len(data) {
			return frame
		}
		at += next + 1
		marker := data[at]
		if marker == markerEOI && frame.Scans > 0 {
			return frame
		}
		if marker < markerSOF0 || marker == 0xff ||
			marker >= 0xd0 && marker <= markerEOI { // stuffing, filling, no segment
			continue
		}
		if at+3 > len(data) {
			return frame
		}
		body := data[at+1 : min(len(data), at+1+int(binary.BigEndian.Uint16(data[at+1:])))]
		switch {
		case marker == markerSOS:
			frame.Scans++
		case marker >= markerSOF0 && marker <= markerSOF2 && len(body) >= 8:
			frame.Progressive = marker == markerSOF2
			frame.Samples = samples(body)
		}
		at += 1 + len(body)
		if at >= len(data) {
			return frame
		}
	}
}

// samples counts the samples for each pixel by the sampling factors in a frame header (B.2.2).
func samples(header []byte) float64 {
	all, widest, highest := 0, 1, 1
	for at := 8; at+2 < len(header); at += 3 { // identifier, factors, table; 8 bytes before the first
		across, down := int(header[at+1]>>4), int(header[at+1]&15)
		all, widest, highest = all+across*down, max(widest, across), max(highest, down)
	}
	return float64(all) / float64(widest*highest)
}
