package graded

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// ErrPhotosOnly is returned for a saved result of photos that belong to no inspection.
var ErrPhotosOnly = errors.New("the result holds photos only, no inspection")

// Document is the file that scoring an inspection writes: the document of its photos (score.Document), which every reader of
// that takes, with the engine under one further key. Read back, it stands for the folder wherever figures alone are needed.
type Document struct {
	Schema int `json:"schema"`
	// Version is that of program and net.
	Version string `json:"version"`
	// Engine is described by inspection.Schema.
	Engine *inspection.Engine `json:"inspection"`
	// Photos are described by score.Schema; Photos[n] is the result of Engine.Inspection.Photos[n], and its Photo the path from
	// where the program ran.
	Photos []score.Record `json:"photos"`
}

// NewDocument joins an inspection with the document of its photos, one record for each of i.Photos and in that order.
func NewDocument(i *inspection.Inspection, photos *score.Document) (*Document, error) {
	engine, err := Engine(i, photos.Photos)
	if err != nil {
		return nil, err
	}
	return &Document{Schema: photos.Schema, Version: photos.Version, Engine: engine, Photos: photos.Photos}, nil
}

// Write writes the document as indented JSON with a final newline. Equal documents give equal bytes.
func (d *Document) Write(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(d)
}

// Read loads a document that Write wrote. The engine's figures are combined again from the photos. Errors wrap
// score.ErrDocument, inspection.ErrDocument or ErrPhotosOnly.
func Read(r io.Reader) (*Document, error) {
	var text bytes.Buffer
	photos, err := score.ReadDocument(io.TeeReader(r, &text))
	if err != nil {
		return nil, err
	}
	var saved struct {
		Inspection *json.RawMessage `json:"inspection"`
	}
	if err := json.NewDecoder(&text).Decode(&saved); err != nil {
		return nil, fmt.Errorf("%w: %w", inspection.ErrDocument, err)
	}
	if saved.Inspection == nil {
		return nil, ErrPhotosOnly
	}
	i, err := inspection.ReadDocument(*saved.Inspection)
	if err != nil {
		return nil, err
	}
	for n, p := range i.Photos {
		if n < len(photos.Photos) && !strings.HasSuffix(filepath.ToSlash(photos.Photos[n].Photo), p.File) {
			return nil, fmt.Errorf("%w: photo %d is %q, where the inspection has %q", inspection.ErrDocument, n+1, photos.Photos[n].Photo, p.File)
		}
	}
	d, err := NewDocument(i, photos)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", inspection.ErrDocument, err)
	}
	return d, nil
}
