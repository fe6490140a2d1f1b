package serve

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"syscall"
	"time"

	"valvegrade/internal/limit"
	"valvegrade/pkg/bay"
	"valvegrade/pkg/inspection"
)

// api is what the page's modules ask for.
func (s *Server) api(mux *http.ServeMux) {
	mux.HandleFunc("POST /api/enter", s.enter)
	mux.HandleFunc("GET /api/bay", s.about)
	mux.HandleFunc("POST /api/inspections", s.create)
	mux.HandleFunc("GET /api/inspections/{id}/events", s.events)
	s.job(mux, "GET", "sheet", func(_ *http.Request, j *bay.Job) (any, error) { return j.Sheet(), nil })
	mux.HandleFunc("GET /api/inspections/{id}/picture/{kind}", s.picture)
	mux.HandleFunc("POST /api/inspections/{id}/photos", s.bring)

	s.job(mux, "POST", "assign", taking(func(j *bay.Job, a struct {
		Files    []string
		Cylinder int
		Valves   []int
	}) error {
		return j.Assign(a.Files, a.Cylinder, a.Valves)
	}))
	s.job(mux, "POST", "order", taking(func(j *bay.Job, a struct {
		Files []string
		Order string
		Each  int
	}) error {
		return j.AssignInOrder(a.Files, a.Order, a.Each)
	}))
	s.job(
		mux,
		"POST",
		"names",
		taking(func(j *bay.Job, a struct{ Pattern string }) error { return j.AssignByNames(a.Pattern) }),
	)
	s.job(mux, "POST", "follow", taking(func(j *bay.Job, a struct{ Each int }) error { return j.Follow(a.Each) }))
	s.job(mux, "POST", "engine", taking(func(j *bay.Job, a struct {
		Cylinders, Valves int
		Rows              [][]int
	}) error {
		return j.SetEngine(inspection.Layout{Cylinders: a.Cylinders, Valves: a.Valves}, a.Rows)
	}))
	s.job(mux, "POST", "facts", taking(func(j *bay.Job, a bay.Facts) error { return j.SetFacts(a) }))
	s.job(mux, "POST", "overrule", taking(func(j *bay.Job, a struct {
		Cylinder, Valve int
		Grade           *int
		By, Reason      string
	}) error {
		return j.Overrule(a.Cylinder, a.Valve, a.Grade, bay.Signed{By: a.By, Reason: a.Reason})
	}))
	s.job(mux, "POST", "leave-out", taking(func(j *bay.Job, a struct {
		File string
		Who  *bay.Signed
	}) error {
		return j.LeaveOut(a.File, a.Who)
	}))
	s.job(
		mux,
		"GET",
		"marks",
		func(r *http.Request, j *bay.Job) (any, error) { return j.Marks(r.URL.Query().Get("photo")) },
	)
	s.job(mux, "POST", "marks", taking(func(j *bay.Job, a struct {
		File  string
		Marks bay.Outline
	}) error {
		return j.SetMarks(a.File, a.Marks)
	}))
	s.job(mux, "POST", "report", func(r *http.Request, j *bay.Job) (any, error) {
		var order bay.Order
		if err := read(r, &order); err != nil {
			return nil, err
		}
		made, err := j.Report(r.Context(), order)
		if err != nil {
			return nil, err
		}
		name := s.papers.keep(map[string]*bay.Paper{made.Name: made})
		return map[string]string{"path": "/api/papers/" + name + "/" + url.PathEscape(made.Name)}, nil
	})
	s.job(mux, "POST", "compare", func(r *http.Request, j *bay.Job) (any, error) {
		var asked struct{ Earlier, Locale string }
		if err := read(r, &asked); err != nil {
			return nil, err
		}
		change, err := j.Compare(r.Context(), asked.Earlier, asked.Locale)
		if err != nil {
			return nil, err
		}
		return map[string]any{"change": change, "path": "/api/papers/" + s.papers.keep(change.Papers) + "/"}, nil
	})
	mux.HandleFunc("GET /api/papers/{name}/{sheet}", s.paper)
	s.job(mux, "POST", "undo", func(_ *http.Request, j *bay.Job) (any, error) {
		words, err := j.Undo()
		return map[string]string{"undone": words}, err
	})
}

