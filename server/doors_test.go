package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

type pairAnswer struct {
	Device deviceAnswer `json:"device"`
	Token  string       `json:"token"`
}

// pairing is a request to join from an address, as the proxy on this machine names it.
func pairing(code, name, address string) *http.Request {
	body, _ := json.Marshal(map[string]string{"code": code, "name": name})
	request := as("", "POST", "/api/pair", string(body))
	request.Header.Set("X-Forwarded-For", "192.0.2.1, "+address)
	return request
}

// overSocket has the app served on a socket, so that its callers come from this machine, and
// gives a function that asks it from an address behind the proxy.
func overSocket(t *testing.T, app *testApp) func(*http.Request) (*http.Response, string) {
	t.Helper()
	url := app.listen(t)
	app.api.site.proxies = proxiesOf(t, "127.0.0.1")
	return func(request *http.Request) (*http.Response, string) {
		t.Helper()
		sent, err := http.NewRequest(request.Method, url+request.URL.RequestURI(), request.Body)
		require.NoError(t, err)
		sent.Header, sent.Host = request.Header, strings.TrimPrefix(testSite, "https://")
		response, err := http.DefaultClient.Do(sent)
		require.NoError(t, err)
		defer response.Body.Close()
		var body bytes.Buffer
		_, err = body.ReadFrom(response.Body)
		require.NoError(t, err)
		return response, body.String()
	}
}

func TestTheFirstKeeperJoins(t *testing.T) {
	var log bytes.Buffer
	app := newStrangersApp(t, fstest.MapFS{"index.html": {Data: []byte("the app")}}, &log)
	first, err := app.api.house.keeperCode()
	require.NoError(t, err)

	response, body := send(t, app, as("", "GET", "/api/me", ""))
	assert.Equal(t, 401, response.StatusCode)
	code, _ := faultIn(t, body)
	assert.Equal(t, fault.NoDevice, code)

	// Whoever previews the link changes nothing, nor does a wrong code make a book.
	for _, method := range []string{"GET", "HEAD"} {
		request := httptest.NewRequest(method, "/pair", nil)
		request.Header.Set("Accept", "text/html")
		response, _ := send(t, app, request)
		assert.Equal(t, 200, response.StatusCode)
		response, _ = send(t, app, as("", method, "/api/pair", ""))
		assert.Equal(t, 404, response.StatusCode)
	}
	response, _ = send(t, app, pairing(readableCode(strings.Repeat("A", 32)), "x", "198.51.100.1"))
	assert.Equal(t, 404, response.StatusCode)
	_, err = os.Stat(app.api.house.dir)
	assert.ErrorIs(t, err, os.ErrNotExist, "nobody has joined, and there is a book")

	response, body = send(t, app, pairing(readableCode(first), "Jo's phone", "198.51.100.1"))
	require.Equal(t, 201, response.StatusCode, body)
	cookies := response.Cookies()
	require.Len(t, cookies, 1)
	c := cookies[0]
	assert.Equal(t, "wb", c.Name)
	assert.Len(t, c.Value, 43, "256 bits in base64url")
	assert.Equal(t, "/api", c.Path)
	assert.True(t, c.HttpOnly)
	assert.True(t, c.Secure)
	assert.Equal(t, http.SameSiteStrictMode, c.SameSite)
	assert.Equal(t, 400*24*3600, c.MaxAge)
	assert.NotContains(t, body, c.Value, "what the page reads has no token")

	me := read[pairAnswer](t, app, as(c.Value, "GET", "/api/me", ""), 200)
	assert.Equal(t, store.Keeper, me.Device.Role)
	assert.Equal(t, "Jo's phone", me.Device.Name)

	response, _ = send(t, app, pairing(readableCode(first), "another", "198.51.100.1"))
	assert.Equal(t, 404, response.StatusCode, "it works once")
	again, err := app.api.house.keeperCode()
	require.NoError(t, err)
	assert.Empty(t, again, "there is a keeper")

	// A disk holds the hash of the token, and a log holds neither it nor a code or name.
	for _, secret := range []string{c.Value, first, readableCode(first), "Jo's phone"} {
		assert.NotContains(t, log.String(), secret)
	}
	file, err := os.ReadFile(filepath.Join(app.api.house.dir, bookFile))
	require.NoError(t, err)
	assert.NotContains(t, string(file), c.Value)
	assert.Contains(t, string(file), "Jo's phone", "what is there is found")
}

