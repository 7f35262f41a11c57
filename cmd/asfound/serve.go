package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"syscall"
	"testing/fstest" // a map is a folder
	"time"

	"github.com/urfave/cli/v2"
	"golang.org/x/crypto/acme/autocert"

	"asfound/survey/folder"
	"asfound/testdata/sites"
	"asfound/web"
	"asfound/web/access"
	"asfound/web/app/build"
	"asfound/web/logbook"
)

// usualStore is the file that jobs are kept in where none is named.
const usualStore = "asfound.db"

// farewell is how long running requests may take once serve is to stop.
const farewell = 10 * time.Second

// plainHTTP is the flag that allows access from other machines without TLS.
const plainHTTP = "plain-http"

func dataFlag() cli.Flag {
	return &cli.StringFlag{Name: "data", Value: usualStore, Usage: "file that jobs are stored in, an SQLite database; created where there is none"}
}

func (s *session) serve() *cli.Command {
	return &cli.Command{
		Name:      "serve",
		Usage:     "serve the phone app and the jobs in a store",
		UsageText: "asfound serve [flags]",
		Description: `Serves the app and its programming interface until it is stopped (Ctrl-C). All
jobs are in one file, --data; a new one begins with the invented job of the demo.
On the first start it prints a link for the lead, which works only once; the lead
then invites phones from the page. Started from a clone of the repository it
first builds the phone app where that was not done yet, which needs Go.

  asfound serve                                    for this machine alone
  asfound serve --listen :443 --tls-name dig.example.com
  asfound serve --listen :8443 --tls-cert cert.pem --tls-key key.pem

Phones keep working without coverage and know where they are only over HTTPS,
so another address than this machine's asks for TLS: --tls-name gets and renews
a certificate for a public name from Let's Encrypt (port 443 must be reached from
outside; its terms are agreed to by using it), --tls-cert and --tls-key take
yours.`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "listen", Value: "127.0.0.1:8423", Usage: "address and port"},
			dataFlag(),
			&cli.StringFlag{Name: "tls-cert", Usage: "file with the certificate and its chain, PEM"},
			&cli.StringFlag{Name: "tls-key", Usage: "file with the certificate's key, PEM"},
			&cli.StringFlag{Name: "tls-name", Usage: "public host name to get a certificate for"},
			&cli.BoolFlag{Name: plainHTTP, Usage: "serve other machines without TLS, behind a proxy that does TLS"},
		},
		Action: s.runServe,
	}
}

func (s *session) runServe(c *cli.Context) error {
	if c.NArg() > 0 {
		return &usageError{"serve takes no folder; import job folders from the page", "asfound help serve"}
	}
	how, err := transportOf(c)
	if err != nil {
		return err
	}
	whole, err := build.App(c.Context, s.stderr)
	if err != nil {
		return err
	}
	store, err := logbook.Open(c.String("data"))
	if err != nil {
		return err
	}
	defer store.Close()
	if err := store.Damage(); err != nil {
		fmt.Fprintf(s.stderr, "asfound: %s: %v\n", c.String("data"), err)
	}
	site := &web.Site{App: whole, Store: store, Gate: access.New(store, time.Now), Secure: how.config != nil, Hosts: how.hosts}
	l, err := net.Listen("tcp", c.String("listen"))
	if err != nil {
		return fmt.Errorf("--listen %s: %w", c.String("listen"), err)
	}
	defer l.Close()
	address := how.address(l.Addr())
	site.Origin = how.origin
	ctx, stop := signal.NotifyContext(c.Context, syscall.SIGTERM) // how a service is stopped
	defer stop()
	if err := begin(ctx, site); err != nil {
		return err
	}
	site.Report = func(err error) { fmt.Fprintln(s.stderr, "asfound:", err) }
	handler, err := site.Handler()
	if err != nil {
		return err
	}
	token, err := site.Gate.First(ctx)
	if err != nil && !errors.Is(err, logbook.ErrDamaged) { // what is there can still be read
		return err
	}
	go nightly(ctx, site)
	says := fmt.Sprintf("asfound serves %s, jobs in %s\n", address, c.String("data"))
	if token != "" {
		says += fmt.Sprintf("\nThere is no lead yet. This link makes whoever opens it the lead. It works only once:\n\n  %s/#join=%s\n\n", address, token)
	}
	fmt.Fprint(s.stdout, says) // in one write, for a reader that waits for the link
	return stand(ctx, web.Server(handler), l, how.config)
}

