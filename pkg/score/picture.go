package score

import (
	"bufio"
	"image"
	"image/png"
	"path/filepath"

	"github.com/google/renameio/v2"
)

// Suffixes of the pictures named by a result's label.
const (
	RegionSuffix  = ".region.png"
	DepositSuffix = ".deposit.png"
	OverlaySuffix = ".overlay.png"
)

// WriteMasks writes LABEL.region.png (values of package region) and LABEL.deposit.png (values of package deposit) into dir,
// both 8-bit grey and of the photo's size. A refused photo has no masks and writes nothing.
func (r *Result) WriteMasks(dir string) error {
	if r.Status != Scored {
		return nil
	}
	if err := WritePNG(filepath.Join(dir, r.Label+RegionSuffix), r.Region.Mask); err != nil {
		return err
	}
	return WritePNG(filepath.Join(dir, r.Label+DepositSuffix), r.Deposit.Map)
}

// WritePNG writes the picture at once or not at all: never half a file, and the same pixels always give the same bytes.
func WritePNG(path string, picture image.Image) error {
	file, err := renameio.NewPendingFile(path, renameio.WithPermissions(0o644))
	if err != nil {
		return err
	}
	defer file.Cleanup()
	buffered := bufio.NewWriter(file)
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(buffered, picture); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil {
		return err
	}
	return file.CloseAtomicallyReplace()
}
