package store_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive/store"
)

// service speaks as much of S3's protocol as a store needs: objects by path, and lists of them.
type service struct {
	lock    sync.Mutex
	objects map[string][]byte // by /BUCKET/KEY
}

func (s *service) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if !strings.HasPrefix(r.Header.Get("Authorization"), "AWS4-HMAC-SHA256 Credential=key/") {
		w.WriteHeader(http.StatusForbidden)
		return
	}
	data, known := s.objects[r.URL.Path]
	switch {
	case r.URL.Query().Has("list-type"):
		s.list(w, r)
	case r.Method == http.MethodPut:
		body, err := unchunked(r)
		if err != nil {
			w.WriteHeader(http.StatusBadRequest)
			return
		}
		s.objects[r.URL.Path] = body
		w.Header().Set("ETag", `"1"`)
	case r.Method == http.MethodDelete:
		delete(s.objects, r.URL.Path)
		w.WriteHeader(http.StatusNoContent)
	case !known:
		w.WriteHeader(http.StatusNotFound)
		fmt.Fprint(w, "<Error><Code>NoSuchKey</Code></Error>")
	default:
		w.Header().Set("ETag", `"1"`)
		w.Header().Set("Last-Modified", time.Now().UTC().Format(http.TimeFormat))
		http.ServeContent(w, r, "", time.Now(), bytes.NewReader(data))
	}
}

// list writes the objects of a bucket below a prefix.
func (s *service) list(w http.ResponseWriter, r *http.Request) {
	type object struct {
		Key          string
		Size         int
		LastModified string
		ETag         string
	}
	answer := struct {
		XMLName     xml.Name `xml:"ListBucketResult"`
		IsTruncated bool
		Contents    []object
	}{}
	bucket := strings.TrimSuffix(r.URL.Path, "/") + "/"
	for path, data := range s.objects {
		if key, in := strings.CutPrefix(path, bucket); in && strings.HasPrefix(key, r.URL.Query().Get("prefix")) {
			answer.Contents = append(answer.Contents, object{key, len(data), "2025-01-01T00:00:00.000Z", `"1"`})
		}
	}
	_ = xml.NewEncoder(w).Encode(answer)
}

// unchunked takes the signatures out of a body that is sent in signed pieces.
func unchunked(r *http.Request) ([]byte, error) {
	if !strings.HasPrefix(r.Header.Get("X-Amz-Content-Sha256"), "STREAMING-") {
		return io.ReadAll(r.Body)
	}
	var whole bytes.Buffer
	lines := bufio.NewReader(r.Body)
	for {
		head, err := lines.ReadString('\n')
		if err != nil {
			return nil, err
		}
		digits, _, _ := strings.Cut(strings.TrimSpace(head), ";")
		size, err := strconv.ParseInt(digits, 16, 64)
		if err != nil || size == 0 {
			return whole.Bytes(), err
		}
		if _, err := io.CopyN(&whole, lines, size); err != nil {
			return nil, err
		}
		if _, err := lines.Discard(2); err != nil {
			return nil, err
		}
	}
}

// places are a folder and a bucket.
func places(t *testing.T) map[string]string {
	server := httptest.NewServer(&service{objects: map[string][]byte{}})
	t.Cleanup(server.Close)
	t.Setenv("AWS_ACCESS_KEY_ID", "key")
	t.Setenv("AWS_SECRET_ACCESS_KEY", "s3cret")
	host := strings.TrimPrefix(server.URL, "http://")
	return map[string]string{
		"folder": filepath.Join(t.TempDir(), "photos"),
		"bucket": "s3://valves/shop/one?endpoint=" + host + "&region=us-east-1&insecure=true",
	}
}

func TestWhatIsPutComesBack(t *testing.T) {
	ctx := context.Background()
	for kind, place := range places(t) {
		t.Run(kind, func(t *testing.T) {
			s, err := store.Open(place)
			require.NoError(t, err)
			_, err = s.Get(ctx, "photos/ab/abcd", 100)
			require.ErrorIs(t, err, store.ErrMissing)
			_, err = s.Size(ctx, "photos/ab/abcd")
			require.ErrorIs(t, err, store.ErrMissing)
			require.NoError(t, s.Delete(ctx, "photos/ab/abcd"), "gone already")
			data := bytes.Repeat([]byte("valve"), 20_000)
			require.NoError(t, s.Put(ctx, "photos/ab/abcd", data))
			require.NoError(t, s.Put(ctx, "photos/cd/cdef", []byte("two")))
			require.NoError(t, s.Put(ctx, "nets/cd/cdef", []byte("a net")))
			back, err := s.Get(ctx, "photos/ab/abcd", int64(len(data)))
			require.NoError(t, err)
			assert.Equal(t, data, back)
			_, err = s.Get(ctx, "photos/ab/abcd", 100)
			require.Error(t, err, "larger than was asked for")
			size, err := s.Size(ctx, "photos/cd/cdef")
			require.NoError(t, err)
			assert.EqualValues(t, 3, size)
			var keys []string
			require.NoError(t, s.Each(ctx, "photos", func(key string, _ int64) error {
				keys = append(keys, key)
				return nil
			}))
			slices.Sort(keys)
			assert.Equal(t, []string{"photos/ab/abcd", "photos/cd/cdef"}, keys)
			enough := errors.New("enough")
			require.ErrorIs(t, s.Each(ctx, "photos", func(string, int64) error { return enough }), enough)
			require.NoError(t, s.Each(ctx, "nothing", func(string, int64) error { return enough }))
			require.NoError(t, s.Delete(ctx, "photos/ab/abcd"))
			_, err = s.Get(ctx, "photos/ab/abcd", 100)
			require.ErrorIs(t, err, store.ErrMissing)
			assert.NotContains(t, s.String(), "s3cret")
		})
	}
}

func TestPlacesAreReadStrictly(t *testing.T) {
	for _, place := range []string{"ftp://x/y", "s3://", "s3://key:s3cret@bucket", "s3://bucket?endpoint=a b"} {
		_, err := store.Open(place)
		require.Error(t, err, place)
		assert.NotContains(t, err.Error(), "s3cret")
	}
}

func TestAFolderLeavesNoHalfFiles(t *testing.T) {
	dir := t.TempDir()
	s, err := store.Open(dir)
	require.NoError(t, err)
	require.NoError(
		t,
		os.MkdirAll(filepath.Join(dir, "photos", "ab", "abcd"), 0o700),
	) // a folder where the file belongs
	require.Error(t, s.Put(context.Background(), "photos/ab/abcd", []byte("x")))
	entries, err := os.ReadDir(filepath.Join(dir, "photos", "ab"))
	require.NoError(t, err)
	assert.Len(t, entries, 1)
	assert.Panics(t, func() { _, _ = s.Get(context.Background(), "../x", 1) })
}
