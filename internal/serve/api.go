package serve

import (
	"net/http"
	"net/url"

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