// A client that shares no cookies asks for the token itself.
func TestJoiningWithoutCookies(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	code, err := app.book(t).Invite(store.Collector, time.Hour)
	require.NoError(t, err)
	request := httptest.NewRequest("POST", "/api/pair", strings.NewReader(fmt.Sprintf(`{"code":%q,"name":"a script","bearer":true}`, readableCode(code))))
	request.Header.Set("Content-Type", "application/json")
	response, body := send(t, app, request)
	require.Equal(t, 201, response.StatusCode, body)
	assert.Empty(t, response.Cookies())
	var answer pairAnswer
	require.NoError(t, json.Unmarshal([]byte(body), &answer))
	me := httptest.NewRequest("GET", "/api/me", nil)
	me.Header.Set("Authorization", "bearer "+answer.Token)
	response, body = send(t, app, me)
	assert.Equal(t, 200, response.StatusCode, body)
	assert.Empty(t, response.Cookies(), "who sent no cookie gets none")
}

func TestInvitations(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	type invitation struct {
		Code, Link string
		Role       store.Role
		ExpiresMS  int64
		QR         []string
	}
	invite := func(body string) invitation {
		return read[invitation](t, app, as(app.token, "POST", "/api/invitations", body), 201)
	}

	t.Run("what it says", func(t *testing.T) {
		i := invite(`{"role":"child","name":"Ada's phone & more","minutes":60}`)
		assert.Equal(t, store.Child, i.Role)
		assert.Equal(t, testSite+"/pair#"+i.Code+"&name=Ada%27s%20phone%20%26%20more", i.Link)
		assert.Equal(t, noon.Add(time.Hour).UnixMilli(), i.ExpiresMS)
		checkQR(t, i.QR)
	})
	t.Run("works once", func(t *testing.T) {
		i := invite(`{"role":"child"}`)
		answer := read[pairAnswer](t, app, pairing(i.Code, "Ada's phone", "198.51.100.2"), 201)
		assert.Equal(t, store.Child, answer.Device.Role)
		read[errorBody](t, app, pairing(i.Code, "Ada's phone", "198.51.100.2"), 404)
	})
	t.Run("works once, also for many at once", func(t *testing.T) {
		i := invite(`{"role":"collector"}`)
		var let atomic.Int32
		var all sync.WaitGroup
		for n := range 20 {
			all.Go(func() {
				response, err := app.Test(func() *http.Request {
					request := pairing(i.Code, "x", fmt.Sprintf("198.51.100.%d", 10+n))
					request.Host = "ledge.example"
					return request
				}(), -1)
				if assert.NoError(t, err) {
					response.Body.Close()
					if response.StatusCode == 201 {
						let.Add(1)
					}
				}
			})
		}
		all.Wait()
		assert.EqualValues(t, 1, let.Load())
		app.now = app.now.Add(triesWindow) // so many wrong ones count
	})
	t.Run("runs out", func(t *testing.T) {
		i := invite(`{"role":"guest","minutes":5}`)
		app.now = app.now.Add(5 * time.Minute)
		read[errorBody](t, app, pairing(i.Code, "x", "198.51.100.3"), 404)
	})
	t.Run("a nameless device does not use it up", func(t *testing.T) {
		i := invite(`{"role":"guest"}`)
		for range triesEach + 1 {
			answer := read[errorBody](t, app, pairing(i.Code, " ", "198.51.100.4"), 422)
			assert.Equal(t, "name", answer.Error.Field)
		}
		read[pairAnswer](t, app, pairing(i.Code, "x", "198.51.100.4"), 201)
	})
	for name, test := range map[string]struct {
		body, field string
		status      int
	}{
		"no role":        {`{}`, "role", 422},
		"another role":   {`{"role":"owner"}`, "role", 422},
		"no minutes":     {`{"role":"guest","minutes":0}`, "minutes", 422},
		"two months":     {`{"role":"guest","minutes":86400}`, "minutes", 422},
		"a long name":    {`{"role":"guest","name":"` + strings.Repeat("a", 61) + `"}`, "name", 422},
		"a misspelling":  {`{"role":"guest","minute":5}`, "", 400},
		"two objects":    {`{"role":"guest"}{}`, "", 400},
		"no JSON":        {`role=guest`, "", 400},
		"a list":         {`[]`, "", 400},
		"a large object": {`{"role":"` + strings.Repeat("a", maxSmall) + `"}`, "", 413},
	} {
		t.Run(name, func(t *testing.T) {
			answer := read[errorBody](t, app, as(app.token, "POST", "/api/invitations", test.body), test.status)
			assert.Equal(t, test.field, answer.Error.Field)
		})
	}
}

