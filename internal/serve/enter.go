package serve

import (
	"net/http"
	"time"
)

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
