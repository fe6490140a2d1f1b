package serve

import (
	"context"
	"crypto/tls"
	"embed"
	"errors"
	"io/fs"
	"log"
	"net"
	"net/http"
	"time"

	"golang.org/x/time/rate"

	"valvegrade/pkg/bay"
)

//go:embed page
var embedded embed.FS

// Options say how a page is served.
type Options struct {
	// Sessions let in who knows the code; nil serves everybody who reaches the listener, for 127.0.0.1 only.
	Sessions *Sessions
	// Certificate is what the page is served with; nil serves it in the clear, for 127.0.0.1 only.
	Certificate *tls.Certificate
	// Locale is the BCP 47 tag by which numbers and dates are written, "en-US" when "".
	Locale string
}

// Server is the page of a bay.
type Server struct {
	bay     *bay.Bay
	options Options
	handler http.Handler
	uploads *rate.Limiter
	calls   *rate.Limiter
	streams chan struct{}
	papers  *papers
	// enterTime is how long whoever wants to be let in may take to say the code.
	enterTime time.Duration
	// ended is closed when the server goes down, so that streams of events end.
	ended chan struct{}
}

// What one server takes on: a hand's breadth more than a shop full of phones needs.
const (
	uploadsPerSecond, uploadsAtOnce = 20, MostAtOnce
	callsPerSecond, callsAtOnce     = 400, 2000
	mostStreams                     = 64
	// MostAtOnce is how many photos may come at once before they have to come more slowly.
	MostAtOnce = 200
	// jsonBytes is the largest body that is no photo.
	jsonBytes = 256 << 10
	// uploadTime is how long a photo may take to come over a slow network.
	uploadTime = 2 * time.Minute
)

// New returns a server for the bay.
func New(b *bay.Bay, o Options) *Server {
	if o.Locale == "" {
		o.Locale = "en-US"
	}
	s := &Server{
		bay: b, options: o, ended: make(chan struct{}), streams: make(chan struct{}, mostStreams), papers: newPapers(),
		uploads: rate.NewLimiter(uploadsPerSecond, uploadsAtOnce), calls: rate.NewLimiter(callsPerSecond, callsAtOnce),
		enterTime: 10 * time.Second,
	}
	mux := http.NewServeMux()
	s.pages(mux)
	s.api(mux)
	s.memory(mux)
	s.handler = s.guarded(mux)
	return s
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// Serve answers requests until the context ends, and then lets those that run come to their end.
func (s *Server) Serve(ctx context.Context, listener net.Listener) error {
	server := &http.Server{
		Handler: s, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10,
		ErrorLog: log.New(quiet{}, "", 0), // what clients do wrong is their business
	}
	if s.options.Certificate != nil {
		listener = tls.NewListener(listener, &tls.Config{
			Certificates: []tls.Certificate{
				*s.options.Certificate,
			}, MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"},
		})
	}
	down := make(chan struct{})
	stay := context.AfterFunc(ctx, func() {
		defer close(down)
		close(s.ended)
		end, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		if server.Shutdown(end) != nil {
			_ = server.Close()
		}
	})
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		stay()
		return err
	}
	<-down // Serve ends as soon as nobody else is let in
	return nil
}

type quiet struct{}

func (quiet) Write(p []byte) (int, error) { return len(p), nil }

// pages serves the page and its parts.
func (s *Server) pages(mux *http.ServeMux) {
	files, err := fs.Sub(embedded, "page")
	if err != nil {
		panic(err) // the folder is embedded
	}
	serve := http.FileServerFS(files)
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		http.ServeFileFS(w, r, files, "page.html")
	})
	mux.Handle("GET /page/", http.StripPrefix("/page", serve))
}
