package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"path"
	"strings"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

	"valvegrade/internal/limit"
)

// bucket is a store in a bucket of an S3-compatible service.
type bucket struct {
	client       *minio.Client
	name, prefix string
	host         string
}

// openBucket reads s3://BUCKET/PREFIX?endpoint=HOST&region=NAME&insecure=true; insecure leaves encryption of the line
// out, as a service on the same machine may want it.
func openBucket(place string) (Store, error) {
	u, err := url.Parse(place)
	if err != nil || u.Host == "" {
		return nil, errors.New("store: write s3://BUCKET/PREFIX?endpoint=HOST")
	}
	if u.User != nil {
		return nil, errors.New(
			"store: keys do not belong into the address: set AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY",
		)
	}
	query := u.Query()
	host := query.Get("endpoint")
	if host == "" {
		host = "s3.amazonaws.com"
	}
	client, err := minio.New(host, &minio.Options{
		Creds: credentials.NewChainCredentials(
			[]credentials.Provider{&credentials.EnvAWS{}, &credentials.FileAWSCredentials{}},
		),
		Secure: query.Get("insecure") != "true", Region: query.Get("region"),
	})
	if err != nil {
		return nil, fmt.Errorf("store: %w", err)
	}
	return &bucket{client, u.Host, strings.Trim(u.Path, "/"), host}, nil
}

func (b *bucket) Put(ctx context.Context, key string, data []byte) error {
	// The hash in the header makes the service refuse what arrives spoilt or cut off.
	_, err := b.client.PutObject(ctx, b.name, b.full(key), bytes.NewReader(data), int64(len(data)),
		minio.PutObjectOptions{SendContentMd5: true, DisableMultipart: len(data) < 64<<20})
	return b.explain(err)
}

func (b *bucket) Get(ctx context.Context, key string, most int64) ([]byte, error) {
	object, err := b.client.GetObject(ctx, b.name, b.full(key), minio.GetObjectOptions{})
	if err != nil {
		return nil, b.explain(err)
	}
	defer object.Close()
	data, err := limit.Read(object, most)
	return data, b.explain(err)
}

func (b *bucket) Size(ctx context.Context, key string) (int64, error) {
	info, err := b.client.StatObject(ctx, b.name, b.full(key), minio.StatObjectOptions{})
	return info.Size, b.explain(err)
}

func (b *bucket) Delete(ctx context.Context, key string) error {
	return b.explain(b.client.RemoveObject(ctx, b.name, b.full(key), minio.RemoveObjectOptions{}))
}

func (b *bucket) Each(ctx context.Context, prefix string, do func(key string, size int64) error) error {
	ctx, stop := context.WithCancel(ctx) // ends the listing when do objects
	defer stop()
	whole := b.full(prefix) + "/"
	for object := range b.client.ListObjects(ctx, b.name, minio.ListObjectsOptions{Prefix: whole, Recursive: true}) {
		if object.Err != nil {
			return b.explain(object.Err)
		}
		key := strings.TrimPrefix(strings.TrimPrefix(object.Key, b.prefix), "/")
		if err := do(key, object.Size); err != nil {
			return err
		}
	}
	return nil
}

func (b *bucket) String() string {
	return fmt.Sprintf("s3://%s on %s", path.Join(b.name, b.prefix), b.host)
}

func (b *bucket) full(key string) string { return path.Join(b.prefix, key) }

func (b *bucket) explain(err error) error {
	if err == nil {
		return nil
	}
	answer := minio.ToErrorResponse(err)
	if answer.StatusCode == http.StatusNotFound && answer.Code != minio.NoSuchBucket {
		return ErrMissing
	}
	return fmt.Errorf("photos in %s: %w", b, err)
}
