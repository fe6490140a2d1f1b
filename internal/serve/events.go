package serve

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"

	"valvegrade/pkg/bay"
)

const (
	// gap is the least time between two events, longer for longer ones: while a hundred photos are read, each is not
	// worth one of its own, and a phone must be able to draw them.
	gap        = 60 * time.Millisecond
	bytesInGap = 64 << 10
	// beat is how often a word is sent though nothing changed, so that both sides notice a lost connection.
	beat = 15 * time.Second
)

// events sends the sheet of an inspection, at once and after each change.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	j, err := s.bay.Job(r.PathValue("id"))
	if err != nil {
		refuse(w, err)
		return
	}
	select {
	case s.streams <- struct{}{}:
		defer func() { <-s.streams }()
	default:
		fail(w, http.StatusTooManyRequests, "too many pages are open")
		return
	}
	changes, end := j.Listen()
	defer end()
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("X-Accel-Buffering", "no")
	beats := time.NewTicker(beat)
	defer beats.Stop()
	send := http.NewResponseController(w)
	for {
		sent, err := sendSheet(w, j)
		if err != nil || send.Flush() != nil {
			return
		}
		time.Sleep(gap * time.Duration(1+sent/bytesInGap))
	wait:
		for {
			select {
			case <-r.Context().Done():
				return
			case <-s.ended:
				return
			case <-changes:
				break wait
			case <-beats.C:
				if _, err := fmt.Fprint(w, "event: beat\ndata: 1\n\n"); err != nil || send.Flush() != nil {
					return
				}
			}
		}
	}
}

func sendSheet(w http.ResponseWriter, j *bay.Job) (sent int, err error) {
	text, err := json.Marshal(j.Sheet())
	if err != nil {
		return 0, err
	}
	return fmt.Fprintf(w, "event: sheet\ndata: %s\n\n", text)
}
