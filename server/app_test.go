package main

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/station/embedded"
	"wrackbook/internal/store"
)

// noon stands still, so that an answer that depends on the clock is the same each time.
var noon = time.Date(2026, 9, 26, 12, 0, 0, 0, time.UTC)

// testSite is where the app of the tests says it is.
const testSite = "https://ledge.example"

// testApp is an app with a household of its own and one keeper's device. Its test ends with
// a check of the whole book.
type testApp struct {
	*fiber.App
	api   *api
	files *assets
	token string // of the keeper's device
	now   time.Time
}

func newTestApp(t *testing.T, dist fstest.MapFS) (*testApp, *bytes.Buffer) {
	t.Helper()
	var log bytes.Buffer
	app := newStrangersApp(t, dist, &log)
	code, err := app.api.house.keeperCode()
	require.NoError(t, err)
	_, app.token, err = app.api.house.redeem(code, "the keeper's phone")
	require.NoError(t, err)
	log.Reset()
	return app, &log
}

// newStrangersApp makes an app whose household no device has joined yet.
func newStrangersApp(t *testing.T, dist fstest.MapFS, log *bytes.Buffer) *testApp {
	t.Helper()
	app := &testApp{now: noon}
	now := func() time.Time { return app.now }
	logger := slog.New(slog.NewTextHandler(log, nil))
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	files, err := loadAssets(dist)
	require.NoError(t, err)
	dir := filepath.Join(t.TempDir(), "household")
	house, err := openHousehold(dir, store.Options{Now: now, Logger: logger})
	require.NoError(t, err)
	t.Cleanup(func() {
		assert.NoError(t, house.close())
		if house.book != nil {
			checkBook(t, dir)
		}
	})
	site, err := newSite(testSite, &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8710})
	require.NoError(t, err)
	app.api = &api{core: c, build: files.build, house: house, site: site, tries: &tries{now: now}, now: now, log: logger}
	app.files = files
	app.App = newApp(app.api, files)
	return app
}

// checkBook verifies the closed book in dir.
func checkBook(t *testing.T, dir string) store.Report {
	t.Helper()
	book, err := store.Open(dir, store.Options{})
	require.NoError(t, err)
	defer book.Close()
	report, err := book.Check()
	require.NoError(t, err, "%v", report.Problems)
	return report
}

// book gives the book behind the app.
func (app *testApp) book(t *testing.T) *store.Store {
	t.Helper()
	book, leave, err := app.api.house.enter()
	require.NoError(t, err)
	leave()
	require.NotNil(t, book)
	return book
}

// ask sends a request as the keeper's device does: to the app's site, with a token, JSON
// where it posts.
func ask(t *testing.T, app *testApp, request *http.Request) (*http.Response, string) {
	t.Helper()
	if strings.HasPrefix(request.URL.Path, "/api/") {
		request.Header.Set("Authorization", "Bearer "+app.token)
		if request.Method == http.MethodPost {
			request.Header.Set("Content-Type", "application/json")
		}
	}
	return send(t, app, request)
}

// send sends a request to the app's site as it is.
func send(t *testing.T, app *testApp, request *http.Request) (*http.Response, string) {
	t.Helper()
	if request.Host == "example.com" { // what httptest takes where none is given
		request.Host = strings.TrimPrefix(testSite, "https://")
	}
	response, err := app.Test(request, -1)
	require.NoError(t, err)
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	require.NoError(t, err)
	return response, string(body)
}

// faultIn reads an error answer and checks that it has the one form.
func faultIn(t *testing.T, body string) (code fault.Code, message string) {
	t.Helper()
	var answer errorBody
	decoder := json.NewDecoder(strings.NewReader(body))
	decoder.DisallowUnknownFields()
	require.NoError(t, decoder.Decode(&answer), body)
	assert.NotEmpty(t, answer.Error.Message)
	return answer.Error.Code, answer.Error.Message
}

func TestEveryCodeHasAStatus(t *testing.T) {
	codes := fault.Codes()
	require.NotEmpty(t, codes)
	for _, code := range codes {
		assert.GreaterOrEqual(t, statusOf[code], 400, code)
	}
	assert.Len(t, statusOf, len(codes), "a status for a code that does not exist")
}

