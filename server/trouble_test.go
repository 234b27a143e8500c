package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// The delivered program on a full disk, in a folder that it may not write, over a damaged
// file, beside a second one: each ends in a sentence that says what to do, and nothing that
// was acknowledged is lost. internal/store has tests of its own for most of it.

// under makes a program of the server started by another: a line of shell, in which "$@" is
// the server with its arguments.
func under(t *testing.T, binary, line string) string {
	t.Helper()
	name := filepath.Join(openFolder(t), "wrackbook")
	require.NoError(t, os.WriteFile(name, []byte("#!/bin/sh\nset -e\nset -- '"+binary+"' \"$@\"\n"+line+"\n"), 0o755))
	return name
}

// openFolder makes a folder that any user may look into.
func openFolder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "wrackbook-open-")
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, os.RemoveAll(dir)) })
	require.NoError(t, os.Chmod(dir, 0o755))
	return dir
}

// errorOf reads the one form of an error.
func errorOf(t *testing.T, body []byte) errorDetail {
	t.Helper()
	var answer errorBody
	require.NoError(t, json.Unmarshal(body, &answer), "%s", body)
	return answer.Error
}

// startFails starts a server that must not come up, and gives what it said.
func startFails(t *testing.T, binary, dir string) (stderr string) {
	t.Helper()
	code, out, stderr := run(t, binary, dir, "serve", "-addr", "127.0.0.1:0", "-data", "household")
	assert.Equal(t, exitFailure, code, out)
	assert.NotContains(t, stderr, "panic")
	assert.NotContains(t, stderr, "goroutine")
	return stderr
}

// The household lies on a disk of six megabytes that somebody else's file fills up: a tmpfs
// in a mount namespace of the server's own, for which no rights are needed.
func TestFullDisk(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "household"), 0o700))
	server, code := startHousehold(t, under(t, binary,
		`exec unshare --user --map-root-user --mount sh -c 'mount -t tmpfs -o size=6m tmpfs household && cd . && exec "$@"' sh "$@"`), "127.0.0.1:0", dir)
	inside := filepath.Join("/proc", fmt.Sprint(server.cmd.Process.Pid), "root", dir, "household")
	require.NoError(t, os.WriteFile(filepath.Join(inside, "ballast"), make([]byte, 4<<20), 0o600), "unshare(1) must be able to mount a tmpfs here")
	crew := newCrew(t, server.url, code, 6)
	ask := crew.to(server.url)

	full := 0
	for n := 0; full < 20; n++ {
		require.Less(t, n, 5000, "the disk does not fill up")
		m := crew.members[n%len(crew.members)]
		m.write("find", m.uuid(), noon, "note", `"`+strings.Repeat("a long note of the shore ", 60)+`"`)
		l := m.push(10, noon)
		status, body, err := ask(m.token, l)
		require.NoError(t, err)
		if status == 200 {
			var a syncAnswer
			require.NoError(t, json.Unmarshal(body, &a))
			for _, r := range a.Results {
				m.acked[r.ID] = r.Seq
			}
			_, err = m.receive(l, status, body)
			require.NoError(t, err)
			continue
		}
		full++
		require.Equal(t, 507, status, "%s", body)
		assert.Equal(t, fault.DiskFull, errorOf(t, body).Code)
		assert.Contains(t, errorOf(t, body).Message, "make room")
		var mark syncMark
		require.NoError(t, json.Unmarshal(body, &mark))
		assert.NotEmpty(t, mark.Epoch, "it is an answer of the sync")
	}
	// Everything that writes says so; everything that reads goes on.
	keeper := crew.members[0].token
	photo := append(smallPhoto(1), make([]byte, 1<<20)...)
	status, body, err := crew.request("PUT", server.url+"/api/photos/"+photoName(photo), keeper, "image/png", photo)
	require.NoError(t, err)
	assert.Equal(t, 507, status, "%s", body)
	status, body, err = crew.request("GET", server.url+"/api/backup", keeper, "", nil)
	require.NoError(t, err)
	assert.Equal(t, 507, status, "%s", body)
	exit, _, errs := run(t, binary, filepath.Dir(inside), "backup", "-data", "household", filepath.Join(dir, "backup.zip"))
	assert.Equal(t, exitFailure, exit)
	assert.Contains(t, errs, "The disk that holds the book is full")
	assert.NoFileExists(t, filepath.Join(dir, "backup.zip"))
	bookWell(t, binary, filepath.Dir(inside))
	var seen witness
	seen.pullOn(t, crew, server.url)
	seen.holds(t, crew)
	left, err := filepath.Glob(filepath.Join(inside, "*.new"))
	require.NoError(t, err)
	assert.Empty(t, left, "left over on a full disk")

	require.NoError(t, os.Remove(filepath.Join(inside, "ballast")))
	written := 0
	for _, m := range crew.members {
		require.NoError(t, m.drain(ask, noon))
		written += len(m.own)
	}
	seen.pullOn(t, crew, server.url)
	seen.holds(t, crew)
	require.Len(t, seen.all, written)
	bookWell(t, binary, filepath.Dir(inside))
	server.kill(t)
	assert.Contains(t, server.stderr.String(), "disk_full")
	assert.NotContains(t, server.stderr.String(), "a long note")
}

