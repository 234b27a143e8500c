package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// leftInBook lists the passing files in the book's folder.
func leftInBook(t *testing.T, dir string) []string {
	t.Helper()
	left, err := filepath.Glob(filepath.Join(dir, backupNew))
	require.NoError(t, err)
	return left
}

// What is fetched can be restored into the same book.
func TestFetchedBackupRestores(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	photo := smallPhoto(3)
	name, err := app.book(t).PutPhoto(photo)
	require.NoError(t, err)
	w := newWriter(9)
	read[pushAnswer](t, app, as(app.token, "POST", "/api/sync/push", pushBody("", w.change("member", w.uuid(), noon, "name", `"Ada"`))), 200)

	response, body := send(t, app, as(app.token, "GET", "/api/backup", ""))
	require.Equal(t, 200, response.StatusCode, body)
	assert.Equal(t, "application/zip", response.Header.Get("Content-Type"))
	assert.Equal(t, `attachment; filename="wrackbook-2026-09-26.zip"`, response.Header.Get("Content-Disposition"))
	assert.Equal(t, "no-store", response.Header.Get("Cache-Control"))
	assert.EqualValues(t, len(body), response.ContentLength)
	assert.Empty(t, leftInBook(t, app.api.house.dir), "it is gone once it is fetched")

	dir := filepath.Join(t.TempDir(), "again")
	m, err := store.Restore(strings.NewReader(body), int64(len(body)), dir, store.Options{})
	require.NoError(t, err)
	assert.EqualValues(t, 1, m.Head)
	assert.Equal(t, 1, checkBook(t, dir).Devices)
	restored, err := os.ReadFile(filepath.Join(dir, "photos", name[:2], name))
	require.NoError(t, err)
	assert.Equal(t, photo, restored)
}

// A server that was killed while it sent one leaves nothing for good.
func TestKilledBackupIsSweptUp(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	dir := app.api.house.dir
	left, err := os.CreateTemp(dir, backupNew)
	require.NoError(t, err)
	require.NoError(t, left.Close())
	require.NoError(t, app.api.house.close())
	book, err := store.Open(dir, store.Options{})
	require.NoError(t, err)
	require.NoError(t, book.Close())
	assert.NoFileExists(t, left.Name())
}

// One at a time; a caller who goes away in the midst of it makes room for the next, and
// nothing of any of it is held in memory.
func TestLargeBackup(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	const photos, photoBytes = 12, 8 << 20
	noise := rand.NewChaCha8([32]byte{1})
	for n := range photos {
		photo := bytes.NewBuffer(smallPhoto(n))
		_, err := io.CopyN(photo, noise, photoBytes)
		require.NoError(t, err)
		_, err = app.book(t).PutPhoto(photo.Bytes())
		require.NoError(t, err)
	}
	url := app.listen(t)
	dir := app.api.house.dir
	address := strings.TrimPrefix(url, "http://")

	// The first has read no more than the head, so its backup waits on the disk.
	before := liveBytes()
	first, err := net.Dial("tcp", address)
	require.NoError(t, err)
	defer first.Close()
	_, err = fmt.Fprintf(first, "GET /api/backup HTTP/1.1\r\nHost: %s\r\nAuthorization: Bearer %s\r\n\r\n", address, app.token)
	require.NoError(t, err)
	head, err := bufio.NewReaderSize(first, 64).ReadString('\n')
	require.NoError(t, err)
	require.Contains(t, head, "200 OK")
	assert.Len(t, leftInBook(t, dir), 1)
	assert.Less(t, liveBytes(), before+photos*photoBytes/4, "what waits is held in memory")

	get := func() *http.Response {
		request, err := http.NewRequest("GET", url+"/api/backup", nil)
		require.NoError(t, err)
		request.Header.Set("Authorization", "Bearer "+app.token)
		response, err := http.DefaultClient.Do(request)
		require.NoError(t, err)
		return response
	}
	second := get()
	body, err := io.ReadAll(second.Body)
	second.Body.Close()
	require.NoError(t, err)
	assert.Equal(t, 503, second.StatusCode)
	code, _ := faultIn(t, string(body))
	assert.Equal(t, fault.Unavailable, code)
	assert.Equal(t, "60", second.Header.Get("Retry-After"))

	require.NoError(t, first.Close())
	require.Eventually(t, func() bool {
		free := app.api.backingUp.TryLock()
		if free {
			app.api.backingUp.Unlock()
		}
		return free
	}, patience, time.Millisecond, "the server has seen that nobody fetches any more")
	assert.Empty(t, leftInBook(t, dir), "the first is gone, its copy is not")

	third := get()
	defer third.Body.Close()
	require.Equal(t, 200, third.StatusCode)
	size, err := io.Copy(io.Discard, third.Body)
	require.NoError(t, err)
	assert.Equal(t, third.ContentLength, size)
	assert.Greater(t, size, int64(photos*photoBytes))
}

// liveBytes is what the heap holds that is in use.
func liveBytes() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// Whoever gets on, however slowly, is not cut off: each piece has the time that others have
// for a whole answer.
func TestSlowDownload(t *testing.T) {
	file, err := os.CreateTemp(t.TempDir(), "*")
	require.NoError(t, err)
	_, err = file.WriteString("ab")
	require.NoError(t, err)
	_, err = file.Seek(0, io.SeekStart)
	require.NoError(t, err)
	conn := &deadlines{}
	ended := 0
	d := &download{file: file, conn: conn, done: func() { ended++ }}
	began := time.Now()
	for range 2 {
		_, err := d.Read(make([]byte, 1))
		require.NoError(t, err)
	}
	require.Len(t, conn.write, 2)
	for _, at := range conn.write {
		assert.WithinRange(t, at, began.Add(writeTimeout), time.Now().Add(writeTimeout))
	}
	require.NoError(t, d.Close())
	assert.Equal(t, 1, ended)
	assert.NoFileExists(t, file.Name())
}

// deadlines is a connection that notes what it may take.
type deadlines struct {
	net.Conn
	write []time.Time
}

func (c *deadlines) SetWriteDeadline(at time.Time) error {
	c.write = append(c.write, at)
	return nil
}
