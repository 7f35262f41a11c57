package web

import (
	"net"
	"net/http"
	"runtime"
	"strings"
	"time"

	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/app"
	"asfound/web/logbook"
)

// Site is what is served: a logbook, its access control, and the app.
type Site struct {
	Store *logbook.Store
	Gate  *access.Gate
	App   *app.App         // nil: the one that is built into this program
	Now   func() time.Time // the clock; nil: time.Now

	// Origin is the address of the site, such as https://asfound.example, with
	// which links for other phones begin; "": that of the request that asks for
	// one.
	Origin string
	// Hosts are the host names that the site answers to, without ports; none:
	// all. A site on loopback answers only to the names of loopback, so that a
	// browser cannot reach it under a name that somebody else points there.
	Hosts []string
	// Patience is how long a body may take to begin; 0: 15 s. From then on it
	// must come at some thousand bytes a second.
	Patience time.Duration
	// Longest is how long the engine works at one request; 0: api.Longest.
	Longest time.Duration
	// Secure says that the site is reached by TLS alone.
	Secure bool

	// Report gets internal errors, which the client does not; may be nil.
	Report func(error)

	files    map[string]*file
	limits   map[Rate]*access.Limiter
	refusals *access.Limiter // that are kept
	queue    *queue          // for the engine
}

// Loopback are the host names of a site on loopback.
var Loopback = []string{"localhost", "127.0.0.1", "::1"}

// Handler returns the site as a handler.
func (s *Site) Handler() (http.Handler, error) {
	if s.Now == nil {
		s.Now = time.Now
	}
	if s.Patience == 0 {
		s.Patience = 15 * time.Second
	}
	if s.Longest == 0 {
		s.Longest = api.Longest
	}
	var err error
	if s.App == nil {
		if s.App, err = app.Embedded(); err != nil {
			return nil, err
		}
	}
	if s.files, err = readFiles(s.App); err != nil {
		return nil, err
	}
	s.queue = newQueue(runtime.GOMAXPROCS(0))
	s.refusals = access.NewLimiter(refusalEvery, refusalBurst, refusalAskers)
	s.limits = map[Rate]*access.Limiter{}
	for name, r := range rates {
		s.limits[name] = access.NewLimiter(r.every, r.burst, askers)
	}
	mux := http.NewServeMux()
	for _, r := range Routes {
		mux.HandleFunc(r.Method+" "+r.Path, s.serve(r))
	}
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { s.lost(mux, w, r) })
	origin := http.NewCrossOriginProtection()
	origin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		fail(w, refuse(http.StatusForbidden, "this was asked from another site; open the page here and ask from there"))
	}))
	return s.headers(s.host(origin.Handler(mux))), nil
}

// lost answers requests without a row: another method of a path that has one,
// or an unknown path.
func (s *Site) lost(mux *http.ServeMux, w http.ResponseWriter, r *http.Request) {
	var allowed []string
	for _, m := range []string{"GET", "POST", "PUT", "DELETE"} {
		if m == r.Method {
			continue
		}
		q := r.Clone(r.Context())
		q.Method = m
		if _, pattern := mux.Handler(q); pattern != "" && pattern != "/" {
			allowed = append(allowed, m)
		}
	}
	if len(allowed) > 0 {
		w.Header().Set("Allow", strings.Join(allowed, ", "))
		fail(w, refuse(http.StatusMethodNotAllowed, "%s does not go here; %s does", r.Method, strings.Join(allowed, " or ")))
		return
	}
	fail(w, refuse(http.StatusNotFound, "there is nothing at %.100q", r.URL.Path))
}

// policy lets the page load its own files and talk to its own server.
// 'wasm-unsafe-eval' lets it compile the engine, and nothing else.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; " +
	"connect-src 'self'; worker-src 'self'; manifest-src 'self'; font-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// headers sets the headers of every answer. Source: OWASP Secure
// Headers Project; RFC 6797 for Strict-Transport-Security.
func (s *Site) headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "geolocation=(self), camera=(self), microphone=(), payment=(), usb=()")
		h.Set("Cache-Control", "no-store") // unless the handler sets another
		if s.Secure {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		next.ServeHTTP(w, r)
	})
}

// host refuses requests for other host names.
func (s *Site) host(next http.Handler) http.Handler {
	known := map[string]bool{}
	for _, h := range s.Hosts {
		known[strings.ToLower(h)] = true
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := r.Host
		if h, _, err := net.SplitHostPort(name); err == nil {
			name = h
		}
		name = strings.ToLower(strings.Trim(name, "[]"))
		if len(known) > 0 && !known[name] {
			fail(w, refuse(http.StatusMisdirectedRequest, "this site does not go by the name %.100q", r.Host))
			return
		}
		next.ServeHTTP(w, r)
	})
}

// Server returns a server of the handler with short timeouts. Bodies have their
// own, by their size: see the table.
func Server(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		WriteTimeout:      10 * time.Minute, // the largest file over a slow line
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
}