// lived makes a household in a folder: made by a server that ran before, and a backup of it.
func lived(t *testing.T, binary, dir string) (c *crew, backup string) {
	t.Helper()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	c = newCrew(t, server.url, code, 3)
	for n, m := range c.members {
		for range 200 {
			m.write("find", m.uuid(), noon, "note", fmt.Sprintf(`"a find of phone %d"`, n))
		}
		require.NoError(t, m.drain(c.to(server.url), noon))
	}
	backup = filepath.Join(dir, "backup.zip")
	code1, _, errs := run(t, binary, dir, "backup", "-data", "household", backup)
	require.Equal(t, exitOK, code1, errs)
	server.kill(t)
	return c, backup
}

// The program runs as a user who may not write the folder, or not read it.
func TestFolderThatMayNotBeWritten(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	asUser, owner := binary, os.Geteuid()
	if owner == 0 { // root may everything: be nobody, who must be able to reach the program
		owner = 65534
		reachable := filepath.Join(openFolder(t), "server")
		data, err := os.ReadFile(binary)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(reachable, data, 0o755))
		asUser = under(t, reachable, `exec setpriv --reuid=65534 --regid=65534 --clear-groups "$@"`)
	}
	dir := openFolder(t)
	house := filepath.Join(dir, "household")
	book := filepath.Join(house, bookFile)
	crew, _ := lived(t, binary, dir)
	before, err := os.ReadFile(book)
	require.NoError(t, err)
	modes := func(folder, file, photos os.FileMode) {
		t.Helper()
		require.NoError(t, os.Chmod(house, 0o700))
		require.NoError(t, os.Chmod(book, file))
		require.NoError(t, os.Chmod(filepath.Join(house, "photos"), photos))
		require.NoError(t, os.Chmod(house, folder))
	}
	t.Cleanup(func() { modes(0o700, 0o600, 0o700) })

	modes(0o000, 0o600, 0o700)
	assert.Contains(t, startFails(t, asUser, dir), "The folder household cannot be read. Give the user that runs Wrackbook the right to it")
	modes(0o555, 0o444, 0o555)
	assert.Contains(t, startFails(t, asUser, dir), "household/book.db cannot be read and written by this user. Give the user")
	for _, args := range [][]string{{"check", "-data", "household"}, {"compact", "-data", "household"}} {
		code, _, errs := run(t, asUser, dir, args...)
		assert.Equal(t, exitFailure, code)
		assert.Contains(t, errs, "cannot be read and written by this user", args[0])
	}
	after, err := os.ReadFile(book)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(before, after))

	// The book may be written; photos may not, nor new files beside it.
	modes(0o700, 0o600, 0o700)
	require.NoError(t, filepath.WalkDir(house, func(name string, _ os.DirEntry, err error) error {
		require.NoError(t, err)
		return os.Chown(name, owner, -1)
	}))
	modes(0o555, 0o600, 0o555)
	server, _ := startHousehold(t, asUser, "127.0.0.1:0", dir)
	m := crew.members[1]
	m.write("find", m.uuid(), noon, "note", `"still taken"`)
	require.NoError(t, m.drain(crew.to(server.url), noon))
	photo := smallPhoto(3)
	status, body, err := crew.request("PUT", server.url+"/api/photos/"+photoName(photo), m.token, "image/png", photo)
	require.NoError(t, err)
	assert.Equal(t, 503, status, "%s", body)
	assert.Equal(t, fault.Unavailable, errorOf(t, body).Code)
	assert.Contains(t, errorOf(t, body).Message, "cannot be written")
	modes(0o755, 0o600, 0o755)
	status, body, err = crew.request("PUT", server.url+"/api/photos/"+photoName(photo), m.token, "image/png", photo)
	require.NoError(t, err)
	assert.Equal(t, 201, status, "%s", body)
	server.kill(t)

	// Nobody has joined yet, and there is nowhere to begin the book.
	empty := openFolder(t)
	require.NoError(t, os.Chmod(empty, 0o555))
	server, code := startHousehold(t, asUser, "127.0.0.1:0", empty)
	for range 2 {
		status, body, err = crew.to(server.url)("", letter{path: "/api/pair", body: fmt.Sprintf(`{"code":%q,"name":"x","bearer":true}`, code)})
		require.NoError(t, err)
		assert.Equal(t, 503, status, "%s", body)
		assert.NotContains(t, string(body), bookFile, "a stranger is told of the server's folders")
	}
	require.NoError(t, os.Chmod(empty, 0o777))
	status, body, err = crew.to(server.url)("", letter{path: "/api/pair", body: fmt.Sprintf(`{"code":%q,"name":"x","bearer":true}`, code)})
	require.NoError(t, err)
	assert.Equal(t, 201, status, "the code was not used up: %s", body)
	server.kill(t)
	assert.Contains(t, server.stderr.String(), "household/book.db cannot be read and written by this user")
}

