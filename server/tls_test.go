package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"flag"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/valyala/fasthttp"

	"wrackbook/internal/store"
)

func proxiesOf(t *testing.T, list string) []netip.Prefix {
	t.Helper()
	proxies, err := parseProxies(list)
	require.NoError(t, err)
	return proxies
}

// reachOf is what the flags come to on a machine called Ledge.
func reachOf(t *testing.T, args ...string) (*reach, error) {
	t.Helper()
	var r reach
	f := flag.NewFlagSet("serve", flag.ContinueOnError)
	r.register(f)
	require.NoError(t, f.Parse(append([]string{"-data", t.TempDir()}, args...)))
	return &r, r.settle("Ledge.home.example")
}

func TestWaysToBeReached(t *testing.T) {
	tests := map[string]struct {
		args      string
		url, addr string // of what is settled; "" where the loopback address stands for it
		problem   string // a piece of it; "" where all is well
	}{
		"nothing":                        {"", "", defaultAddr, ""},
		"a proxy here":                   {"-url https://ledge.example -proxy 127.0.0.1", "https://ledge.example", defaultAddr, ""},
		"a proxy elsewhere, over TLS":    {"-url https://ledge.example -proxy 192.0.2.1 -tls own", "https://ledge.example", ":443", ""},
		"a proxy elsewhere, bare":        {"-url https://ledge.example -proxy 192.0.2.1 -addr :80", "", "", "plain HTTP"},
		"a proxy elsewhere, forced":      {"-url https://ledge.example -proxy 192.0.2.1 -addr :80 -plain-http-readable-by-all", "https://ledge.example", ":80", ""},
		"a proxy without its address":    {"-proxy 127.0.0.1", "", "", "-url https://"},
		"a proxy of plain HTTP":          {"-url http://localhost:1 -proxy 127.0.0.1", "", "", "-url https://"},
		"a proxy that is none":           {"-url https://ledge.example -proxy ledge.example", "", "", "-proxy"},
		"everyone as a proxy":            {"-url https://ledge.example -proxy 0.0.0.0/0", "", "", "strangers"},
		"own":                            {"-tls own", "https://ledge.local:8710", ":8710", ""},
		"own on another port":            {"-tls own -addr :4443", "https://ledge.local:4443", ":4443", ""},
		"own by name":                    {"-tls own -url https://Pool.local", "https://pool.local", ":443", ""},
		"own by address":                 {"-tls own -url https://192.0.2.7:8710", "https://192.0.2.7:8710", ":8710", ""},
		"own by IPv6":                    {"-tls own -url https://[2001:db8::7]:8710/", "https://[2001:db8::7]:8710", ":8710", ""},
		"own behind another port":        {"-tls own -url https://pool.local -addr 127.0.0.1:0", "https://pool.local", "127.0.0.1:0", ""},
		"own over http":                  {"-tls own -url http://pool.local", "", "", "https://"},
		"own everywhere":                 {"-tls own -url https://0.0.0.0", "", "", "no address"},
		"own by a wildcard":              {"-tls own -url https://*.local", "", "", "certificate"},
		"own by letters":                 {"-tls own -url https://küste.local", "", "", "xn--"},
		"own by a dot at the end":        {"-tls own -url https://pool.local.", "", "", "certificate"},
		"another TLS":                    {"-tls mine", "", "", "can be own"},
		"files":                          {"-cert c -key k -url https://ledge.example:8443", "https://ledge.example:8443", ":8443", ""},
		"files without a name":           {"-cert c -key k", "", "", "-url"},
		"a certificate without its key":  {"-cert c -url https://ledge.example", "", "", "belong together"},
		"a key without its certificate":  {"-key k -url https://ledge.example", "", "", "belong together"},
		"files and own":                  {"-cert c -key k -tls own", "", "", "Choose one"},
		"own and ACME":                   {"-acme jo@ledge.example -tls own", "", "", "Choose one"},
		"ACME":                           {"-acme jo@ledge.example -url https://ledge.example", "https://ledge.example", ":443", ""},
		"ACME without a name":            {"-acme jo@ledge.example", "", "", "-url"},
		"ACME of an address":             {"-acme jo@ledge.example -url https://192.0.2.7", "", "", "-tls own"},
		"ACME of a name at home":         {"-acme jo@ledge.example -url https://ledge.local", "", "", "-tls own"},
		"ACME for nobody":                {"-acme jo -url https://ledge.example", "", "", "email"},
		"ACME, and who it is from":       {"-acme jo@ledge.example?cc=x -url https://ledge.example", "", "", "email"},
		"ACME over plain HTTP":           {"-acme jo@ledge.example -url https://ledge.example -acme-directory http://acme.example/dir", "", "", "-acme-directory"},
		"ACME with a port that is none":  {"-acme jo@ledge.example -url https://ledge.example -acme-http 80", "", "", "-acme-http"},
		"a directory for nothing":        {"-acme-directory https://acme.example/dir", "", "", "goes with -acme"},
		"forced":                         {"-plain-http-readable-by-all -addr :8710 -url http://192.0.2.7:8710", "http://192.0.2.7:8710", ":8710", ""},
		"forced, and nobody knows where": {"-plain-http-readable-by-all -addr :8710", "", "", "say at which address"},
		"forced, and TLS":                {"-plain-http-readable-by-all -tls own", "", "", "contrary"},
		"forced, and https":              {"-plain-http-readable-by-all -addr :8710 -url https://ledge.example", "", "", "-proxy"},
		"plain, to be read by all":       {"-url http://192.0.2.7:8710", "", "", "plain HTTP"},
		"no port":                        {"-tls own -addr 192.0.2.7", "", "", "not an address and a port"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			r, err := reachOf(t, strings.Fields(test.args)...)
			if test.problem != "" {
				require.ErrorContains(t, err, test.problem)
				var stdout, stderr bytes.Buffer // and as a person sees it
				assert.Equal(t, exitUsage, dispatch(append([]string{"serve"}, strings.Fields(test.args)...), strings.NewReader(""), &stdout, &stderr))
				assert.Empty(t, stdout.String())
				return
			}
			require.NoError(t, err)
			assert.Equal(t, test.addr, r.addr)
			if test.url == "" {
				assert.Nil(t, r.public)
				return
			}
			assert.Equal(t, test.url, r.public.String())
			s, err := r.site(&net.TCPAddr{IP: net.IPv4zero, Port: 8710})
			require.NoError(t, err)
			assert.Equal(t, test.url, s.url)
			assert.Equal(t, strings.HasPrefix(test.url, "https"), s.secure, "the cookie is Secure where the site is")
			assert.Equal(t, strings.Contains(test.args, "-cert") || strings.Contains(test.args, "-acme"), s.strict)
			assert.Equal(t, !r.speaksTLS(), s.hosts["localhost:8710"], "plain names are for plain HTTP")
		})
	}
}

