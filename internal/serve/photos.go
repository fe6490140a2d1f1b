package serve

import (
	"errors"
	"net/http"
	"strconv"
	"time"

	"valvegrade/internal/limit"
	"valvegrade/pkg/bay"
)

// bring takes a photo: the body is the file.
func (s *Server) bring(w http.ResponseWriter, r *http.Request) {
	j, err := s.bay.Job(r.PathValue("id"))
	if err != nil {
		refuse(w, err)
		return
	}
	if !s.uploads.Allow() {
		fail(w, http.StatusTooManyRequests, "photos come too fast: wait a moment")
		return
	}
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(uploadTime))
	r.Body = http.MaxBytesReader(w, r.Body, limit.PhotoBytes)
	var taken time.Time
	if ms, err := strconv.ParseInt(r.URL.Query().Get("taken"), 10, 64); err == nil && ms > 0 {
		taken = time.UnixMilli(ms)
	}
	arrival, err := j.Bring(r.URL.Query().Get("name"), taken, r.Body)
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		err = &limit.TooLarge{Most: large.Limit}
	}
	if err != nil {
		refuse(w, err)
		return
	}
	tell(w, arrival)
}

// picture shows a photo. Its address names the state of the photo, so the browser may keep it.
func (s *Server) picture(w http.ResponseWriter, r *http.Request) {
	j, err := s.bay.Job(r.PathValue("id"))
	if err != nil {
		refuse(w, err)
		return
	}
	kind := bay.Kind(r.PathValue("kind"))
	if kind != bay.Small && kind != bay.Plain && kind != bay.Marked {
		refuse(w, bay.ErrUnknown)
		return
	}
	data, err := j.Picture(r.URL.Query().Get("photo"), kind)
	switch {
	case err != nil:
		refuse(w, err)
	case data == nil:
		refuse(w, bay.ErrUnknown)
	default:
		w.Header().Set("Content-Type", "image/jpeg")
		w.Header().Set("Cache-Control", "private, max-age=3600")
		_, _ = w.Write(data)
	}
}