func TestAPI(t *testing.T) {
	app, log := newTestApp(t, fstest.MapFS{})
	large := `{"find":"` + strings.Repeat("a", maxJSON) + `"}`
	tests := map[string]struct {
		method, path, body string
		status             int
		code               fault.Code // "" for an answer that is no error
	}{
		"health":                  {"GET", "/api/health", "", 200, ""},
		"a call":                  {"POST", "/api/core/about", "{}", 200, ""},
		"a call without a body":   {"POST", "/api/core/about", "", 200, ""},
		"an unknown call":         {"POST", "/api/core/abut", "{}", 404, fault.UnknownCall},
		"truncated JSON":          {"POST", "/api/core/stations", `{"find":"her`, 400, fault.BadJSON},
		"JSON above the limit":    {"POST", "/api/core/stations", large, 413, fault.TooLarge},
		"a call with GET":         {"GET", "/api/core/about", "", 404, fault.NotFound},
		"no call":                 {"POST", "/api/core/", "{}", 404, fault.NotFound},
		"a call and more":         {"POST", "/api/core/about/more", "{}", 404, fault.NotFound},
		"an unknown route":        {"GET", "/api/nothing", "", 404, fault.NotFound},
		"a post outside the api":  {"POST", "/plan", "{}", 405, fault.NotFound},
		"a name that is not text": {"POST", "/api/core/%ff%00", "{}", 404, fault.UnknownCall},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			response, body := ask(t, app, httptest.NewRequest(test.method, test.path, strings.NewReader(test.body)))
			assert.Equal(t, test.status, response.StatusCode, body)
			assert.Equal(t, "no-store", response.Header.Get("Cache-Control"))
			assert.Contains(t, response.Header.Get("Content-Type"), "application/json")
			if test.code != "" {
				code, _ := faultIn(t, body)
				assert.Equal(t, test.code, code)
			} else {
				assert.True(t, json.Valid([]byte(body)))
			}
		})
	}
	assert.Empty(t, log.String(), "a caller's mistake is not a line in the log")
}

// The answer is byte for byte the core's, whatever else is asked at the same time.
func TestAPIAnswersAreTheCores(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	for _, request := range []string{`{"find":"san","limit":3}`, `{"near":{"lat":48.5,"lon":-123},"limit":5}`} {
		want, err := c.Call("stations", []byte(request), noon)
		require.NoError(t, err)
		_, got := ask(t, app, httptest.NewRequest("POST", "/api/core/stations", strings.NewReader(request)))
		assert.Equal(t, string(want), got)
	}
}

// A panic is answered, logged with its place, and shows nothing of itself to the caller.
func TestPanicIsAnswered(t *testing.T) {
	var log bytes.Buffer
	logger := slog.New(slog.NewTextHandler(&log, nil))
	app := fiber.New(fiber.Config{ErrorHandler: func(ctx *fiber.Ctx, err error) error { return answerError(ctx, err, syncMark{}, logger) }})
	app.Use(recoverPanics(logger))
	app.Get("/", func(*fiber.Ctx) error { panic("a secret") })
	response, body := send(t, &testApp{App: app}, httptest.NewRequest("GET", "/", nil))
	assert.Equal(t, 500, response.StatusCode)
	code, _ := faultIn(t, body)
	assert.Equal(t, fault.Internal, code)
	assert.NotContains(t, body, "secret")
	assert.Contains(t, log.String(), "app_test.go")
}

// listen serves the app on a socket, as serve does, until the test ends.
func (app *testApp) listen(t *testing.T) (url string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	app.api.site, err = newSite(testSite, listener.Addr())
	require.NoError(t, err)
	served := make(chan error, 1)
	go func() { served <- app.Listener(lingering{listener}) }()
	t.Cleanup(func() {
		assert.NoError(t, app.ShutdownWithTimeout(5*time.Second))
		assert.NoError(t, <-served)
	})
	return "http://" + listener.Addr().String()
}

// Over a real socket a body that is too large gets an answer, not a reset: the phone must be
// able to tell "too large" from "no signal". The longest are answered before they are read.
func TestLargeBodyIsAnsweredOverASocket(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	checkLargeBodies(t, app, http.DefaultClient, app.listen(t))
}

func checkLargeBodies(t *testing.T, app *testApp, client *http.Client, url string) {
	t.Helper()
	tests := map[string]struct {
		method, path, mime string
		size               int
		known              bool // with a device's token
	}{
		"JSON above its limit":                 {"POST", "/api/core/about", "application/json", maxJSON + 1, true},
		"a push above its limit":               {"POST", "/api/sync/push", "application/json", maxPushBytes + 1, true},
		"a photo above its limit":              {"PUT", "/api/photos/" + strings.Repeat("a", 64), "image/jpeg", store.MaxPhotoBytes + 1, true},
		"above what is read of anyone":         {"POST", "/api/core/about", "application/json", 40 << 20, true},
		"above what is read of a stranger":     {"POST", "/api/pair", "application/json", strangeLimit + 1, false},
		"far above what is read of a stranger": {"PUT", "/api/photos/" + strings.Repeat("a", 64), "image/jpeg", 20 << 20, false},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			for range 5 {
				request, err := http.NewRequest(test.method, url+test.path, bytes.NewReader(make([]byte, test.size)))
				require.NoError(t, err)
				request.Header.Set("Content-Type", test.mime)
				if test.known {
					request.Header.Set("Authorization", "Bearer "+app.token)
				}
				response, err := client.Do(request)
				require.NoError(t, err)
				body, err := io.ReadAll(response.Body)
				require.NoError(t, err)
				response.Body.Close()
				assert.Equal(t, http.StatusRequestEntityTooLarge, response.StatusCode)
				code, _ := faultIn(t, string(body))
				assert.Equal(t, fault.TooLarge, code)
			}
		})
	}
}
