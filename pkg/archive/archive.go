package archive

import (
	"cmp"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"valvegrade/internal/limit"
	"valvegrade/pkg/archive/store"
)

// Options say which archive to open. Location alone is enough for a file.
type Options struct {
	Location Location
	// Photos is where the photos lie (see store.Open); "" is a folder beside the file, and nowhere for a shared database.
	Photos string
	// Program is the version of the program, which stands in the archive as the one that is needed to read it.
	Program string
}

// Archive is an open archive. Close it after use.
type Archive struct {
	db       *sql.DB
	location Location
	photos   store.Store // nil when it is not said where they lie
	program  string
	shop     string // the login of a shared database, "" for a file
}

// ErrNoPhotos is returned where photos are needed and it was not said where they lie.
var ErrNoPhotos = errors.New("it is not said where the photos of this archive lie")

// ErrSpoilt is wrapped by errors about photos whose bytes do not match their hash any more.
var ErrSpoilt = errors.New("the photo in the store is not the one that was put there")

// Open opens an archive, and makes it, or brings its tables to the format of this program, where needed. The error is a
// *NewerError for an archive that needs a newer program.
func Open(ctx context.Context, o Options) (*Archive, error) {
	photos, beside := o.Photos, o.Photos == "" && !o.Location.Shared()
	if beside {
		photos = photosBeside(o.Location.file) // before the file is there
	}
	db, err := connect(o.Location)
	if err != nil {
		return nil, Explain(err)
	}
	a := &Archive{db: db, location: o.Location, program: cmp.Or(o.Program, "0")}
	if err := a.begin(ctx, photos); err != nil {
		db.Close()
		return nil, Explain(err)
	}
	if beside { // by which photosBeside knows it again
		if err := os.MkdirAll(photos, 0o750); err != nil {
			db.Close()
			return nil, Explain(err)
		}
	}
	return a, nil
}

func (a *Archive) begin(ctx context.Context, photos string) error {
	if err := a.prepare(ctx); err != nil {
		return err
	}
	if a.location.Shared() {
		if err := a.db.QueryRowContext(ctx, `SELECT current_user`).Scan(&a.shop); err != nil {
			return err
		}
	}
	if photos == "" {
		return nil
	}
	var err error
	a.photos, err = store.Open(photos)
	return err
}

// photosBeside is where the photos of an archive in a file lie unless another place is said: in "photos" beside that of the
// user's folder of data, in x.photos beside x.db. Archives in one folder must not share them, because each takes away what
// it has no use for. Earlier versions put those of every archive into "photos", where they stay.
func photosBeside(file string) string {
	common := filepath.Join(filepath.Dir(file), "photos")
	own := strings.TrimSuffix(file, filepath.Ext(file)) + ".photos"
	if filepath.Base(file) == fileName || !there(own) && there(file) && there(common) {
		return common
	}
	return own
}

// Close closes the database.
func (a *Archive) Close() error { return a.db.Close() }

// Location is where the archive lies.
func (a *Archive) Location() Location { return a.location }

// Hash is the key of a photo: SHA-256 of its bytes, in small hexadecimal digits.
func Hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// branch is the part of the store that a shop's photos lie in: each has its own, so that the store's own rights can
// keep them apart, too.
func branch(shop string) string {
	if shop == "" {
		return "photos"
	}
	return "shops/" + hex.EncodeToString([]byte(shop)) + "/photos"
}

// key is where a photo lies in the store.
func key(shop, hash string) string { return branch(shop) + "/" + hash[:2] + "/" + hash }

// readKey is key the other way round; the error is for a name that key does not give.
func readKey(name string) (shop, hash string, err error) {
	parts := strings.Split(name, "/")
	hash = parts[len(parts)-1]
	if len(parts) > 1 && parts[0] == "shops" {
		text, err := hex.DecodeString(parts[1])
		if err != nil {
			return "", "", fmt.Errorf("%w: %q is no photo", ErrBackup, name)
		}
		shop = string(text)
	}
	if !isHash(hash) || key(shop, hash) != name {
		return "", "", fmt.Errorf("%w: %q is no photo", ErrBackup, name)
	}
	return shop, hash, nil
}

func isHash(text string) bool {
	return len(text) == hex.EncodedLen(sha256.Size) && strings.Trim(text, "0123456789abcdef") == ""
}

// keep puts a photo into the store unless it is there, whole. One that was cut off or spoilt since is put there again.
func (a *Archive) keep(ctx context.Context, data []byte) (hash string, err error) {
	if a.photos == nil {
		return "", ErrNoPhotos
	}
	hash = Hash(data)
	there, err := a.Photo(ctx, hash)
	if err == nil && len(there) == len(data) {
		return hash, nil
	}
	if err != nil && !errors.Is(err, store.ErrMissing) && !errors.Is(err, ErrSpoilt) {
		return "", err
	}
	return hash, a.photos.Put(ctx, key(a.shop, hash), data)
}

// Photo returns the bytes of a photo of this shop, held against their hash. The error wraps ErrSpoilt,
// store.ErrMissing or ErrNoPhotos.
func (a *Archive) Photo(ctx context.Context, hash string) ([]byte, error) {
	return a.photoOf(ctx, a.shop, hash)
}

func (a *Archive) photoOf(ctx context.Context, shop, hash string) ([]byte, error) {
	if a.photos == nil {
		return nil, ErrNoPhotos
	}
	if !isHash(hash) {
		return nil, fmt.Errorf("archive: %q is no hash", hash)
	}
	data, err := a.photos.Get(ctx, key(shop, hash), limit.PhotoBytes)
	if err != nil {
		return nil, err
	}
	if Hash(data) != hash {
		return nil, fmt.Errorf("photo %.12s: %w", hash, ErrSpoilt)
	}
	return data, nil
}
