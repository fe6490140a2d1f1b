// Package store keeps photos by the hash of their bytes: in a folder, or in a bucket of an S3-compatible service.
//
// What is stored once is never changed. Whoever reads must hold the bytes against the hash: a disk or a hand may have
// spoilt them.
package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
)

// ErrMissing is returned for what is not in the store, ErrFull is wrapped where there is no room for more.
var (
	ErrMissing = errors.New("not in the store")
	ErrFull    = errors.New("no room is left for photos")
)

// Store keeps blobs under keys such as "photos/ab/abcd...". Several programs may use one at the same time.
type Store interface {
	// Put stores a blob, whole or not at all; it is on the disk when Put returns. One under the same key is replaced.
	Put(ctx context.Context, key string, data []byte) error
	// Get reads a blob of at most so many bytes; the error for none wraps ErrMissing.
	Get(ctx context.Context, key string, most int64) ([]byte, error)
	// Size returns a blob's size in bytes; the error for none wraps ErrMissing.
	Size(ctx context.Context, key string) (int64, error)
	// Delete removes a blob; one that is not there is no error.
	Delete(ctx context.Context, key string) error
	// Each calls do with every key that begins with prefix, and the blob's size, until do returns an error.
	Each(ctx context.Context, prefix string, do func(key string, size int64) error) error
	// String is where it lies, without secrets.
	String() string
}

// Open opens a folder by its path, or a bucket by a URL: s3://BUCKET/PREFIX?endpoint=HOST&region=NAME, with the keys in
// the environment (AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY). A folder is made by the first Put.
func Open(place string) (Store, error) {
	scheme, _, isURL := strings.Cut(place, "://")
	switch {
	case !isURL:
		return Folder(place), nil
	case scheme == "s3":
		return openBucket(place)
	}
	return nil, fmt.Errorf("store: %s:// is no place that photos can lie in; a folder is, and s3://", scheme)
}
