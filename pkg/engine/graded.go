package engine

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/internal/plainjson"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// ErrPhotosOnly is returned for a saved result of photos that belong to no inspection.
var ErrPhotosOnly = errors.New("the result holds photos only, no inspection")

// Graded is an inspection with the results of its photos. Written, it is the document of the photos (score.Document),
// which every reader of that takes, with the engine under one further key; read back, it stands for the folder wherever
// figures alone are needed.
type Graded struct {
	Schema int `json:"schema"`
	// Version is that of program and net.
	Version string `json:"version"`
	// Engine is described by Schema.
	Engine *Engine `json:"inspection"`
	// Photos are described by score.Schema; Photos[n] is the result of the valve for which Engine.Inspection.Photos[n]
	// is listed, and its Photo the path from where the program ran.
	Photos []score.Record `json:"photos"`
}

// Grade scores the photos of an inspection and brings them together. each, when not nil, is called with every valve's
// result in the order of the photos, one call at a time. The error is the context's, or why the photos could not be
// scored at all.
func Grade(
	ctx context.Context, i *inspection.Inspection, o score.BatchOptions, each func(*score.Result),
) (*Graded, error) {
	photos := score.NewDocument(o.Version())
	err := score.Batch(ctx, i.Paths(), o, func(r *score.Result) error {
		photos.Photos = append(photos.Photos, r.Record())
		if each != nil {
			each(r)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return Of(i, photos)
}

// Of brings the results of an inspection's photos together: those of all valves in them, as a batch over i.Paths gives
// them. See Listed for which of them count.
func Of(i *inspection.Inspection, photos *score.Document) (*Graded, error) {
	records, err := assign(i, photos.Photos)
	if err != nil {
		return nil, err
	}
	listed := *photos
	listed.Photos = records
	return Together(i, &listed)
}

// Together is Of for exactly one record for each of i.Photos, in that order.
func Together(i *inspection.Inspection, photos *score.Document) (*Graded, error) {
	if len(photos.Photos) != len(i.Photos) {
		return nil, fmt.Errorf("engine: %d results for %d photos", len(photos.Photos), len(i.Photos))
	}
	shots := make([]Shot, len(i.Photos))
	for n, photo := range i.Photos {
		shots[n] = ShotOf(photo, &photos.Photos[n])
	}
	engine, err := Combine(i, shots)
	if err != nil {
		return nil, err
	}
	return &Graded{Schema: photos.Schema, Version: photos.Version, Engine: engine, Photos: photos.Photos}, nil
}

// Below returns a copy whose photos are named by their files as the inspection lists them, behind a prefix such as
// "may/": where its folder lies is nobody's business on a page or in a report.
func (g *Graded) Below(prefix string) *Graded {
	named := *g
	named.Photos = slices.Clone(g.Photos)
	for n, p := range g.Engine.Inspection.Photos {
		named.Photos[n].Photo = prefix + p.File
	}
	return &named
}

// Write writes the document as indented JSON with a final newline. Equal documents give equal bytes.
func (g *Graded) Write(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(g)
}

// Read loads a document that Write wrote. The engine's figures are combined again from the photos. Errors wrap
// score.ErrDocument, ErrDocument or ErrPhotosOnly.
func Read(r io.Reader) (*Graded, error) {
	text, err := plainjson.Read(r)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", score.ErrDocument, err)
	}
	photos, err := score.ReadDocument(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	var saved struct {
		Inspection *json.RawMessage `json:"inspection"`
	}
	if err := json.Unmarshal(text, &saved); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDocument, err)
	}
	if saved.Inspection == nil {
		return nil, ErrPhotosOnly
	}
	i, err := readFacts(*saved.Inspection)
	if err != nil {
		return nil, err
	}
	for n, p := range i.Photos {
		if n < len(photos.Photos) && !strings.HasSuffix(filepath.ToSlash(photos.Photos[n].Photo), p.File) {
			return nil, fmt.Errorf("%w: photo %d is %q, where the inspection has %q",
				ErrDocument, n+1, photos.Photos[n].Photo, p.File)
		}
	}
	g, err := Together(i, photos)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDocument, err)
	}
	return g, nil
}