// stand serves until ctx is done, then lets running requests finish.
func stand(ctx context.Context, server *http.Server, l net.Listener, config *tls.Config) error {
	if config != nil {
		l = tls.NewListener(l, config)
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	last, stop := context.WithTimeout(context.WithoutCancel(ctx), farewell)
	defer stop()
	if err := server.Shutdown(last); err != nil {
		return errors.Join(err, server.Close())
	}
	return nil
}

// nightly checks the whole store every night, until ctx is done.
func nightly(ctx context.Context, site *web.Site) {
	for {
		now := time.Now()
		night := time.Date(now.Year(), now.Month(), now.Day()+1, 3, 0, 0, 0, now.Location())
		select {
		case <-ctx.Done():
			return
		case <-time.After(time.Until(night)):
		}
		if err := site.Store.Check(ctx); err != nil && ctx.Err() == nil {
			site.Report(err)
		}
	}
}

// begin puts the demo into a store that has no job.
func begin(ctx context.Context, site *web.Site) error {
	if site.Store.Damage() != nil {
		return nil
	}
	jobs, err := site.Store.Jobs(ctx)
	if err != nil || len(jobs) > 0 {
		return err
	}
	fsys, err := fs.Sub(sites.Folders, bundled)
	if err != nil {
		return err
	}
	files := fstest.MapFS{}
	for _, name := range []string{folder.Sketch, folder.Settings, folder.Log} { // the truth is for tests
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			return err
		}
		files[name] = &fstest.MapFile{Data: text}
	}
	_, err = site.Import(ctx, files, access.Device{Name: "demo"})
	return err
}

// transport is how a site is reached.
type transport struct {
	config *tls.Config // nil: plain HTTP
	hosts  []string    // host names that it answers to; none: all
	origin string      // how its addresses begin; "": as in the request
	scheme string
}

// oldest is the oldest TLS that is spoken: every browser that runs the page has
// it, and its cipher suites are all authenticated and forward secret (RFC 8446).
const oldest = tls.VersionTLS13

// transportOf reads the flags about TLS, and refuses what would leave phones
// without their position and their offline app.
func transportOf(c *cli.Context) (*transport, error) {
	cert, key, name := c.String("tls-cert"), c.String("tls-key"), c.String("tls-name")
	host, _, err := net.SplitHostPort(c.String("listen"))
	if err != nil {
		return nil, &usageError{fmt.Sprintf("--listen %q; want an address and a port, such as 127.0.0.1:8423", c.String("listen")), ""}
	}
	switch {
	case (cert == "") != (key == ""):
		return nil, &usageError{"--tls-cert and --tls-key go together", ""}
	case cert != "" && name != "":
		return nil, &usageError{"--tls-name gets a certificate; --tls-cert brings one: want one of them", ""}
	case cert != "":
		pair, err := tls.LoadX509KeyPair(cert, key)
		if err != nil {
			return nil, fmt.Errorf("--tls-cert, --tls-key: %w", err)
		}
		return &transport{config: &tls.Config{MinVersion: oldest, NextProtos: []string{"h2", "http/1.1"}, Certificates: []tls.Certificate{pair}}, scheme: "https"}, nil
	case name != "":
		m := &autocert.Manager{Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(name), Cache: autocert.DirCache(certificates(c.String("data")))}
		config := m.TLSConfig()
		config.MinVersion = oldest
		return &transport{config: config, hosts: []string{name}, origin: "https://" + name, scheme: "https"}, nil
	case loopback(host):
		return &transport{hosts: append(slices.Clone(web.Loopback), host), scheme: "http"}, nil
	case c.Bool(plainHTTP):
		return &transport{scheme: "http"}, nil
	}
	return nil, &usageError{
		fmt.Sprintf("--listen %s is for other machines, and over plain HTTP a browser gives a page neither its position nor a way to work without coverage", c.String("listen")),
		"give --tls-name NAME, or --tls-cert and --tls-key; --" + plainHTTP + " where a proxy in front does TLS",
	}
}

// loopback reports whether a host is this machine alone.
func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// certificates is the folder that certificates are kept in, beside the store.
func certificates(data string) string {
	return filepath.Join(filepath.Dir(data), "asfound-certificates")
}

// address is the address of the site from this machine.
func (t *transport) address(a net.Addr) string {
	if t.origin != "" {
		return t.origin
	}
	host, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return t.scheme + "://" + a.String()
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = "localhost"
		if name, err := os.Hostname(); err == nil {
			host = name
		}
	}
	return t.scheme + "://" + net.JoinHostPort(host, port)
}