// A machine whose name no phone could find must say how it is reached; one with an authority
// stays at the name that it is for.
func TestNameOfTheHouseholdsServer(t *testing.T) {
	for _, machine := range []string{"", "localhost", "localhost.localdomain", "a_b", "küste"} {
		r := &reach{tls: "own", data: t.TempDir()}
		assert.ErrorContains(t, r.settle(machine), "-url https://NAME.local", machine)
	}
	dir := t.TempDir()
	_, err := openAuthority(dir, "pool.local", noon)
	require.NoError(t, err)
	r := &reach{tls: "own", data: dir}
	require.NoError(t, r.settle("renamed"))
	assert.Equal(t, "https://pool.local:8710", r.public.String())
}

func TestProxiesAreBounded(t *testing.T) {
	assert.Len(t, proxiesOf(t, "127.0.0.1, ::1,172.16.0.0/12"), 3)
	for _, list := range []string{",", "127.0.0.1,", "fe80::1%eth0", "10.0.0.0/33", "::/0", strings.Repeat("127.0.0.1,", maxProxies) + "127.0.0.1"} {
		_, err := parseProxies(list)
		assert.ErrorContains(t, err, "-proxy", list)
	}
}

// What a header says of where a request came from is believed of the proxies that are named,
// and of nobody else.
func TestCallersBehindProxies(t *testing.T) {
	tests := map[string]struct {
		proxies, from string
		said          []string // X-Forwarded-For, a line each
		caller        string
	}{
		"nobody in between":              {"", "198.51.100.1", nil, "198.51.100.1"},
		"a stranger's word":              {"", "198.51.100.1", []string{"203.0.113.1"}, "198.51.100.1"},
		"this machine's word, not asked": {"", "127.0.0.1", []string{"203.0.113.1"}, "127.0.0.1"},
		"not through the proxy":          {"127.0.0.1", "198.51.100.1", []string{"203.0.113.1"}, "198.51.100.1"},
		"through the proxy":              {"127.0.0.1", "127.0.0.1", []string{"203.0.113.1"}, "203.0.113.1"},
		"and said by the caller too":     {"127.0.0.1", "127.0.0.1", []string{"192.0.2.9, 203.0.113.1"}, "203.0.113.1"},
		"in two lines":                   {"127.0.0.1", "127.0.0.1", []string{"192.0.2.9", "203.0.113.1"}, "203.0.113.1"},
		"through two proxies":            {"127.0.0.1,192.0.2.0/24", "127.0.0.1", []string{"203.0.113.1, 192.0.2.9"}, "203.0.113.1"},
		"proxies alone":                  {"127.0.0.1,192.0.2.0/24", "127.0.0.1", []string{"192.0.2.9"}, "192.0.2.9"},
		"a proxy that says nothing":      {"127.0.0.1", "127.0.0.1", nil, "127.0.0.1"},
		"a proxy that says nonsense":     {"127.0.0.1", "127.0.0.1", []string{"203.0.113.1, unknown"}, "127.0.0.1"},
		"an address and a port":          {"127.0.0.1", "127.0.0.1", []string{"203.0.113.1:4711"}, "203.0.113.1"},
		"IPv6 is a network":              {"::1", "::1", []string{"2001:db8:1:2:3::4"}, "2001:db8:1:2::/64"},
		"IPv6 and a port":                {"::1", "::1", []string{"[2001:db8:1:2:3::4]:4711"}, "2001:db8:1:2::/64"},
		"IPv4 in IPv6":                   {"127.0.0.1", "::ffff:127.0.0.1", []string{"::ffff:203.0.113.1"}, "203.0.113.1"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			request := &fasthttp.RequestCtx{}
			request.Init(&fasthttp.Request{}, &net.TCPAddr{IP: net.ParseIP(test.from)}, nil)
			for _, line := range test.said {
				request.Request.Header.Add("X-Forwarded-For", line)
			}
			app := fiber.New()
			ctx := app.AcquireCtx(request)
			defer app.ReleaseCtx(ctx)
			s := &site{proxies: proxiesOf(t, test.proxies)}
			assert.Equal(t, test.caller, s.callerAddress(ctx))
		})
	}
}