// A damaged file is refused with a sentence, and not touched; the backup and the phones
// bring everything back.
func TestDamagedBook(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	book := filepath.Join(dir, "household", bookFile)
	crew, backup := lived(t, binary, dir)
	server, _ := startHousehold(t, binary, "127.0.0.1:0", dir)
	m := crew.members[2]
	m.write("find", m.uuid(), noon, "note", `"after the backup"`)
	require.NoError(t, m.drain(crew.to(server.url), noon))
	server.kill(t)
	whole, err := os.ReadFile(book)
	require.NoError(t, err)
	whole = whole[:(len(bytes.TrimRight(whole, "\x00"))+4095)&^4095] // bbolt has grown the file beyond its use
	place := bytes.Index(whole, []byte("a find of phone 1"))
	require.Positive(t, place)
	flipped := bytes.Clone(whole)
	flipped[place] ^= 4
	for name, data := range map[string][]byte{
		"a flipped bit": flipped, "half of it": whole[:len(whole)/2&^4095], "its first page": whole[:4096], "nothing": {}, "something else": []byte("<html>404</html>"),
	} {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, os.WriteFile(book, data, 0o600))
			for _, args := range [][]string{nil, {"check", "-data", "household"}, {"backup", "-data", "household", "x.zip"}, {"compact", "-data", "household"}} {
				errs := ""
				if args == nil {
					errs = startFails(t, binary, dir)
				} else {
					var code int
					code, _, errs = run(t, binary, dir, args...)
					assert.Equal(t, exitFailure, code)
				}
				assert.Contains(t, errs, "household/book.db", args)
				assert.Contains(t, errs, "damaged", args)
				assert.Contains(t, errs, "restore the newest backup", args)
				assert.NotContains(t, errs, "a find of phone")
			}
			kept, err := os.ReadFile(book)
			require.NoError(t, err)
			assert.True(t, bytes.Equal(data, kept), "a damaged book was written")
		})
	}
	assert.NoFileExists(t, filepath.Join(dir, "x.zip"))

	// Cut under the running program: an answer, no fall.
	require.NoError(t, os.WriteFile(book, whole, 0o600))
	server, _ = startHousehold(t, binary, "127.0.0.1:0", dir)
	require.NoError(t, os.Truncate(book, 8192))
	status, body, err := crew.to(server.url)(m.token, letter{path: "/api/sync/pull", body: `{"protocol":1}`})
	require.NoError(t, err)
	assert.Equal(t, 500, status, "%s", body)
	assert.Contains(t, errorOf(t, body).Message, "restore the newest backup")
	status, _, err = crew.request("GET", server.url+"/api/health", "", "", nil)
	require.NoError(t, err)
	assert.Equal(t, 200, status)
	server.kill(t)

	require.NoError(t, os.Rename(filepath.Join(dir, "household"), filepath.Join(dir, "damaged")))
	code, out, errs := run(t, binary, dir, "restore", backup, "household")
	require.Equal(t, exitOK, code, errs)
	assert.Contains(t, out, "600 changes")
	server, _ = startHousehold(t, binary, "127.0.0.1:0", dir)
	for _, m := range crew.members {
		require.NoError(t, m.catchUp(crew.to(server.url), noon, true))
	}
	for _, m := range crew.members {
		require.NoError(t, m.catchUp(crew.to(server.url), noon, true))
		assert.EqualValues(t, 601, m.after)
		assert.NoError(t, same("a phone", standing(crew.members[0].fold), standing(m.fold)))
	}
	server.kill(t)
	bookWell(t, binary, dir)
}

// One process holds the book; another says who to look for, and the first goes on.
func TestSecondServer(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	crew := newCrew(t, server.url, code, 2)
	for _, args := range [][]string{{"serve", "-addr", "127.0.0.1:0", "-data", "household"}, {"compact", "-data", "household"}} {
		code, out, errs := run(t, binary, dir, args...)
		assert.Equal(t, exitFailure, code, args)
		assert.Contains(t, errs, "Another process has household/book.db open", args)
		assert.Contains(t, errs, "pgrep -a wrackbook", args)
		assert.NotContains(t, out, "Wrackbook is at")
	}
	m := crew.members[1]
	m.write("find", m.uuid(), noon, "note", `"calm"`)
	require.NoError(t, m.drain(crew.to(server.url), noon))
	bookWell(t, binary, dir) // by the one that serves: its socket is still its own
	require.NoError(t, server.cmd.Process.Signal(os.Interrupt))
	var exit *exec.ExitError
	if err := server.cmd.Wait(); err != nil {
		require.ErrorAs(t, err, &exit)
		t.Fatalf("an orderly stop: %v %s", err, server.stderr)
	}
	bookWell(t, binary, dir)
}
