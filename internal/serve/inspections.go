package serve

import (
	"net/http"

	"valvegrade/pkg/inspection"
)

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
