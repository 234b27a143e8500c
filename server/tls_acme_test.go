package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"log"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/letsencrypt/challtestsrv"
	"github.com/letsencrypt/pebble/v2/ca"
	"github.com/letsencrypt/pebble/v2/db"
	"github.com/letsencrypt/pebble/v2/va"
	"github.com/letsencrypt/pebble/v2/wfe"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The ACME authority of these tests is Pebble, the test server that Let's Encrypt keeps for
// clients of RFC 8555. It checks that who asks answers at the name's ports 443 and 80, which
// here are ports of this machine; the name service of the tests leads every name there.

// acmeAuthority is a running Pebble.
type acmeAuthority struct {
	directory string
	server    *httptest.Server
	roots     *x509.CertPool
	logged    func() string
}

// startACME starts one that looks for whom it checks at the given ports.
func startACME(t *testing.T, httpPort, tlsPort int) *acmeAuthority {
	t.Helper()
	t.Setenv("PEBBLE_VA_NOSLEEP", "1")
	var lines lockedBuffer
	logger := log.New(&lines, "", 0)
	nameServer := freePort(t)
	names, err := challtestsrv.New(challtestsrv.Config{Log: logger, DNSAddrs: []string{nameServer}})
	require.NoError(t, err)
	names.SetDefaultDNSIPv4("127.0.0.1")
	names.SetDefaultDNSIPv6("")
	go names.Run()
	t.Cleanup(names.Shutdown)
	asks := net.Resolver{PreferGo: true, Dial: func(ctx context.Context, network, _ string) (net.Conn, error) {
		return (&net.Dialer{}).DialContext(ctx, network, nameServer)
	}}
	require.Eventually(t, func() bool {
		_, err := asks.LookupHost(context.Background(), "ledge.example")
		return err == nil
	}, patience, 10*time.Millisecond, "the name service has begun")

	store := db.NewMemoryStore()
	issuer := ca.New(logger, store, "", "ecdsa", 0, 1, map[string]ca.Profile{"default": {}})
	front := wfe.New(logger, store, va.New(logger, httpPort, tlsPort, true, nameServer, store), issuer, []string{"acme.example"}, true, false, 1, 1)
	server := httptest.NewTLSServer(front.Handler())
	t.Cleanup(server.Close)
	roots := x509.NewCertPool()
	require.True(t, roots.AppendCertsFromPEM(issuer.GetRootCert(0).PEM()))
	return &acmeAuthority{server.URL + wfe.DirectoryPath, server, roots, lines.String}
}

// lockedBuffer is a log that many write to.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// freePort gives an address of this machine where nothing listens.
func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().String()
}

func port(addr net.Addr) int { return addr.(*net.TCPAddr).Port }

// acmeServer serves with the flags of ACME until stop, and says what a client that trusts the
// authority's root is shown.
type acmeServer struct {
	t    *testing.T
	addr net.Addr
	log  lockedBuffer
	stop func()
}

func serveACME(t *testing.T, listener net.Listener, data string, authority *acmeAuthority, acmeHTTP string) *acmeServer {
	t.Helper()
	s := &acmeServer{t: t, addr: listener.Addr()}
	r := &reach{data: data, acme: "jo@ledge.example", url: "https://ledge.example", directory: authority.directory, acmeHTTP: acmeHTTP, client: authority.server.Client()}
	require.NoError(t, r.settle(""))
	site, err := r.site(s.addr)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	connections, err := r.connections(ctx, lingering{listener}, site, slog.New(slog.NewTextHandler(&s.log, nil)))
	require.NoError(t, err)
	served := make(chan error, 1)
	server := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, "the app") })}
	go func() { served <- server.Serve(connections) }()
	s.stop = sync.OnceFunc(func() {
		cancel()
		assert.NoError(t, server.Close())
		assert.ErrorIs(t, <-served, http.ErrServerClosed)
	})
	t.Cleanup(s.stop)
	return s
}

// shown is the certificate in a handshake with the server.
func (s *acmeServer) shown(roots *x509.CertPool, name string) (*x509.Certificate, error) {
	c, err := tls.Dial("tcp", s.addr.String(), &tls.Config{RootCAs: roots, ServerName: name})
	if err != nil {
		return nil, err
	}
	defer c.Close()
	return c.ConnectionState().PeerCertificates[0], nil
}

// await waits for the first certificate.
func (s *acmeServer) await(a *acmeAuthority) *x509.Certificate {
	s.t.Helper()
	var got *x509.Certificate
	require.Eventually(s.t, func() bool {
		var err error
		got, err = s.shown(a.roots, "ledge.example")
		return err == nil
	}, patience, 20*time.Millisecond, "log: %s\nauthority: %s", &s.log, a)
	return got
}

func (a *acmeAuthority) String() string { return a.logged() }

