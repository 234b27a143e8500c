package main

import (
	"net/http/httptest"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/pwa"
)

const page = "<!doctype html><title>page</title>"

func builtApp() fstest.MapFS {
	file := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	return fstest.MapFS{
		".keep":                          file(""),
		"build.json":                     file(`{"build":"b1","core":"c1"}`),
		"index.html":                     file(page),
		"index.html.gz":                  file("page as gzip"),
		"sw.js":                          file("worker"),
		"manifest.webmanifest":           file("{}"),
		"app.0123456789ab.js":            file("script"),
		"place.ABCD2345.js":              file("place"),
		"place.ABCD1890.js":              file("no hash of esbuild's, which has neither 0, 1, 8 nor 9"),
		"app.0123456789ab.js.br":         file("script as brotli"),
		"app.0123456789ab.js.gz":         file("script as gzip"),
		"core/core.ba9876543210.wasm":    file("wasm"),
		"icons/icon-32.aaaabbbbcccc.png": file("png"),
	}
}

const (
	forEver = "public, max-age=31536000, immutable"
	html    = "text/html; charset=utf-8"
	js      = "text/javascript; charset=utf-8"
	anyType = "text/html,application/xhtml+xml,*/*;q=0.8" // as a browser navigates
)

func TestAssets(t *testing.T) {
	app, _ := newTestApp(t, builtApp())
	tests := map[string]struct {
		method, path, accept, encodings string
		status                          int
		contentType, cache, encoding    string
		body                            string
	}{
		"the page":                    {"GET", "/", anyType, "", 200, html, "no-cache", "", page},
		"the page by name":            {"GET", "/index.html", "*/*", "", 200, html, "no-cache", "", page},
		"the page as gzip":            {"GET", "/", anyType, "gzip, deflate", 200, html, "no-cache", "gzip", "page as gzip"},
		"a place is the page":         {"GET", "/plan", anyType, "", 200, html, "no-cache", "", page},
		"a place only if navigated":   {"GET", "/plan", "*/*", "", 404, "", "no-store", "", ""},
		"a script":                    {"GET", "/app.0123456789ab.js", "*/*", "", 200, js, forEver, "", "script"},
		"a script that comes later":   {"GET", "/place.ABCD2345.js", "*/*", "", 200, js, forEver, "", "place"},
		"a script with another name":  {"GET", "/place.ABCD1890.js", "*/*", "", 200, js, "no-cache", "", "no hash of esbuild's, which has neither 0, 1, 8 nor 9"},
		"a script as brotli":          {"GET", "/app.0123456789ab.js", "*/*", "gzip, br", 200, js, forEver, "br", "script as brotli"},
		"a script as gzip":            {"GET", "/app.0123456789ab.js", "*/*", "gzip;q=1, br;q=0", 200, js, forEver, "gzip", "script as gzip"},
		"a script of another version": {"GET", "/app.000000000000.js", anyType, "", 404, "", "no-store", "", ""},
		"the wasm":                    {"GET", "/core/core.ba9876543210.wasm", "*/*", "br", 200, "application/wasm", forEver, "", "wasm"},
		"an icon":                     {"GET", "/icons/icon-32.aaaabbbbcccc.png", "*/*", "br", 200, "image/png", forEver, "", "png"},
		"the service worker":          {"GET", "/sw.js", "*/*", "", 200, js, "no-cache", "", "worker"},
		"the manifest":                {"GET", "/manifest.webmanifest", "*/*", "", 200, "application/manifest+json; charset=utf-8", "no-cache", "", "{}"},
		"only the head":               {"HEAD", "/", anyType, "", 200, html, "no-cache", "", ""},
		"a compressed twin by name":   {"GET", "/app.0123456789ab.js.br", anyType, "br", 404, "", "no-store", "", ""},
		"the mark of the build":       {"GET", "/build.json", anyType, "", 404, "", "no-store", "", ""},
		"a folder":                    {"GET", "/core/", "*/*", "", 404, "", "no-store", "", ""},
		"out of the folder":           {"GET", "/../../etc/passwd.txt", anyType, "", 404, "", "no-store", "", ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			request := httptest.NewRequest(test.method, test.path, nil)
			request.Header.Set("Accept", test.accept)
			request.Header.Set("Accept-Encoding", test.encodings)
			response, body := ask(t, app, request)
			require.Equal(t, test.status, response.StatusCode)
			assert.Equal(t, test.cache, response.Header.Get("Cache-Control"))
			assert.NotEmpty(t, response.Header.Get("Content-Security-Policy"))
			assert.Equal(t, "nosniff", response.Header.Get("X-Content-Type-Options"))
			if test.status != 200 {
				assert.NotContains(t, body, page)
				return
			}
			assert.Equal(t, test.contentType, response.Header.Get("Content-Type"))
			assert.Equal(t, test.encoding, response.Header.Get("Content-Encoding"))
			assert.Equal(t, test.body, body)
			if test.method == "GET" {
				again := httptest.NewRequest("GET", test.path, nil)
				again.Header = request.Header
				again.Header.Set("If-None-Match", `"other", `+response.Header.Get("ETag"))
				unchanged, nothing := ask(t, app, again)
				assert.Equal(t, 304, unchanged.StatusCode)
				assert.Empty(t, nothing)
			}
		})
	}
}

// The plain page and its compressed form must not share a tag, or a proxy mixes them.
func TestETagsDifferByEncoding(t *testing.T) {
	app, _ := newTestApp(t, builtApp())
	seen := map[string]string{}
	for _, encoding := range []string{"identity", "gzip", "br"} {
		request := httptest.NewRequest("GET", "/app.0123456789ab.js", nil)
		request.Header.Set("Accept-Encoding", encoding)
		response, _ := ask(t, app, request)
		tag := response.Header.Get("ETag")
		require.NotEmpty(t, tag)
		assert.Equal(t, "Accept-Encoding", response.Header.Get("Vary"))
		assert.Empty(t, seen[tag], encoding)
		seen[tag] = encoding
	}
}

func TestWithoutAnApp(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{".keep": {}})
	request := httptest.NewRequest("GET", "/", nil)
	request.Header.Set("Accept", anyType)
	response, body := ask(t, app, request)
	assert.Equal(t, 503, response.StatusCode)
	assert.Equal(t, html, response.Header.Get("Content-Type"))
	assert.Contains(t, body, pwa.BuildCommand)
}

func TestLoadAssetsRefuses(t *testing.T) {
	tests := map[string]fstest.MapFS{
		"a type it does not know":      {"notes.doc": {}},
		"a compressed file on its own": {"app.js.br": {}},
		"a damaged mark":               {"build.json": {Data: []byte("{")}},
	}
	for name, dist := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := loadAssets(dist)
			assert.Error(t, err)
		})
	}
}

// By the rules of RFC 9110, section 12.5.3; the lines marked so are its examples, as
// remembered.
func TestAcceptsEncoding(t *testing.T) {
	tests := []struct {
		header string
		br     bool
	}{
		{"", false},
		{"*", true}, // RFC example
		{"gzip;q=1.0, identity; q=0.5, *;q=0", false}, // RFC example
		{"compress;q=0.5, gzip;q=1.0", false},         // RFC example
		{"gzip, deflate, br, zstd", true},
		{"BR", true},
		{"br;q=0", false},
		{"br; q=0.001", true},
		{"*, br;q=0", false},
		{"br;q=nonsense", false},
		{"brotli", false},
	}
	for _, test := range tests {
		assert.Equal(t, test.br, acceptsEncoding(test.header, "br"), test.header)
	}
}
