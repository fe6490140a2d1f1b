package photo

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// This file looks into containers for the few facts that the decoders do not tell: brands, profiles, further frames.
// Every function accepts any bytes and never reads past them.

// brand is the major brand of an ISO base media file (ISO/IEC 14496-12, box "ftyp"), "" for another file.
func brand(data []byte) string {
	if len(data) < 16 || string(data[4:8]) != "ftyp" {
		return ""
	}
	return string(data[8:12])
}

// hasBrand reports whether the major brand or one of the compatible brands is among names.
func hasBrand(data []byte, names ...string) bool {
	if brand(data) == "" {
		return false
	}
	end := min(int(binary.BigEndian.Uint32(data)), len(data))
	if slices.Contains(names, brand(data)) {
		return true
	}
	for at := 16; at+4 <= end; at += 4 {
		if slices.Contains(names, string(data[at:at+4])) {
			return true
		}
	}
	return false
}

// heicProfile looks for a colour box (ISO/IEC 23008-12, "colr") that holds an ICC profile. The boxes nest, so they are
// searched, not parsed; they lie before the pixels.
func heicProfile(data []byte) bool {
	head := data[:min(len(data), 64<<10)]
	return bytes.Contains(head, []byte("colrprof")) || bytes.Contains(head, []byte("colrrICC"))
}

// jpegProfile walks the segments before the first scan (ISO/IEC 10918-1, B.1.1.4) for an APP2 segment with an ICC
// profile.
func jpegProfile(data []byte) bool {
	const sos, app2 = 0xda, 0xe2
	for at := 2; at+4 <= len(data) && data[at] == 0xff && data[at+1] != sos; {
		if data[at+1] == app2 && bytes.HasPrefix(data[at+4:], []byte("ICC_PROFILE\x00")) {
			return true
		}
		at += 2 + int(binary.BigEndian.Uint16(data[at+2:]))
	}
	return false
}

// pngChunk walks the chunks before the pixels (Portable Network Graphics, third edition, 5.3) for one of this kind:
// iCCP holds a colour profile, acTL announces an animation.
func pngChunk(kind string) func([]byte) bool {
	return func(data []byte) bool {
		for at := 8; at+8 <= len(data); {
			switch string(data[at+4 : at+8]) {
			case kind:
				return true
			case "IDAT":
				return false
			}
			at += 12 + int(binary.BigEndian.Uint32(data[at:]))
		}
		return false
	}
}

// webpFlag tests a bit of the extended header (RFC 9649, 2.7).
func webpFlag(bit byte) func([]byte) bool {
	return func(data []byte) bool {
		return len(data) > 20 && string(data[12:16]) == "VP8X" && data[20]&bit != 0
	}
}

// gifMoves reports whether a GIF (GIF89a specification, appendix B) holds a second image. Nothing is decompressed.
func gifMoves(data []byte) bool {
	if len(data) < 13 {
		return false
	}
	images := 0
	for at := 13 + gifTable(data[10]); at < len(data); {
		switch data[at] {
		case '!': // extension: introducer, label, sub-blocks
			at = gifSkip(data, at+2)
		case ',': // image: descriptor, local colour table, code size, sub-blocks
			if images++; images > 1 {
				return true
			}
			if at+10 > len(data) {
				return false
			}
			at = gifSkip(data, at+10+gifTable(data[at+9])+1)
		default: // trailer or damage
			return false
		}
	}
	return false
}

// gifTable is the length in bytes of the colour table that a packed field announces.
func gifTable(packed byte) int {
	if packed&0x80 == 0 {
		return 0
	}
	return 3 << (packed&7 + 1)
}

// gifSkip returns the position after the sub-blocks that start at at.
func gifSkip(data []byte, at int) int {
	for at < len(data) && data[at] != 0 {
		at += 1 + int(data[at])
	}
	return at + 1
}
