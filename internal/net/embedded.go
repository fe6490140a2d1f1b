package net

import (
	"crypto/sha256"
	_ "embed" // the net travels inside the program
	"encoding/hex"
	"sync"
)

// embedded is the trained net, written by scripts/train/export.py.
//
//go:embed valvegrade.onnx
var embedded []byte

// Default loads the net that is embedded in the program.
func Default() (*Net, error) { return New(embedded) }

// DefaultHash returns the hash of the embedded net.
func DefaultHash() string { return defaultHash() }

// defaultHash works once: to go through several MB takes a tenth as long as a photo.
var defaultHash = sync.OnceValue(func() string { return Hash(embedded) })

// Hash names a net: the first 16 hexadecimal digits of the SHA-256 of its bytes.
func Hash(onnx []byte) string {
	sum := sha256.Sum256(onnx)
	return hex.EncodeToString(sum[:8])
}