// checkQR looks for what every QR code has (ISO/IEC 18004, 6.3): a size of 17 + 4 × version
// and three position detection patterns, here drawn by hand.
func checkQR(t *testing.T, rows []string) {
	t.Helper()
	require.GreaterOrEqual(t, len(rows), 21)
	require.Zero(t, (len(rows)-17)%4)
	finder := []string{"1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"}
	for _, row := range rows {
		require.Len(t, row, len(rows))
	}
	for y, want := range finder {
		assert.Equal(t, want, rows[y][:7])
		assert.Equal(t, want, rows[y][len(rows)-7:])
		assert.Equal(t, want, rows[len(rows)-7+y][:7])
	}
}

// Guesses are counted by address and in all, and the clock alone forgives them.
func TestGuessesAreLimited(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	ask := overSocket(t, app)
	wrong := readableCode(strings.Repeat("A", 32))
	good := func() string {
		code, err := app.book(t).Invite(store.Guest, time.Hour)
		require.NoError(t, err)
		return readableCode(code)
	}
	try := func(code, address string) (status int, retry string) {
		response, _ := ask(pairing(code, "x", address))
		return response.StatusCode, response.Header.Get("Retry-After")
	}
	begin := app.now
	for n := range triesEach {
		status, _ := try(wrong, "198.51.100.1")
		require.Equal(t, 404, status, n)
		app.now = app.now.Add(time.Second)
	}
	status, retry := try(good(), "198.51.100.1")
	assert.Equal(t, 429, status, "a right code, from an address that guesses")
	assert.Equal(t, strconv.Itoa(600-triesEach), retry)
	status, _ = try(good(), "198.51.100.2")
	assert.Equal(t, 201, status, "another address")
	status, _ = try("SLIP-OF-A-FINGER", "2001:db8:1:2::1")
	assert.Equal(t, 404, status)

	for n := range triesAll - triesEach - 1 {
		status, _ := try(wrong, fmt.Sprintf("2001:db8:%d::%d", n, n))
		require.Equal(t, 404, status, n)
	}
	status, retry = try(good(), "203.0.113.9")
	assert.Equal(t, 429, status, "too many from everywhere")
	assert.NotEmpty(t, retry)
	app.now = begin.Add(triesWindow)
	status, _ = try(good(), "198.51.100.1")
	assert.Equal(t, 201, status, "ten minutes later")

	// One household's network is one address, whatever end of it asks.
	for n := range triesEach {
		try(wrong, fmt.Sprintf("2001:db8:77:1:%x::1", n))
	}
	status, _ = try(good(), "2001:db8:77:1:ffff::1")
	assert.Equal(t, 429, status)
}

func TestShuttingOut(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	type list struct{ Devices []deviceAnswer }
	keeper := read[pairAnswer](t, app, as(app.token, "GET", "/api/me", ""), 200).Device.ID
	id, token := app.device(t, store.Collector)
	read[pairAnswer](t, app, as(token, "GET", "/api/me", ""), 200)

	path := "/api/devices/" + id + "/shut-out"
	for range 2 { // again is no error
		devices := read[list](t, app, as(app.token, "POST", path, "{}"), 200).Devices
		require.Len(t, devices, 2)
		for _, d := range devices {
			assert.Equal(t, d.ID == id, d.ShutOutMS != 0)
		}
	}
	read[errorBody](t, app, as(token, "GET", "/api/me", ""), 401)
	read[errorBody](t, app, as(app.token, "POST", "/api/devices/"+newWriter(9).uuid()+"/shut-out", "{}"), 404)
	read[errorBody](t, app, as(app.token, "POST", "/api/devices/x/shut-out", "{}"), 404)
	answer := read[errorBody](t, app, as(app.token, "POST", "/api/devices/"+keeper+"/shut-out", "{}"), 422)
	assert.Contains(t, answer.Error.Message, "only keeper")

	_, second := app.device(t, store.Keeper)
	read[list](t, app, as(second, "POST", "/api/devices/"+keeper+"/shut-out", "{}"), 200)
	read[errorBody](t, app, as(app.token, "GET", "/api/devices", ""), 401)
}

