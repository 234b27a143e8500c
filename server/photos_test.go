package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// putting is a request to keep a photo under a name.
func putting(token, name, mime string, photo []byte) *http.Request {
	request := as(token, "PUT", "/api/photos/"+name, string(photo))
	request.Header.Set("Content-Type", mime)
	return request
}

// claiming makes a PNG of a size that its header only claims (PNG specification, 11.2.1:
// IHDR is width, height, depth, colour type, compression, filter, interlace; then a CRC).
func claiming(width, height uint32) []byte {
	header := binary.BigEndian.AppendUint32([]byte("IHDR"), width)
	header = append(binary.BigEndian.AppendUint32(header, height), 8, 0, 0, 0, 0)
	photo := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), header...)
	return binary.BigEndian.AppendUint32(photo, crc32.ChecksumIEEE(header))
}

func TestPhotosThatAreRefused(t *testing.T) {
	app, log := newTestApp(t, fstest.MapFS{})
	png := smallPhoto(1)
	large := append(smallPhoto(2), make([]byte, store.MaxPhotoBytes)...)
	tests := map[string]struct {
		name, mime string
		photo      []byte
		status     int
		code       fault.Code
		says       string
	}{
		"another's name":            {photoName(smallPhoto(9)), "image/png", png, 422, fault.BadInput, "not those of that name"},
		"its name in capitals":      {strings.ToUpper(photoName(png)), "image/png", png, 422, fault.BadInput, "not those of that name"},
		"half a name":               {photoName(png)[:32], "image/png", png, 422, fault.BadInput, "not those of that name"},
		"no photo":                  {photoName([]byte("a note")), "image/jpeg", []byte("a note"), 422, fault.BadInput, "no JPEG, PNG or WebP"},
		"nothing":                   {photoName(nil), "image/jpeg", nil, 422, fault.BadInput, "no JPEG, PNG or WebP"},
		"a picture that is a page":  {photoName([]byte("<svg onload='x()'/>")), "image/svg+xml", []byte("<svg onload='x()'/>"), 422, fault.BadInput, "no JPEG, PNG or WebP"},
		"a header alone":            {photoName(png[:12]), "image/png", png[:12], 422, fault.BadInput, "header is damaged"},
		"what unfolds to gigabytes": {photoName(claiming(50_000, 50_000)), "image/png", claiming(50_000, 50_000), 422, fault.BadInput, "50000 × 50000 pixels"},
		"a line of pixels":          {photoName(claiming(50_000_001, 1)), "image/png", claiming(50_000_001, 1), 422, fault.BadInput, "pixels"},
		"no pixels":                 {photoName(claiming(0, 9)), "image/png", claiming(0, 9), 422, fault.BadInput, "header is damaged"},
		"too large":                 {photoName(large), "image/png", large, 413, fault.TooLarge, "at most 12582912"},
		"no type of a photo":        {photoName(png), "application/octet-stream", png, 415, fault.WrongType, "image/*"},
		"a form":                    {photoName(png), "multipart/form-data; boundary=x", png, 415, fault.WrongType, "image/*"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			response, body := send(t, app, putting(app.token, test.name, test.mime, test.photo))
			assert.Equal(t, test.status, response.StatusCode, body)
			code, message := faultIn(t, body)
			assert.Equal(t, test.code, code)
			assert.Contains(t, message, test.says)
		})
	}
	assert.Zero(t, filesIn(t, filepath.Join(app.api.house.dir, "photos")), "something of it is kept")
	assert.Empty(t, log.String(), "a phone's mistake is not a line in the log")
}

func filesIn(t *testing.T, dir string) (files int) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files++
		}
		return err
	}))
	return files
}

