package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"strconv"
	"time"

	"asfound/web/access"
	"asfound/web/api"
)

// call is one request that has passed the checks of its route.
type call struct {
	*Site
	*http.Request
	w      http.ResponseWriter
	device access.Device // of the session; zero on a public route
}

// serve checks a request as its route asks, and has it answered.
func (s *Site) serve(route Route) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		c := &call{Site: s, Request: r, w: w}
		err := c.admit(route)
		if err == nil {
			err = route.do(c)
		}
		if err == nil {
			return
		}
		before := s.Store.Damage()
		if s.Store.Notice(err); before == nil && s.Store.Damage() != nil && s.Report != nil {
			s.Report(s.Store.Damage())
		}
		c.recordRefusal(&route, err)
		if status, _ := statusOf(err); status == http.StatusInternalServerError && s.Report != nil {
			s.Report(fmt.Errorf("%s %s: %w", route.Method, route.Path, err))
		}
		fail(w, err)
	}
}

// admit holds a request to its route.
func (c *call) admit(route Route) error {
	// The body is not read before all of this holds; the server does not wait
	// for what a refused client still sends.
	c.slow(&route)
	who := c.address()
	if route.Action != Public {
		d, err := c.who()
		if err != nil {
			return err
		}
		c.device, who = d, d.ID
		if !d.Role.May(route.Action) {
			return refuse(http.StatusForbidden, "this is not for the role %s; ask the lead", d.Role)
		}
	}
	if ok, wait := c.limits[route.Rate].Allow(who, c.Now()); !ok {
		c.w.Header().Set("Retry-After", strconv.Itoa(1+int(wait/time.Second)))
		return refuse(http.StatusTooManyRequests, "too many requests; try again in %d s", 1+int(wait/time.Second))
	}
	if route.Takes == "" {
		if c.ContentLength > 0 {
			return refuse(http.StatusRequestEntityTooLarge, "no body is accepted here")
		}
		return nil
	}
	if route.Takes != Any {
		if t, _, err := mime.ParseMediaType(c.Header.Get("Content-Type")); err != nil || t != route.Takes {
			return refuse(http.StatusUnsupportedMediaType, "Content-Type %.100q; want %s", c.Header.Get("Content-Type"), route.Takes)
		}
	}
	if c.ContentLength > route.Limit {
		return refuse(http.StatusRequestEntityTooLarge, "%d bytes; at most %d are accepted here", c.ContentLength, route.Limit)
	}
	return nil
}

// who returns the device of the session.
func (c *call) who() (access.Device, error) {
	cookie, err := c.Cookie(c.cookie())
	if err != nil {
		return access.Device{}, refuse(http.StatusUnauthorized, "this device has not joined; open the link that the lead gives you")
	}
	return c.Gate.Device(c.Context(), cookie.Value)
}

// cookie returns the name of the session's cookie. Under TLS its prefix binds
// it to this host and to TLS (RFC 6265bis, 4.1.3.2).
func (s *Site) cookie() string {
	if s.Secure {
		return "__Host-asfound"
	}
	return "asfound"
}

// setSession gives the browser a session, or takes it where token is empty.
func (c *call) setSession(token string) {
	age := int(access.Life / time.Second)
	if token == "" {
		age = -1
	}
	http.SetCookie(c.w, &http.Cookie{Name: c.cookie(), Value: token, Path: "/", MaxAge: age,
		HttpOnly: true, Secure: c.Secure, SameSite: http.SameSiteStrictMode})
}

// address returns the address that a request came from, without its port.
func (c *call) address() string {
	host, _, err := net.SplitHostPort(c.RemoteAddr)
	if err != nil {
		return c.RemoteAddr
	}
	return host
}

// slowest is the rate at which a body must come, in bytes a second: a few
// thousand get through where there is any coverage at all.
const slowest = 4 << 10

// slow bounds a body in size, and ends it where it comes in too slowly.
func (c *call) slow(route *Route) {
	if c.Body == http.NoBody {
		return // net/http already watches for the client to leave, and would mistake an expired deadline for that
	}
	limited := http.MaxBytesReader(c.w, c.Body, route.Limit)
	p := &pacer{ReadCloser: limited, control: http.NewResponseController(c.w), until: time.Now().Add(c.Patience)}
	p.allow()
	c.Body = p
}

// pacer extends the deadline for the next bytes as bytes come.
type pacer struct {
	io.ReadCloser
	control *http.ResponseController
	until   time.Time // for the first byte
	read    int64
}

// Read reads, and allows time for more.
func (p *pacer) Read(b []byte) (int, error) {
	n, err := p.ReadCloser.Read(b)
	p.read += int64(n)
	if n > 0 && err == nil { // at the end net/http has removed the deadline
		p.allow()
	}
	return n, err
}

// allow sets the deadline. Only a connection has one; a recorder in tests does
// not.
func (p *pacer) allow() {
	_ = p.control.SetReadDeadline(p.until.Add(time.Duration(p.read) * time.Second / slowest))
}

// read decodes the body, which must be one JSON value and nothing else.
func (c *call) read(v any) error {
	d := json.NewDecoder(c.Body)
	if err := d.Decode(v); err != nil {
		return unreadable(err)
	}
	if _, err := d.Token(); err != io.EOF {
		return refuse(http.StatusBadRequest, "the body has more after its JSON")
	}
	return nil
}

// answer writes v as JSON.
func (c *call) answer(v any) error { return write(c.w, http.StatusOK, v) }

// patience is how long a request waits for a place.
const patience = 30 * time.Second

// work asks the engine, once one of its places is free. What the server cannot work out
// in time it refuses, before the work where that can be foreseen. The work ends as soon
// as the client leaves.
func (c *call) work(stage string, request []byte) ([]byte, error) {
	size := api.SizeOf(request)
	if err := size.TooLarge(stage); err != nil {
		return nil, err
	}
	waiting, stop := context.WithTimeout(c.Context(), patience)
	defer stop()
	leave, err := c.queue.enter(waiting, c.device.ID, size.Work(stage))
	switch {
	case c.Context().Err() != nil:
		return nil, errGone
	case err != nil:
		c.w.Header().Set("Retry-After", strconv.Itoa(int(patience/time.Second)))
		return nil, refuse(http.StatusServiceUnavailable, "the server is busy; try again in a minute")
	}
	defer leave()
	ctx, stop := context.WithTimeout(c.Context(), c.Longest)
	defer stop()
	answer, err := api.Run(ctx, stage, request)
	switch {
	case c.Context().Err() != nil:
		return nil, errGone
	case errors.Is(err, context.DeadlineExceeded):
		return nil, size.TooLong(stage, c.Longest)
	}
	return answer, err
}