// What a browser sends for another site, or under another name of this server, is refused
// before it is known who it is.
func TestOtherSites(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	tests := map[string]struct {
		method string
		alter  func(*http.Request)
		code   fault.Code // "" for what is let in
	}{
		"the app's own page":           {"POST", func(*http.Request) {}, ""},
		"another origin":               {"POST", header("Origin", "https://evil.example"), fault.CrossSite},
		"its origin and more":          {"POST", header("Origin", testSite+".evil.example"), fault.CrossSite},
		"no scheme of its":             {"POST", header("Origin", "http://ledge.example"), fault.CrossSite},
		"another port":                 {"POST", header("Origin", testSite+":8443"), fault.CrossSite},
		"a hidden origin":              {"POST", header("Origin", "null"), fault.CrossSite},
		"no origin, with a cookie":     {"POST", header("Origin", ""), fault.CrossSite},
		"the loopback page":            {"POST", header("Origin", "http://localhost:8710"), ""},
		"another page of this machine": {"POST", header("Origin", "http://localhost:9999"), fault.CrossSite},
		"from another site":            {"POST", header("Sec-Fetch-Site", "cross-site"), fault.CrossSite},
		"from a neighbour":             {"POST", header("Sec-Fetch-Site", "same-site"), fault.CrossSite},
		"typed, and a post":            {"POST", header("Sec-Fetch-Site", "none"), fault.CrossSite},
		"an old browser":               {"POST", header("Sec-Fetch-Site", ""), ""},
		"a picture on another site":    {"GET", header("Sec-Fetch-Site", "cross-site"), fault.CrossSite},
		"typed into the address line":  {"GET", header("Sec-Fetch-Site", "none"), ""},
		"another name of the server":   {"GET", host("evil.example"), fault.CrossSite},
		"its name with a port":         {"GET", host("ledge.example:443"), ""},
		"its name in capitals":         {"GET", host("LEDGE.example"), ""},
		"its name at another port":     {"GET", host("ledge.example:444"), fault.CrossSite},
		"localhost":                    {"GET", host("localhost:8710"), ""},
		"::1":                          {"GET", host("[::1]:8710"), ""},
		"a form":                       {"POST", header("Content-Type", "application/x-www-form-urlencoded"), fault.WrongType},
		"a form of text":               {"POST", header("Content-Type", "text/plain"), fault.WrongType},
		"no type":                      {"POST", header("Content-Type", ""), fault.WrongType},
		"JSON in another charset":      {"POST", header("Content-Type", "application/json; charset=utf-8"), ""},
		"a compressed body":            {"POST", header("Content-Encoding", "gzip"), fault.WrongType},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			path, body := "/api/me", ""
			if test.method == "POST" {
				path, body = "/api/invitations", `{"role":"guest"}`
			}
			request := as(app.token, test.method, path, body)
			test.alter(request)
			response, answer := send(t, app, request)
			if test.code == "" {
				assert.Less(t, response.StatusCode, 300, answer)
				return
			}
			assert.Equal(t, statusOf[test.code], response.StatusCode, answer)
			code, _ := faultIn(t, answer)
			assert.Equal(t, test.code, code)
		})
	}

	// A token in Authorization is proof enough: no page elsewhere has it.
	request := httptest.NewRequest("POST", "/api/invitations", strings.NewReader(`{"role":"guest"}`))
	response, body := ask(t, app, request)
	assert.Equal(t, 201, response.StatusCode, body)

	// A supervisor may ask for health by any name.
	request = httptest.NewRequest("GET", "/api/health", nil)
	request.Host = "10.0.0.7"
	response, _ = send(t, app, request)
	assert.Equal(t, 200, response.StatusCode)
}

func header(name, value string) func(*http.Request) {
	return func(r *http.Request) {
		if value == "" {
			r.Header.Del(name)
			return
		}
		r.Header.Set(name, value)
	}
}

func host(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }

func TestSites(t *testing.T) {
	listens := &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8710}
	for public, want := range map[string]string{
		"":                       "http://127.0.0.1:8710",
		"https://ledge.example":  "https://ledge.example",
		"https://Ledge.example/": "https://ledge.example",
		"https://[2001:db8::1]":  "https://[2001:db8::1]",
		"http://localhost:8710":  "http://localhost:8710",
	} {
		s, err := newSite(public, listens)
		if assert.NoError(t, err, public) {
			assert.Equal(t, want, s.url)
			assert.Equal(t, strings.HasPrefix(want, "https"), s.secure)
		}
	}
	for _, public := range []string{
		"ledge.example", "http://ledge.example", "ftp://ledge.example", "https://", "https://ledge.example/book", "https://ledge.example?a=b",
		"https://jo@ledge.example", "https://ledge.example#a", "https://ledge example", "\x00",
	} {
		_, err := newSite(public, listens)
		assert.ErrorContains(t, err, "-url", public)
	}
}

// The book is closed after the last visitor has left, and no new one is let in meanwhile.
func TestClosingWaitsForVisitors(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	_, leave, err := app.api.house.enter()
	require.NoError(t, err)
	closed := make(chan error, 1)
	go func() { closed <- app.api.house.close() }()
	require.Eventually(t, func() bool {
		_, leave, err := app.api.house.enter()
		if err == nil {
			leave()
		}
		return err != nil
	}, 5*time.Second, time.Millisecond, "new visitors are turned away")
	read[errorBody](t, app, as(app.token, "GET", "/api/me", ""), 503)
	select {
	case <-closed:
		require.Fail(t, "closed under a visitor")
	default:
	}
	leave()
	require.NoError(t, <-closed)
}
