package serve

import (
	"crypto/rand"
	"net/http"
	"sync"

	"valvegrade/pkg/bay"
)

// mostPapers is how many reports and comparisons are kept for those who asked for them.
const mostPapers = 12

// papers are what was made on demand: each under a name that nobody guesses, until others took its place.
type papers struct {
	lock   sync.Mutex
	order  []string
	sheets map[string]map[string]*bay.Paper
}

func newPapers() *papers { return &papers{sheets: map[string]map[string]*bay.Paper{}} }

func (p *papers) keep(sheets map[string]*bay.Paper) (name string) {
	name = rand.Text()
	p.lock.Lock()
	defer p.lock.Unlock()
	p.sheets[name], p.order = sheets, append(p.order, name)
	if len(p.order) > mostPapers {
		delete(p.sheets, p.order[0])
		p.order = p.order[1:]
	}
	return name
}

func (p *papers) find(name, sheet string) *bay.Paper {
	p.lock.Lock()
	defer p.lock.Unlock()
	return p.sheets[name][sheet]
}

// reportPolicy lets a report run its own few lines of script and load nothing; it cannot speak with the page. What it
// may do in itself it says in its own policy.
const reportPolicy = "sandbox allow-scripts allow-modals; default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; " +
	"img-src data:; frame-ancestors 'self'"

// paper shows something that was made on demand.
func (s *Server) paper(w http.ResponseWriter, r *http.Request) {
	found := s.papers.find(r.PathValue("name"), r.PathValue("sheet"))
	if found == nil {
		refuse(w, bay.ErrUnknown)
		return
	}
	w.Header().Set("Content-Type", found.Type)
	w.Header().Set("Content-Security-Policy", reportPolicy)
	way := "inline"
	if r.URL.Query().Has("download") {
		way = "attachment"
	}
	w.Header().
		Set("Content-Disposition", way+`; filename="`+ascii(found.Name)+`"; filename*=UTF-8''`+percent(found.Name))
	_, _ = w.Write(found.Content)
}

// ascii is a name with what headers do not carry replaced.
func ascii(name string) string {
	plain := []byte(name)
	for n, b := range plain {
		if b < ' ' || b > '~' || b == '"' || b == '\\' {
			plain[n] = '_'
		}
	}
	return string(plain)
}

// percent is a name as RFC 5987 has it.
func percent(name string) string {
	const hex = "0123456789ABCDEF"
	var out []byte
	for _, b := range []byte(name) {
		switch {
		case b >= 'a' && b <= 'z', b >= 'A' && b <= 'Z', b >= '0' && b <= '9', b == '-', b == '.', b == '_':
			out = append(out, b)
		default:
			out = append(out, '%', hex[b>>4], hex[b&15])
		}
	}
	return string(out)
}
