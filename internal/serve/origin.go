package serve

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"slices"
	"strings"
)

// policy is what the page may load and do: its own files, and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; " +
	"manifest-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"

var headers = map[string]string{
	"Content-Security-Policy":      policy,
	"X-Content-Type-Options":       "nosniff",
	"Referrer-Policy":              "no-referrer",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Permissions-Policy":           "camera=(), microphone=(), geolocation=()", // photos come from the phone's own camera program
	"Cache-Control":                "no-store",
}

var errOrigin = errors.New("another site's page cannot use this one")

// guarded lets in who may come in.
func (s *Server) guarded(next http.Handler) http.Handler {
	crossing := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		defer tellFailure(w)
		switch {
		case !s.calls.Allow():
			fail(w, http.StatusTooManyRequests, "too many requests: wait a moment")
		case !s.ownHost(r.Host):
			fail(w, http.StatusMisdirectedRequest, "the page is not known under the name "+quoted(r.Host))
		case crossing.Check(r) != nil || foreign(r):
			fail(w, http.StatusForbidden, errOrigin.Error())
		case !s.welcome(r):
			fail(w, http.StatusUnauthorized, "type the code that the terminal shows")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// tellFailure answers with a mistake of the program, which would else end the connection without a word.
func tellFailure(w http.ResponseWriter) {
	if failure := recover(); failure != nil {
		fail(w, http.StatusInternalServerError, fmt.Sprintf("the program failed: %v; what was decided until then is kept", failure))
	}
}

// foreign reports whether another site's page asks, even if only to look: browsers say so. Following a link to the page
// itself is fine.
func foreign(r *http.Request) bool {
	site := r.Header.Get("Sec-Fetch-Site")
	return (site == "cross-site" || site == "same-site") &&
		(r.URL.Path != "/" || r.Header.Get("Sec-Fetch-Mode") != "navigate")
}

// ownHost reports whether a request was meant for this machine: a site's name that was made to lead here is none of
// ours.
func (s *Server) ownHost(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	name = strings.ToLower(strings.Trim(name, "[]"))
	ip := net.ParseIP(name)
	if name == "localhost" || ip.IsLoopback() {
		return true
	}
	if s.options.Sessions == nil {
		return false
	}
	own, _ := os.Hostname()
	own = strings.ToLower(own)
	return ip != nil || own != "" && slices.Contains([]string{own, own + ".local"}, name)
}

// welcome reports whether the request may be answered: the page itself tells nothing and asks for the code.
func (s *Server) welcome(r *http.Request) bool {
	open := r.URL.Path == "/" || strings.HasPrefix(r.URL.Path, "/page/") || r.URL.Path == "/api/enter"
	return open || s.options.Sessions == nil || s.options.Sessions.known(r)
}

func quoted(text string) string {
	return "“" + strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, text[:min(len(text), 80)]) + "”"
}
