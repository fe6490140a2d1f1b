package archive

import (
	"encoding/json"
	"fmt"
	"math"
	"sync"

	"github.com/klauspost/compress/zstd"

	"valvegrade/internal/limit"
	"valvegrade/pkg/score"
)

// figures are the columns of a result, nil where nothing was measured.
type figures struct {
	grade            *int
	worth, low, high *float64
	dark, due        *float64
}

// figuresOf reads the columns from a record. Dark deposit is the share of crust, medium or heavy.
func figuresOf(r *score.Record, text []byte) figures {
	if r.Status != score.Scored {
		return figures{}
	}
	f := figures{
		grade: r.Grade,
		worth: known(r.Index.Value()),
		low:   known(r.IndexLow.Value()),
		high:  known(r.IndexHigh.Value()),
	}
	if r.Shares != nil {
		shares := r.Shares.Shares()
		f.dark = known(100 * (shares.Medium + shares.Heavy))
	}
	var also struct {
		Dark, Due *float64
	}
	if json.Unmarshal(text, &also) == nil { // keys that not every version writes
		if also.Dark != nil {
			f.dark = also.Dark
		}
		f.due = also.Due
	}
	return f
}

// known is nil for NaN.
func known(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	return &v
}

// The coders are made when first used and may be used by several goroutines.
var (
	packer = sync.OnceValues(
		func() (*zstd.Encoder, error) { return zstd.NewWriter(nil, zstd.WithEncoderConcurrency(1)) },
	)
	unpacker = sync.OnceValues(func() (*zstd.Decoder, error) {
		return zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderMaxMemory(limit.SavedBytes))
	})
)

// pack compresses a record's JSON.
func pack(text []byte) ([]byte, error) {
	coder, err := packer()
	if err != nil {
		return nil, err
	}
	return coder.EncodeAll(text, nil), nil
}

// unpack reads a record as it was written.
func unpack(packed []byte) (*score.Record, error) {
	r, _, err := unpackText(packed)
	return r, err
}

// unpackText returns the record's JSON, too.
func unpackText(packed []byte) (*score.Record, []byte, error) {
	coder, err := unpacker()
	if err != nil {
		return nil, nil, err
	}
	text, err := coder.DecodeAll(packed, nil)
	if err != nil {
		return nil, nil, fmt.Errorf("a result in the archive is damaged: %w", err)
	}
	var r score.Record
	if err := json.Unmarshal(text, &r); err != nil {
		return nil, nil, fmt.Errorf("a result in the archive is damaged: %w", err)
	}
	return &r, text, nil
}