func TestCertificateByACME(t *testing.T) {
	tests := map[string]struct {
		overTLS, overHTTP bool // which of the two ports is led here; nothing listens at the other
	}{
		"over port 443": {true, false},
		"over port 80":  {false, true},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			listener, err := net.Listen("tcp", "127.0.0.1:0")
			require.NoError(t, err)
			httpAddr, err := net.ResolveTCPAddr("tcp", freePort(t))
			require.NoError(t, err)
			closed, err := net.ResolveTCPAddr("tcp", freePort(t))
			require.NoError(t, err)
			httpPort, tlsPort, acmeHTTP := port(closed), port(closed), ""
			if test.overTLS {
				tlsPort = port(listener.Addr())
			}
			if test.overHTTP {
				httpPort, acmeHTTP = port(httpAddr), httpAddr.String()
			}
			authority := startACME(t, httpPort, tlsPort)
			data := t.TempDir()
			server := serveACME(t, listener, data, authority, acmeHTTP)
			got := server.await(authority)
			assert.Equal(t, []string{"ledge.example"}, got.DNSNames)
			assert.Equal(t, x509.ECDSA, got.PublicKeyAlgorithm)
			assert.Contains(t, server.log.String(), "TLS certificate taken")

			// Nobody else's name is looked after, and what is kept is for us alone.
			_, err = server.shown(authority.roots, "pool.example")
			assert.Error(t, err)
			assert.NotContains(t, authority.String(), "pool.example")
			info, err := os.Stat(filepath.Join(data, acmeFolder))
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o700), info.Mode().Perm())
			files, err := os.ReadDir(filepath.Join(data, acmeFolder))
			require.NoError(t, err)
			require.NotEmpty(t, files)
			for _, f := range files {
				info, err := f.Info()
				require.NoError(t, err)
				assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), f.Name())
			}

			if test.overHTTP { // whoever comes over port 80 is sent on, to nowhere but here
				client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
				request, err := http.NewRequest("GET", fmt.Sprintf("http://%s/plan?a=b", httpAddr), nil)
				require.NoError(t, err)
				request.Host = "evil.example"
				response, err := client.Do(request)
				require.NoError(t, err)
				response.Body.Close()
				assert.Equal(t, 308, response.StatusCode)
				assert.Equal(t, "https://ledge.example/plan?a=b", response.Header.Get("Location"))
			}

			// Started again without an authority to ask, the server has what it had.
			server.stop()
			authority.server.Close()
			listener, err = net.Listen("tcp", "127.0.0.1:0")
			require.NoError(t, err)
			again := serveACME(t, listener, data, authority, "")
			assert.Equal(t, got.SerialNumber, again.await(authority).SerialNumber)
		})
	}
}

// Where the authority gives nothing, the log says what to look at, and the authority is left
// in peace however many knock.
func TestNoCertificateByACME(t *testing.T) {
	closed, err := net.ResolveTCPAddr("tcp", freePort(t))
	require.NoError(t, err)
	authority := startACME(t, port(closed), port(closed))
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	server := serveACME(t, listener, t.TempDir(), authority, "")
	require.Eventually(t, func() bool { return strings.Contains(server.log.String(), "led to this machine?") }, patience, 20*time.Millisecond)
	orders := strings.Count(authority.String(), "POST /order-plz")
	require.Positive(t, orders, authority)
	for range 20 {
		_, err := server.shown(authority.roots, "ledge.example")
		require.Error(t, err)
	}
	assert.Equal(t, orders, strings.Count(authority.String(), "POST /order-plz"))
}

// Tries that failed are half an hour apart, unless somebody asks; a certificate that is there
// is looked after every minute, and stays when that fails.
func TestPausesOfACME(t *testing.T) {
	r := &reach{data: t.TempDir(), acme: "jo@ledge.example", url: "https://ledge.example"}
	require.NoError(t, r.settle(""))
	var log bytes.Buffer
	now := noon
	f := newFetched(r, func() time.Time { return now }, slog.New(slog.NewTextHandler(&log, nil)))
	asked := 0
	var answer *tls.Certificate
	f.get = func(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
		asked++
		assert.Equal(t, "ledge.example", hello.ServerName)
		if answer == nil {
			return nil, errors.New("no")
		}
		return answer, nil
	}
	tries := func(force bool) bool {
		before := asked
		f.check(force)
		return asked > before
	}
	assert.True(t, tries(false))
	now = now.Add(acmePause - time.Second)
	assert.False(t, tries(false))
	assert.True(t, tries(true))
	now = now.Add(acmePause)
	assert.True(t, tries(false))
	_, err := f.show(&tls.ClientHelloInfo{ServerName: "ledge.example"})
	assert.ErrorIs(t, err, errNoCertificate)

	a, err := newAuthority("ledge.example", noon)
	require.NoError(t, err)
	first, err := a.issue("ledge.example", noon)
	require.NoError(t, err)
	answer = first
	now = now.Add(acmePause)
	f.check(false)
	for range 2 {
		now = now.Add(time.Minute)
		assert.True(t, tries(false))
		got, err := f.show(&tls.ClientHelloInfo{})
		require.NoError(t, err)
		assert.Same(t, first, got)
	}
	assert.Equal(t, 1, strings.Count(log.String(), "TLS certificate taken"))
	answer, now = nil, first.Leaf.NotAfter.Add(-5*day)
	f.check(false)
	assert.Contains(t, log.String(), "should have been renewed")
	answer, err = a.issue("ledge.example", now)
	require.NoError(t, err)
	f.check(false)
	got, err := f.show(&tls.ClientHelloInfo{})
	require.NoError(t, err)
	assert.Same(t, answer, got)
}