// listenTLS serves the app over TLS by the household's authority, as serve does, and gives a
// client that trusts it. wait bounds a handshake.
func (app *testApp) listenTLS(t *testing.T, wait time.Duration) (addr string, client *http.Client) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	addr = listener.Addr().String()
	_, port, _ := net.SplitHostPort(addr)
	r, err := reachOf(t, "-tls", "own", "-url", "https://ledge.local:"+port)
	require.NoError(t, err)
	app.api.site, err = r.site(listener.Addr())
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	connections, err := r.connections(ctx, lingering{listener}, app.api.site, app.api.log)
	require.NoError(t, err)
	connections.(*tlsListener).wait = wait
	served := make(chan error, 1)
	go func() { served <- app.Listener(connections) }()
	t.Cleanup(func() {
		cancel()
		assert.NoError(t, app.ShutdownWithTimeout(5*time.Second))
		assert.NoError(t, <-served)
	})
	roots := x509.NewCertPool()
	roots.AddCert(app.api.site.authority.root)
	transport := &http.Transport{
		TLSClientConfig: &tls.Config{RootCAs: roots},
		DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
			return (&net.Dialer{}).DialContext(ctx, network, addr)
		},
	}
	t.Cleanup(transport.CloseIdleConnections)
	return addr, &http.Client{Transport: transport}
}

