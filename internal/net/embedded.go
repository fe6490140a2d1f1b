package net

import (
	"crypto/sha256"
	_ "embed" // the nets travel inside the program
	"encoding/hex"
	"sync"
)

// The trained nets, written by scripts/train/export.py.
var (
	//go:embed finder.onnx
	finderFile []byte
	//go:embed reader.onnx
	readerFile []byte

	embedded = [kinds][]byte{finder: finderFile, reader: readerFile}
)

// HashOf names the nets that New would load for these files: the first 16 hexadecimal digits of the SHA-256 of the
// finder's and the reader's bytes, one after the other. Files that New would refuse give its error.
func HashOf(files ...[]byte) (string, error) {
	if len(files) == 0 {
		return defaultHash(), nil
	}
	e := Eyes{}
	defer e.Close()
	chosen := embedded
	for _, file := range files {
		kind, err := e.take(file)
		if err != nil {
			return "", err
		}
		chosen[kind] = file
	}
	return hash(chosen), nil
}

// defaultHash works once: to go through several MB takes a tenth as long as a photo.
var defaultHash = sync.OnceValue(func() string { return hash(embedded) })

func hash(nets [kinds][]byte) string {
	sum := sha256.New()
	for _, net := range nets {
		sum.Write(net)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}
