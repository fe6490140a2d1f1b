package chart

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"io"
	"slices"
)

// afterHeader is where the first chunk after the header of a PNG begins: behind 8 bytes of signature and IHDR, which
// has 13 bytes of data (PNG, third edition, 5.2, 5.3 and 11.2.1).
const afterHeader = 8 + 12 + 13

// mark is a chunk that says which program drew a picture, by the keyword that PNG has for it (11.3.3.2).
var mark = func() []byte {
	text := []byte("tEXtSoftware\x00valvegrade")
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(text)-len("tEXt")))
	return binary.BigEndian.AppendUint32(append(chunk, text...), crc32.ChecksumIEEE(text))
}()

// marked is a PNG with the mark behind its header.
func marked(picture []byte) []byte { return slices.Insert(picture, afterHeader, mark...) }

// IsMarked reports whether r is a PNG as Write wrote it, by its mark: any other program that saves the picture again
// leaves it out or says it elsewhere.
func IsMarked(r io.Reader) bool {
	head := make([]byte, afterHeader+len(mark))
	_, err := io.ReadFull(r, head)
	return err == nil && bytes.HasPrefix(head, []byte("\x89PNG\r\n\x1a\n")) && bytes.HasSuffix(head, mark)
}