func TestLargeBodyIsAnsweredOverTLS(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	_, client := app.listenTLS(t, handshakeTimeout)
	checkLargeBodies(t, app, client, app.api.site.url)
}

// Who comes without TLS, with an old one, or with nothing to say.
func TestOtherCallersOfTheTLSPort(t *testing.T) {
	app, log := newTestApp(t, fstest.MapFS{})
	addr, client := app.listenTLS(t, 500*time.Millisecond)
	s := app.api.site
	get := func(path string) (*http.Response, string) {
		t.Helper()
		response, err := http.Get("http://" + addr + path)
		require.NoError(t, err)
		defer response.Body.Close()
		body, err := io.ReadAll(response.Body)
		require.NoError(t, err)
		return response, string(body)
	}
	t.Run("http:// is shown the way", func(t *testing.T) {
		response, body := get("/plan")
		assert.Equal(t, 400, response.StatusCode)
		assert.Contains(t, body, s.url)
		assert.Contains(t, body, authorityPath)
		assert.NotContains(t, body, s.authority.fingerprint())
	})
	t.Run("and gets the authority", func(t *testing.T) {
		response, body := get(authorityPath)
		assert.Equal(t, 200, response.StatusCode)
		assert.Equal(t, "application/x-x509-ca-cert", response.Header.Get("Content-Type"))
		assert.Equal(t, string(s.authority.pem), body)
		assert.NotContains(t, body, "PRIVATE")
	})
	t.Run("and nothing else", func(t *testing.T) {
		response, body := get("/api/health")
		assert.Equal(t, 400, response.StatusCode)
		assert.NotContains(t, body, `"build"`)
	})
	t.Run("without a certificate of its own there is none to get", func(t *testing.T) {
		answer := wrongScheme(&site{url: "https://ledge.example"})(authorityPath)
		assert.Equal(t, 400, answer.status)
		assert.NotContains(t, string(answer.body), authorityPath)
	})
	t.Run("TLS 1.1", func(t *testing.T) {
		_, err := tls.Dial("tcp", addr, &tls.Config{MinVersion: tls.VersionTLS10, MaxVersion: tls.VersionTLS11, InsecureSkipVerify: true})
		assert.ErrorContains(t, err, "protocol version")
	})
	for name, said := range map[string]string{
		"silence":            "",
		"half a handshake":   "\x16\x03\x01\x02\x00\x01",
		"half a request":     "GET / HTTP/1.1\r\n",
		"noise":              "\x00\xff\r\n\r\n",
		"a head without end": "GET /" + strings.Repeat("a", maxPlainHead+1),
	} {
		t.Run(name, func(t *testing.T) {
			c, err := net.Dial("tcp", addr)
			require.NoError(t, err)
			defer c.Close()
			_, err = io.WriteString(c, said)
			require.NoError(t, err)
			begin := time.Now()
			require.NoError(t, c.SetReadDeadline(begin.Add(patience)))
			answer, err := io.ReadAll(bufio.NewReader(c))
			assert.NoError(t, err, "the server closes")
			assert.Less(t, time.Since(begin), patience/2)
			assert.Less(t, len(answer), 16, "at most a TLS alert")
		})
	}
	// None of that was in the way of who comes as agreed.
	response, err := client.Get(s.url + "/api/health")
	require.NoError(t, err)
	response.Body.Close()
	assert.Equal(t, 200, response.StatusCode)
	assert.Equal(t, uint16(tls.VersionTLS13), response.TLS.Version)
	assert.Empty(t, response.Header.Get("Strict-Transport-Security"), "the authority is the household's own")
	assert.Empty(t, log.String(), "whoever knocks is not a line in the log")
}

