package main

import (
	"context"
	"crypto/tls"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A real browser and the household's own authority. Chromium checks certificates here as on
// a phone: nothing is ignored, and what it trusts is in its own store, where the test puts
// the root as a person would.

// at has a browser of its own find every name at this machine, as a name service would.
func at(home string) []chromedp.ExecAllocatorOption {
	return []chromedp.ExecAllocatorOption{
		chromedp.Flag("host-resolver-rules", "MAP * 127.0.0.1"), chromedp.Env("HOME=" + home),
	}
}

// trusting is the home of somebody who trusts the authority in a file; "" trusts none. It is
// what Chromium asks on Linux: a database of NSS in .pki/nssdb.
func trusting(t *testing.T, authority string) (home string) {
	t.Helper()
	home = t.TempDir()
	store := filepath.Join(home, ".pki", "nssdb")
	require.NoError(t, os.MkdirAll(store, 0o700))
	certutil := func(args ...string) {
		t.Helper()
		out, err := exec.Command("certutil", append([]string{"-d", "sql:" + store}, args...)...).CombinedOutput()
		require.NoError(t, err, "%s\nthis test needs certutil: apt-get install --no-install-recommends libnss3-tools", out)
	}
	certutil("-N", "--empty-password")
	if authority != "" {
		certutil("-A", "-n", "the household", "-t", "C,,", "-i", authority) // C: an authority for servers
	}
	return home
}

// navigate goes to a page and gives the error that the browser shows instead, if any.
func (b *browser) navigate(t *testing.T, url string) error {
	t.Helper()
	ctx, stop := chromedp.NewContext(b.ctx)
	defer stop()
	require.NoError(t, chromedp.Run(ctx), "opening a tab")
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Navigate(url))
}

func TestAPhoneThatTrustsTheHousehold(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	addr := freePort(t)
	_, port, _ := net.SplitHostPort(addr)
	url := "https://ledge.local:" + port
	dir := t.TempDir()
	server, code := startHousehold(t, binary, addr, dir, "-tls", "own", "-url", url)
	require.Equal(t, url, server.url)

	// A new phone begins with the page that is there over http, and gets the authority.
	data := filepath.Join(dir, "household")
	response, err := http.Get("http://" + addr + authorityPath)
	require.NoError(t, err)
	response.Body.Close()
	assert.Equal(t, authorityType, response.Header.Get("Content-Type"))
	stranger := startBrowser(t, at(trusting(t, ""))...)
	page := stranger.open(t, "http://ledge.local:"+port+"/")
	page.allowed = true // the status is an error's
	page.until(`document.querySelector('a[href="` + authorityPath + `"]') && document.querySelector('a[href="` + url + `"]')`)

	// Until it has been told to trust it, it goes no further.
	err = stranger.navigate(t, url)
	require.ErrorContains(t, err, "ERR_CERT_AUTHORITY_INVALID")

	// Then it joins, has its service worker, and works without the server.
	phone := startBrowser(t, at(trusting(t, filepath.Join(data, authorityCopy)))...)
	page = phone.open(t, url)
	var whole bool
	page.eval(`isSecureContext && 'serviceWorker' in navigator && 'geolocation' in navigator`, &whole)
	assert.True(t, whole)
	page.until(`navigator.serviceWorker.controller`) // it takes the page over when it has every file
	var status int
	page.eval(`fetch('/api/pair', {method: 'POST', headers: {'Content-Type': 'application/json'},
		body: JSON.stringify({code: `+quoted(code)+`, name: 'a phone'})}).then((r) => r.status)`, &status)
	assert.Equal(t, 201, status)
	page.eval(`fetch('/api/me').then((r) => r.status)`, &status)
	assert.Equal(t, 200, status, "its cookie comes along")
	server.kill(t)
	page.run(chromedp.Reload())
	page.until(`navigator.serviceWorker.controller && document.querySelector('nav a[href="/plan"]')`)

	a, err := readAuthority(data)
	require.NoError(t, err)
	refusesOthers(t, phone, a, "ledge.local", "pool.local", "bank.example", "127.0.0.1")
}

// The same of a household whose server is known by its address.
func TestAPhoneThatTrustsAnAddress(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	a, err := openAuthority(dir, "127.0.0.1", time.Now())
	require.NoError(t, err)
	phone := startBrowser(t, at(trusting(t, filepath.Join(dir, authorityCopy)))...)
	refusesOthers(t, phone, a, "127.0.0.1", "127.0.0.2", "ledge.local")
}

// refusesOthers has an authority's key in the wrong hands: the phone trusts the authority, and
// refuses what it signs for others than its own host.
func refusesOthers(t *testing.T, phone *browser, a *authority, own string, others ...string) {
	t.Helper()
	require.NoError(t, phone.navigate(t, serveAs(t, a, own)), "so that it is no accident that the others are refused")
	for _, host := range others {
		err := phone.navigate(t, serveAs(t, a, host))
		// Not ERR_CERT_AUTHORITY_INVALID, which is for authorities that are not trusted, nor
		// ERR_CERT_COMMON_NAME_INVALID, which is for certificates of another host.
		assert.ErrorContains(t, err, "ERR_CERT_INVALID", host)
	}
}

// serveAs serves with what an authority signs for host, whether it may or not.
func serveAs(t *testing.T, a *authority, host string) (url string) {
	t.Helper()
	shown, err := a.issue(host, time.Now())
	require.NoError(t, err)
	listener, err := net.Listen("tcp", ":0") // also at 127.0.0.2
	require.NoError(t, err)
	server := &httptest.Server{Listener: listener, Config: &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		_, _ = w.Write([]byte("<!doctype html><title>a page</title>"))
	})}}
	server.TLS = &tls.Config{Certificates: []tls.Certificate{*shown}}
	server.Config.ErrorLog = log.New(io.Discard, "", 0) // that a browser refuses it is what is wanted
	server.StartTLS()
	t.Cleanup(server.Close)
	return fmt.Sprintf("https://%s:%d", host, port(listener.Addr()))
}
