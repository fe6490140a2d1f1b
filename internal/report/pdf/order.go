package pdf

import (
	"bytes"
	"encoding/gob"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// inOrder makes the library write a picture as the number-th. It sorts pictures by their widths and leaves those of one
// width in the order of a map, which changes from run to run. It cuts the fraction off a width when it writes it, so a
// little more than the width orders pictures and shows nowhere. The fields are open to reading and writing only as the
// library's own gob.
func inOrder(info *fpdf.ImageInfoType, number int) error {
	stored, err := info.GobEncode()
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	var (
		data, mask, palette         []byte
		object, bits                int
		width, height, scale, dpi   float64
		colours, filter, parameters string
		transparent                 []int
	)
	fields := []any{
		&data,
		&mask,
		&object,
		&width,
		&height,
		&colours,
		&palette,
		&bits,
		&filter,
		&parameters,
		&transparent,
		&scale,
		&dpi,
	}
	decoder := gob.NewDecoder(bytes.NewReader(stored))
	for _, field := range fields {
		if err := decoder.Decode(field); err != nil {
			return fmt.Errorf("pdf: %w", err)
		}
	}
	width += float64(number) / (1 << 20)
	var changed bytes.Buffer
	encoder := gob.NewEncoder(&changed)
	for _, field := range fields {
		if err := encoder.Encode(field); err != nil {
			return fmt.Errorf("pdf: %w", err)
		}
	}
	if err := info.GobDecode(changed.Bytes()); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}