func TestStrictTransport(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	for _, strict := range []bool{false, true} {
		app.api.site.strict = strict
		response, _ := send(t, app, httptest.NewRequest("GET", "/api/health", nil))
		assert.Equal(t, strict, response.Header.Get("Strict-Transport-Security") == strictTransport)
	}
}

// What the person at the server reads when it starts.
func TestAnnouncements(t *testing.T) {
	listens := &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8710}
	for args, want := range map[string][]string{
		"": {"Wrackbook is at http://127.0.0.1:8710\n"},
		"-url https://ledge.example -proxy 127.0.0.1":                        {"Wrackbook is at http://127.0.0.1:8710\n", "A proxy is expected to lead https://ledge.example there."},
		"-url https://ledge.example -cert c -key k":                          {"Wrackbook is at https://ledge.example\n"},
		"-url https://pool.local -tls own":                                   {"Wrackbook is at https://pool.local\n", " http://pool.local:443/authority.crt\n"},
		"-url https://[2001:db8::7]:8710 -tls own":                           {" http://[2001:db8::7]:8710/authority.crt\n"},
		"-url http://192.0.2.7:8710 -plain-http-readable-by-all -addr :8710": {"Wrackbook is at http://192.0.2.7:8710\n"},
	} {
		r, err := reachOf(t, strings.Fields(args)...)
		require.NoError(t, err)
		s, err := r.site(listens)
		require.NoError(t, err)
		if r.tls == "own" {
			s.authority, err = newAuthority(r.public.Hostname(), noon)
			require.NoError(t, err)
			want = append(want, s.authority.fingerprint())
		}
		var said, log bytes.Buffer
		r.announce(&said, s, listens, slog.New(slog.NewTextHandler(&log, nil)))
		for _, piece := range want {
			assert.Contains(t, said.String(), piece, args)
		}
		assert.Equal(t, r.plain, strings.Contains(log.String(), "WARN"), "plain HTTP is warned of, each time")
	}
}

// The end of a certificate is spoken of in time, once a day.
func TestEndsAreSpokenOf(t *testing.T) {
	var log bytes.Buffer
	now, ends := noon, noon.Add(15*day)
	c := &certificate{
		renew:   func(time.Time, bool) (*tls.Certificate, error) { return nil, nil },
		expires: func() time.Time { return ends }, notice: 14 * day, advice: "renew it",
		now: func() time.Time { return now }, log: slog.New(slog.NewTextHandler(&log, nil)),
	}
	c.current.Store(&tls.Certificate{})
	lines := func() int { n := strings.Count(log.String(), "\n"); log.Reset(); return n }
	c.check(false)
	assert.Zero(t, lines(), "15 days before")
	now = now.Add(day + time.Minute)
	c.check(false)
	assert.Contains(t, log.String(), "in 13 days: renew it")
	assert.Equal(t, 1, lines())
	for range 24 * 60 { // minutes of a day
		c.check(false)
		now = now.Add(time.Minute)
	}
	assert.Zero(t, lines(), "the same day")
	c.check(false)
	assert.Equal(t, 1, lines(), "the next day")
	now = ends
	c.check(false)
	assert.Contains(t, log.String(), "has stopped working: renew it")
}

// A household that joins no device and has an authority has a folder with it and no book; a
// device still begins one there.
func TestTheBookBeginsBesideTheAuthority(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "household")
	_, err := openAuthority(dir, "ledge.local", noon)
	require.NoError(t, err)
	house, err := openHousehold(dir, store.Options{Now: func() time.Time { return noon }})
	require.NoError(t, err)
	code, err := house.keeperCode()
	require.NoError(t, err)
	_, _, err = house.redeem(code, "the keeper's phone")
	require.NoError(t, err)
	require.NoError(t, house.close())
	checkBook(t, dir)
	assert.FileExists(t, filepath.Join(dir, authorityFile))
	info, err := os.Stat(dir)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o700), info.Mode().Perm())
}
