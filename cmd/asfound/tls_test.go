package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/urfave/cli/v2"
)

// certificate writes a certificate for localhost and its key, and returns the
// names of the files.
func certificate(t *testing.T) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	model := &x509.Certificate{SerialNumber: big.NewInt(1), DNSNames: []string{"localhost"}, NotAfter: time.Now().Add(time.Hour)}
	public, err := x509.CreateCertificate(rand.Reader, model, model, &private.PublicKey, private)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	require.NoError(t, err)
	cert, key = filepath.Join(t.TempDir(), "cert.pem"), filepath.Join(t.TempDir(), "key.pem")
	require.NoError(t, os.WriteFile(cert, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: public}), 0o600))
	require.NoError(t, os.WriteFile(key, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), 0o600))
	return cert, key
}

// TestTLS shakes hands as the flags of serve have it. TLS before 1.3 is refused,
// and so are its cipher suites. Of a certificate that is fetched only the
// configuration is looked at: nothing is fetched here.
func TestTLS(t *testing.T) {
	transported := func(args ...string) *transport {
		t.Helper()
		var how *transport
		serve := (&session{}).serve()
		serve.Action = func(c *cli.Context) (err error) { how, err = transportOf(c); return err }
		app := &cli.App{Commands: []*cli.Command{serve}}
		require.NoError(t, app.Run(append([]string{"asfound", "serve", "--listen", ":0"}, args...)))
		return how
	}
	cert, key := certificate(t)
	own := transported("--tls-cert", cert, "--tls-key", key)
	for _, tt := range []struct {
		name   string
		newest uint16
		ok     bool
	}{{"1.1", tls.VersionTLS11, false}, {"1.2", tls.VersionTLS12, false}, {"1.3", tls.VersionTLS13, true}} {
		t.Run(tt.name, func(t *testing.T) {
			here, there := net.Pipe()
			defer here.Close()
			served := tls.Server(there, own.config)
			go func() { _ = served.Handshake(); _ = there.Close() }()
			client := tls.Client(here, &tls.Config{ServerName: "localhost", InsecureSkipVerify: true, MinVersion: tls.VersionTLS10, MaxVersion: tt.newest})
			assert.Equal(t, tt.ok, client.Handshake() == nil)
		})
	}
	assert.Equal(t, "https", own.scheme)
	fetched := transported("--tls-name", "dig.example.com")
	assert.Equal(t, uint16(tls.VersionTLS13), fetched.config.MinVersion)
	assert.Equal(t, []string{"dig.example.com"}, fetched.hosts)
}
