package serve

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"valvegrade/pkg/bay"
)

// patienceForArchive is how long a question to the archive may take: a database that is gone must not keep a page
// waiting.
const patienceForArchive = 20 * time.Second

// memory is what the page asks of the shop's archive. What it sees is what the archive shows to the login that the
// program runs with.
func (s *Server) memory(mux *http.ServeMux) {
	s.recall(mux, "GET /api/archive/find", func(ctx context.Context, r *http.Request) (any, error) {
		return s.bay.Find(ctx, r.URL.Query().Get("text"))
	})
	s.recall(mux, "GET /api/archive/statistics", func(ctx context.Context, r *http.Request) (any, error) {
		return s.bay.Statistics(ctx, r.URL.Query()["where"])
	})
	s.recall(mux, "GET /api/archive/vehicles/{id}", func(ctx context.Context, r *http.Request) (any, error) {
		id, err := number(r)
		if err != nil {
			return nil, err
		}
		v, err := s.bay.Vehicle(ctx, id, r.URL.Query().Get("locale"))
		if err != nil {
			return nil, err
		}
		return map[string]any{"vehicle": v, "path": "/api/papers/" + s.papers.keep(v.Papers) + "/"}, nil
	})
	s.recall(mux, "POST /api/archive/vehicles/{id}/begin", func(ctx context.Context, r *http.Request) (any, error) {
		id, err := number(r)
		if err != nil {
			return nil, err
		}
		var asked struct{ Name string }
		if err := read(r, &asked); err != nil {
			return nil, err
		}
		begun, err := s.bay.Resume(ctx, id, asked.Name)
		return map[string]string{"id": begun}, err
	})
	s.recall(mux, "GET /api/archive/inspections/{id}", func(ctx context.Context, r *http.Request) (any, error) {
		id, err := number(r)
		if err != nil {
			return nil, err
		}
		return s.bay.Visit(ctx, id)
	})
	mux.HandleFunc("GET /api/archive/photos/{hash}", s.remembered)
	s.job(mux, "GET", "last", func(r *http.Request, j *bay.Job) (any, error) {
		ctx, end := context.WithTimeout(r.Context(), patienceForArchive)
		defer end()
		last, err := j.Last(ctx)
		return map[string]any{"visit": last}, err
	})
	s.job(mux, "POST", "keep", func(r *http.Request, j *bay.Job) (any, error) {
		outcome, err := j.Keep(r.Context())
		return map[string]any{"outcome": outcome}, err
	})
}

func number(r *http.Request) (int64, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return 0, bay.ErrUnknown
	}
	return id, nil
}

// recall answers a question to the archive with JSON.
func (s *Server) recall(mux *http.ServeMux, route string, do func(context.Context, *http.Request) (any, error)) {
	mux.HandleFunc(route, func(w http.ResponseWriter, r *http.Request) {
		ctx, end := context.WithTimeout(r.Context(), patienceForArchive)
		defer end()
		r.Body = http.MaxBytesReader(w, r.Body, jsonBytes)
		answer, err := do(ctx, r)
		if err != nil {
			refuse(w, err)
			return
		}
		tell(w, answer)
	})
}

// remembered shows a photo of the archive. Its hash is its address, so the browser may keep it.
func (s *Server) remembered(w http.ResponseWriter, r *http.Request) {
	ctx, end := context.WithTimeout(r.Context(), patienceForArchive)
	defer end()
	data, err := s.bay.Remembered(ctx, r.PathValue("hash"))
	if err != nil {
		refuse(w, err)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=86400, immutable")
	_, _ = w.Write(data)
}