// job answers a request about one inspection with JSON.
func (s *Server) job(mux *http.ServeMux, method, action string, do func(*http.Request, *bay.Job) (any, error)) {
	mux.HandleFunc(method+" /api/inspections/{id}/"+action, func(w http.ResponseWriter, r *http.Request) {
		j, err := s.bay.Job(r.PathValue("id"))
		if err != nil {
			refuse(w, err)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, jsonBytes)
		answer, err := do(r, j)
		if err != nil {
			refuse(w, err)
			return
		}
		tell(w, answer)
	})
}

// taking reads the body of a request for a function that answers nothing.
func taking[T any](do func(*bay.Job, T) error) func(*http.Request, *bay.Job) (any, error) {
	return func(r *http.Request, j *bay.Job) (any, error) {
		var asked T
		if err := read(r, &asked); err != nil {
			return nil, err
		}
		return struct{}{}, do(j, asked)
	}
}

var errJSON = errors.New("the request cannot be read")

// read takes the body of a request for what it should be, and nothing more.
func read(r *http.Request, into any) error {
	decoder := json.NewDecoder(r.Body)
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(into); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return &limit.TooLarge{Most: large.Limit}
		}
		return fmt.Errorf("%w: %w", errJSON, err)
	}
	return nil
}

func tell(w http.ResponseWriter, answer any) {
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(answer) // who went away needs no answer
}

func fail(w http.ResponseWriter, status int, words string) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]string{"error": words})
}

// refuse says why something was not done.
func refuse(w http.ResponseWriter, err error) {
	var refused *bay.Refused
	var large *limit.TooLarge
	var path *fs.PathError
	var open *inspection.FileError
	switch {
	case errors.As(err, &open) && len(open.Faults) > 0: // without the folder's path
		fail(w, http.StatusConflict, strings.Replace(err.Error(), open.Error(), inspection.File+": "+open.Faults[0].Text, 1))
	case errors.As(err, &refused):
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusUnprocessableEntity)
		_ = json.NewEncoder(w).Encode(map[string]any{"error": refused.Error(), "reason": refused.Reason})
	case errors.Is(err, bay.ErrUnknown):
		fail(w, http.StatusNotFound, err.Error())
	case errors.As(err, &large):
		fail(w, http.StatusRequestEntityTooLarge, err.Error())
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		fail(w, http.StatusInsufficientStorage, "the disk is full: nothing was changed; make room and try again")
	case errors.As(err, &path): // whose name is the shop's business
		fail(w, http.StatusInternalServerError, "the folder cannot be used: "+path.Err.Error())
	default:
		fail(w, http.StatusConflict, err.Error())
	}
}

func (s *Server) enter(w http.ResponseWriter, r *http.Request) {
	var asked struct{ Code string }
	// Anybody on the network gets here. The deadline stands until the next request: a body that never ends would else
	// hold the connection behind the answer, too.
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(s.enterTime))
	r.Body = http.MaxBytesReader(w, r.Body, 1<<10)
	if err := read(r, &asked); err != nil {
		fail(w, http.StatusBadRequest, errJSON.Error())
		return
	}
	if s.options.Sessions == nil {
		tell(w, struct{}{})
		return
	}
	// A device that is not let in yet has no sentences of its language, so that these are told in it.
	say := s.spoken(r).Say
	cookie, ok, slow := s.options.Sessions.enter(asked.Code)
	switch {
	case slow:
		fail(w, http.StatusTooManyRequests, say("too many codes were tried: wait a minute"))
	case !ok:
		fail(w, http.StatusForbidden, say("this is not the code: each lets one device in, and the terminal shows the next"))
	default:
		http.SetCookie(w, cookie)
		tell(w, struct{}{})
	}
}

func (s *Server) about(w http.ResponseWriter, r *http.Request) {
	cards, err := s.bay.Cards()
	if err != nil {
		refuse(w, err)
		return
	}
	tell(w, map[string]any{
		"name": s.bay.Name(), "version": s.bay.Version(), "locale": s.options.Locale, "inspections": cards,
		"most_cylinders": inspection.MostCylinders, "most_valves": inspection.MostValves,
		"words": catalogueOf(s.spoken(r)), "archive": s.bay.Remembers(),
	})
}

func (s *Server) create(w http.ResponseWriter, r *http.Request) {
	var asked struct{ Name string }
	r.Body = http.MaxBytesReader(w, r.Body, jsonBytes)
	if err := read(r, &asked); err != nil {
		refuse(w, err)
		return
	}
	id, err := s.bay.Create(asked.Name)
	if err != nil {
		refuse(w, err)
		return
	}
	tell(w, map[string]string{"id": id})
}

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