// A photo is kept once, however often it is sent, and shown to everyone of the household.
func TestPhotosAreSeen(t *testing.T) {
	app, log := newTestApp(t, fstest.MapFS{})
	_, guest := app.device(t, store.Guest)
	_, child := app.device(t, store.Child)
	photo := append(smallPhoto(4), []byte("<script>x()</script>")...) // what comes after a picture's end is nobody's
	name := photoName(photo)
	etag := `"` + name + `"`

	response, body := send(t, app, as(guest, "GET", "/api/photos/"+name, ""))
	assert.Equal(t, 404, response.StatusCode, "not yet")
	assert.Equal(t, "no-store", response.Header.Get("Cache-Control"), "and may come: %s", body)
	response, _ = send(t, app, putting(guest, name, "image/png", photo))
	assert.Equal(t, 403, response.StatusCode)
	response, _ = send(t, app, putting("", name, "image/png", photo))
	assert.Equal(t, 401, response.StatusCode)
	for range 2 {
		response, body = send(t, app, putting(child, name, "image/jpeg", photo)) // its type is what its header says
		require.Equal(t, 201, response.StatusCode, body)
		assert.JSONEq(t, `{"sha":"`+name+`"}`, body)
	}
	assert.Equal(t, 1, filesIn(t, filepath.Join(app.api.house.dir, "photos")))

	for _, method := range []string{"GET", "HEAD"} {
		response, body = send(t, app, as(guest, method, "/api/photos/"+name, ""))
		assert.Equal(t, 200, response.StatusCode)
		assert.Equal(t, "image/png", response.Header.Get("Content-Type"))
		assert.Equal(t, "nosniff", response.Header.Get("X-Content-Type-Options"))
		assert.Contains(t, response.Header.Get("Content-Security-Policy"), "default-src 'none'")
		assert.Equal(t, "private, max-age=31536000, immutable", response.Header.Get("Cache-Control"))
		assert.Equal(t, etag, response.Header.Get("ETag"))
		assert.EqualValues(t, len(photo), response.ContentLength, method)
		assert.Equal(t, method == "GET", body == string(photo))
	}
	for given, status := range map[string]int{etag: 304, "W/" + etag: 304, `"x", ` + etag: 304, "*": 304, `"x"`: 200, name: 200} {
		request := as(guest, "GET", "/api/photos/"+name, "")
		request.Header.Set("If-None-Match", given) // RFC 9110, 13.1.2
		response, body = send(t, app, request)
		assert.Equal(t, status, response.StatusCode, given)
		assert.Equal(t, status == 304, body == "", given)
	}

	// Its file rots on the disk: never shown, and mended by who has it.
	path := filepath.Join(app.api.house.dir, "photos", name[:2], name)
	require.NoError(t, os.WriteFile(path, append([]byte("\x89PNG"), photo[4:len(photo)-1]...), 0o600))
	response, body = send(t, app, as(guest, "GET", "/api/photos/"+name, ""))
	assert.Equal(t, 500, response.StatusCode)
	assert.Contains(t, body, "Send it again from the phone that took it")
	assert.NotContains(t, log.String(), name)
	response, _ = send(t, app, putting(child, name, "image/png", photo))
	assert.Equal(t, 201, response.StatusCode)
	response, body = send(t, app, as(guest, "GET", "/api/photos/"+name, ""))
	assert.Equal(t, 200, response.StatusCode)
	assert.True(t, body == string(photo))
}

// Names that are paths, plain and in every encoding, lead nowhere, to read or to write. They
// are sent by hand: clients tidy them up.
func TestPhotoNamesAreNoPaths(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	require.NoError(t, os.WriteFile(filepath.Join(app.api.house.dir, "outside.png"), smallPhoto(7), 0o600))
	before := filesIn(t, app.api.house.dir)
	url := app.listen(t)
	names := []string{
		"..", "../outside.png", "..%2foutside.png", "..%2Foutside.png", "%2e%2e/outside.png", "%2e%2e%2foutside.png", "%252e%252e%252foutside.png",
		"..%5coutside.png", `..\outside.png`, "%c0%ae%c0%ae%c0%afoutside.png", "....//outside.png", "/etc/passwd", "%2fetc%2fpasswd", "//etc/passwd",
		"new/x", "new%2fx", "book.db", "../book.db", "..%2fbook.db", "..%00", photoName(nil)[:63] + "%00", "%", "%zz", strings.Repeat("a", 64) + "/..", "?sha=x", "#x", "",
	}
	for _, name := range names {
		for _, method := range []string{"GET", "HEAD", "PUT"} {
			w := wireTo(url, strings.TrimPrefix(testSite, "https://"))
			require.NoError(t, w.open())
			photo := smallPhoto(7)
			_, err := fmt.Fprintf(w.conn, "%s /api/photos/%s HTTP/1.1\r\nHost: %s\r\nAuthorization: Bearer %s\r\nContent-Type: image/png\r\nContent-Length: %d\r\nConnection: close\r\n\r\n%s",
				method, name, w.host, app.token, len(photo), photo)
			require.NoError(t, err)
			response, err := http.ReadResponse(w.answers, &http.Request{Method: method})
			require.NoError(t, err, "%s %s", method, name)
			var body bytes.Buffer
			_, err = body.ReadFrom(response.Body)
			require.NoError(t, err)
			w.close()
			assert.Contains(t, []int{400, 404, 422}, response.StatusCode, "%s %q: %s", method, name, body.String())
			assert.NotContains(t, body.String(), "PNG")
			assert.NotContains(t, body.String(), "root:")
		}
	}
	assert.Equal(t, before, filesIn(t, app.api.house.dir))
}
