package photo

import (
	"bytes"
	"encoding/binary"

	"valvegrade/internal/limit"
)

// jpegFrame is what the markers of a JPEG (ISO/IEC 10918-1, annex B) say about the work that it asks for.
type jpegFrame struct {
	progressive bool
	// samples are those of all components for each pixel of the picture: 1 to 3, or 4 with black.
	samples float64
	scans   int
}

const (
	markerSOF0, markerSOF2 = 0xc0, 0xc2
	markerSOI, markerEOI   = 0xd8, 0xd9
	markerSOS              = 0xda
)

// readJPEG walks the markers of a file, whatever it holds between them.
func readJPEG(data []byte) jpegFrame {
	frame := jpegFrame{samples: 4} // until the frame header says less
	for at := 0; ; {
		next := bytes.IndexByte(data[at:], 0xff)
		if next < 0 || at+next+1 >= len(data) {
			return frame
		}
		at += next + 1
		marker := data[at]
		if marker == markerEOI && frame.scans > 0 {
			return frame
		}
		if marker < markerSOF0 || marker == 0xff || marker >= 0xd0 && marker <= markerEOI { // stuffing, filling, no segment
			continue
		}
		if at+3 > len(data) {
			return frame
		}
		body := data[at+1 : min(len(data), at+1+int(binary.BigEndian.Uint16(data[at+1:])))]
		switch {
		case marker == markerSOS:
			frame.scans++
		case marker >= markerSOF0 && marker <= markerSOF2 && len(body) >= 8:
			frame.progressive = marker == markerSOF2
			frame.samples = samples(body)
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

// checkScans refuses a JPEG whose scans are so many that they can only be meant to keep the decoder busy.
func checkScans(data []byte) error {
	if n := readJPEG(data).scans; n > limit.PhotoScans {
		return refuse(ErrTooSlow, nil, "the JPEG has %d scans, the limit is %d", n, limit.PhotoScans)
	}
	return nil
}
