package main

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
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
)

// noon stands still, so that an answer that depends on the clock is the same each time.
var noon = time.Date(2026, 9, 26, 12, 0, 0, 0, time.UTC)

func newTestApp(t *testing.T, dist fstest.MapFS) (*fiber.App, *bytes.Buffer) {
	t.Helper()
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	files, err := loadAssets(dist)
	require.NoError(t, err)
	var log bytes.Buffer
	return newApp(c, files, func() time.Time { return noon }, slog.New(slog.NewTextHandler(&log, nil))), &log
}

func ask(t *testing.T, app *fiber.App, request *http.Request) (*http.Response, string) {
	t.Helper()
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
	app := fiber.New(fiber.Config{ErrorHandler: func(ctx *fiber.Ctx, err error) error { return answerError(ctx, err, logger) }})
	app.Use(recoverPanics(logger))
	app.Get("/", func(*fiber.Ctx) error { panic("a secret") })
	response, body := ask(t, app, httptest.NewRequest("GET", "/", nil))
	assert.Equal(t, 500, response.StatusCode)
	code, _ := faultIn(t, body)
	assert.Equal(t, fault.Internal, code)
	assert.NotContains(t, body, "secret")
	assert.Contains(t, log.String(), "app_test.go")
}

// Over a real socket a body of 10 MB of JSON gets an answer, not a reset: the phone must be
// able to tell "too large" from "no signal".
func TestLargeBodyIsAnsweredOverASocket(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	served := make(chan error, 1)
	go func() { served <- app.Listener(listener) }()
	t.Cleanup(func() {
		assert.NoError(t, app.ShutdownWithTimeout(5*time.Second))
		assert.NoError(t, <-served)
	})
	url := "http://" + listener.Addr().String() + "/api/core/about"
	for range 20 {
		response, err := http.Post(url, "application/json", bytes.NewReader(make([]byte, 10<<20)))
		require.NoError(t, err)
		body, err := io.ReadAll(response.Body)
		require.NoError(t, err)
		response.Body.Close()
		assert.Equal(t, http.StatusRequestEntityTooLarge, response.StatusCode)
		code, _ := faultIn(t, string(body))
		assert.Equal(t, fault.TooLarge, code)
	}
}
