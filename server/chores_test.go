package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

var bookCommands = []string{"pair", "backup", "restore", "check", "compact", "unsent"}

func TestBookCommandsHaveHelp(t *testing.T) {
	for _, name := range bookCommands {
		for _, flag := range []string{"-h", "-help", "--help"} {
			var out, errs bytes.Buffer
			assert.Equal(t, exitOK, dispatch([]string{name, flag}, nil, &out, &errs), name)
			assert.True(t, strings.HasPrefix(out.String(), "Usage: wrackbook "+name+" "), out.String())
			assert.Empty(t, errs.String())
		}
	}
}

// Called the wrong way, each ends with 2 and says what is wrong; where there is no book or no
// file, with 1. Nothing is made meanwhile.
func TestBookCommandsCalledWrongly(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, []byte("no zip"), 0o600))
	none := filepath.Join(dir, "none")
	tests := map[string]struct {
		args string
		code int
		says string
	}{
		"pair, a word too many":          {"pair now", 2, `"now" is not understood`},
		"pair, an unknown flag":          {"pair -keeper", 2, "-keeper"},
		"pair, an address that is none":  {"pair -url ledge", 2, "-url"},
		"pair, no book":                  {"pair -data " + none, 1, "there is no book in " + none},
		"backup, no file":                {"backup -data " + none, 2, "something is missing"},
		"backup, two files":              {"backup a b", 2, `"b" is not understood`},
		"backup, no book":                {"backup -data " + none + " " + none + ".zip", 1, "there is no book"},
		"backup, over another file":      {"backup -data " + none + " " + file, 1, "is there already"},
		"backup, into no folder":         {"backup -data " + none + " " + none + "/x/b.zip", 1, "no such file"},
		"restore, nothing":               {"restore", 2, "something is missing"},
		"restore, no folder":             {"restore " + file, 2, "something is missing"},
		"restore, three":                 {"restore a b c", 2, `"c" is not understood`},
		"restore, no file":               {"restore " + none + " " + none, 1, "no such file"},
		"restore, no backup":             {"restore " + file + " " + none, 1, "no whole backup of a book"},
		"restore, over something":        {"restore " + file + " " + dir, 1, "no whole backup of a book"},
		"check, a word too many":         {"check " + none, 2, "is not understood"},
		"check, no book":                 {"check -data " + none, 1, "there is no book"},
		"compact, a word too many":       {"compact now", 2, `"now" is not understood`},
		"compact, no book":               {"compact -data " + none, 1, "There is no book at"},
		"unsent, no file":                {"unsent", 2, "something is missing"},
		"unsent, a file that is not":     {"unsent " + none, 1, "no such file"},
		"unsent, no book":                {"unsent -data " + none + " " + file, 1, "there is no book"},
		"unsent, an unknown flag":        {"unsent -role child " + file, 2, "-role"},
		"an unknown subcommand":          {"beckup", 2, `no subcommand "beckup"`},
		"a flag after what is no flag":   {"backup x -data y", 2, "is not understood"},
		"a flag without what belongs it": {"check -data", 2, "-data"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			var out, errs bytes.Buffer
			assert.Equal(t, test.code, dispatch(strings.Fields(test.args), strings.NewReader(""), &out, &errs))
			assert.Contains(t, errs.String(), test.says)
			assert.Empty(t, out.String())
		})
	}
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}

// Each does its work on a book that is being served, by asking the server, and on one that
// is not; compact wants the server stopped, and says so.
func TestBookCommandsServedAndStopped(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	crew := newCrew(t, server.url, code, 4)
	for _, m := range crew.members {
		m.write("find", m.uuid(), noon, "note", `"calm"`)
		require.NoError(t, m.drain(crew.to(server.url), noon))
	}
	phone := newPhone(77, "", false)
	for n, served := range []bool{true, false} {
		t.Run(map[bool]string{true: "served", false: "stopped"}[served], func(t *testing.T) {
			if !served {
				require.NoError(t, server.cmd.Process.Signal(syscall.SIGTERM))
				require.NoError(t, server.cmd.Wait())
				assert.NoFileExists(t, filepath.Join(dir, "household", controlName), "the socket is gone with the server")
			}
			ok := func(args ...string) string {
				t.Helper()
				code, out, errs := run(t, binary, dir, args...)
				require.Equal(t, exitOK, code, "%v: %s", args, errs)
				return out
			}
			zip := fmt.Sprintf("backup-%d.zip", n)
			assert.Contains(t, ok("backup", "-data", "household", zip), "Keep it on another disk")
			info, err := os.Stat(filepath.Join(dir, zip))
			require.NoError(t, err)
			assert.EqualValues(t, 0o600, info.Mode().Perm(), "a backup is its owner's")
			assert.Contains(t, ok("restore", zip, fmt.Sprintf("restored-%d", n)), "is ready to be served")
			checkBook(t, filepath.Join(dir, fmt.Sprintf("restored-%d", n)))
			code, _, errs := run(t, binary, dir, "restore", zip, fmt.Sprintf("restored-%d", n))
			assert.Equal(t, exitFailure, code)
			assert.Contains(t, errs, "is not empty")

			pair := ok("pair", "-data", "household")
			_, after, found := strings.Cut(pair, "/pair#")
			require.True(t, found, pair)
			assert.Equal(t, served, strings.Contains(pair, server.url), "the server says where it is")
			if served {
				var joined pairAnswer
				typed, _, _ := strings.Cut(after, "\n")
				crew.mustPost(t, server.url, "", "/api/pair", fmt.Sprintf(`{"code":%q,"name":"found again","bearer":true}`, typed), 201, &joined)
				assert.EqualValues(t, "keeper", joined.Device.Role)
			}

			// A phone that cannot reach the server hands out a file.
			photo := smallPhoto(n)
			phone.write("find", phone.uuid(), noon, "note", `"by hand"`, "photos/"+photoName(photo), "true")
			phone.write("event", phone.uuid(), noon, "overruled", "1")
			bad := journal.Change{ID: "x", Fields: map[string]json.RawMessage{"a": []byte("1")}}
			file := filepath.Join(dir, fmt.Sprintf("unsent-%d.json", n))
			require.NoError(t, os.WriteFile(file, unsentOf(append(phone.own, bad), photo), 0o600))
			for range 2 { // what is here already is not taken twice
				out := ok("unsent", "-data", "household", file)
				assert.Contains(t, out, fmt.Sprintf("%d changes and 1 photos are in the book.", n+1))
				assert.Contains(t, out, fmt.Sprintf("%d are kept and do not count: A collector may not set", n+1))
				assert.Contains(t, out, "1 were not kept: The change's id")
			}
			want := fmt.Sprintf("All is well: %d changes", len(crew.members)+2*(n+1))
			assert.Contains(t, ok("check", "-data", "household"), want)
			code, _, errs = run(t, binary, dir, "unsent", "-data", "household", "-as", "admiral", file)
			assert.Equal(t, exitUsage, code)
			assert.Contains(t, errs, "one of child, collector and keeper")

			code, out, errs := run(t, binary, dir, "compact", "-data", "household")
			if served {
				assert.Equal(t, exitFailure, code)
				assert.Contains(t, errs, "Another process has household/book.db open")
			} else {
				assert.Equal(t, exitOK, code, errs)
				assert.Contains(t, out, "bytes and has")
			}
			assert.Contains(t, ok("check", "-data", "household"), want)
		})
	}
}

// unsentOf is the file that a phone hands out.
func unsentOf(changes []journal.Change, photos ...[]byte) []byte {
	file := unsentFile{Wrackbook: "unsent", Protocol: 1, Photos: map[string]string{}}
	for _, c := range changes {
		file.Changes = append(file.Changes, c.Append(nil))
	}
	for _, p := range photos {
		file.Photos[photoName(p)] = base64.StdEncoding.EncodeToString(p)
	}
	data, _ := json.Marshal(file)
	return data
}

// A file of unsent changes may come from anywhere.
func TestUnsentFilesThatAreRefused(t *testing.T) {
	app, _ := newTestApp(t, nil)
	w := newWriter(8)
	change := w.change("find", w.uuid(), noon, "note", `"x"`)
	good := unsentOf([]journal.Change{change}, smallPhoto(1))
	tests := map[string]struct{ file, says string }{
		"nothing":          {"", "no file of what a phone has not sent"},
		"a page":           {"<html>", "no file of what a phone has not sent"},
		"another's":        {`{"kelp":1}`, "no file of what a phone has not sent"},
		"cut short":        {string(good[:len(good)-9]), "cut short"},
		"a later protocol": {strings.Replace(string(good), `"protocol":1`, `"protocol":2`, 1), "Update the older of the two"},
		"a spoilt photo":   {strings.Replace(string(good), `"iVBOR`, `"jVBOR`, 1), "is damaged"},
		"a path for one":   {`{"wrackbook":"unsent","protocol":1,"changes":[],"photos":{"../../x":"AAAA"}}`, "is damaged"},
		"no photo":         {string(unsentOf(nil, []byte("words"))), "no JPEG, PNG or WebP"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			var out bytes.Buffer
			err := unsentChore(app.book(t), task{as: "keeper", in: strings.NewReader(test.file), out: &out})
			require.Error(t, err)
			assert.Contains(t, err.Error(), test.says)
			assert.Empty(t, out.String())
		})
	}
	for _, role := range []string{"guest", "", "admiral"} {
		err := unsentChore(app.book(t), task{as: role, in: bytes.NewReader(good), out: io.Discard})
		require.Error(t, err)
		assert.Contains(t, err.Error(), "one of child, collector and keeper")
	}
}

// A backup is taken while twenty phones write: it restores to a whole book, a state that
// there was, and what came after it returns from the phones.
func TestBackupWhileTwentyPhonesWrite(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	crew := newCrew(t, server.url, code, 20)
	stop := make(chan struct{})
	var problems []error
	var working sync.WaitGroup
	working.Go(func() { problems = crew.work(server.url, stop) })
	var seen witness
	for n := range 4 { // the first while little is there
		for begin := seen.after; seen.after < begin+100; {
			seen.pullOn(t, crew, server.url)
		}
		at := seen.after
		name := fmt.Sprintf("backup-%d.zip", n)
		if n%2 == 0 {
			exit, _, errs := run(t, binary, dir, "backup", "-data", "household", name)
			require.Equal(t, exitOK, exit, errs)
		} else {
			status, body, err := crew.request("GET", server.url+"/api/backup", crew.members[0].token, "", nil)
			require.NoError(t, err)
			require.Equal(t, 200, status)
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), body, 0o600))
		}
		seen.pullOn(t, crew, server.url)
		restored := filepath.Join(dir, fmt.Sprint("restored-", n))
		exit, out, errs := run(t, binary, dir, "restore", name, restored)
		require.Equal(t, exitOK, exit, errs)
		assert.Contains(t, out, "ready to be served")
		report := checkBook(t, restored)
		assert.GreaterOrEqual(t, report.Head, at, "what was acknowledged before it is in it")
		assert.LessOrEqual(t, report.Head, seen.after)
		assert.Equal(t, 20, report.Devices)
	}
	close(stop)
	working.Wait()
	require.Empty(t, problems)
	server.kill(t)

	require.NoError(t, os.Rename(filepath.Join(dir, "household"), filepath.Join(dir, "lost")))
	require.NoError(t, os.Rename(filepath.Join(dir, "restored-1"), filepath.Join(dir, "household")))
	server, _ = startHousehold(t, binary, "127.0.0.1:0", dir)
	written := 0
	for _, m := range crew.members {
		require.NoError(t, m.catchUp(crew.to(server.url), noon, true))
		written += len(m.own)
	}
	after := witness{}
	after.pullOn(t, crew, server.url)
	assert.Len(t, after.all, written, "every change of every phone, once")
	for _, m := range crew.members[:2] {
		require.NoError(t, m.catchUp(crew.to(server.url), noon, true))
		assert.EqualValues(t, written, m.after)
	}
	assert.NoError(t, same("another phone", standing(crew.members[0].fold), standing(crew.members[1].fold)))
	bookWell(t, binary, dir)
}

// Who asks the server for a chore and goes away, or stops it meanwhile, breaks nothing.
func TestChoresThatBreakOff(t *testing.T) {
	app, _ := newTestApp(t, nil)
	house := app.api.house
	c := &control{house: house, site: app.api.site, log: app.api.log}
	house.whenOpened(c.listen)
	for range 30 {
		_, err := app.book(t).PutPhoto(append(smallPhoto(9), bytes.Repeat([]byte("sea"), 1<<20)...))
		require.NoError(t, err)
	}
	gone := &limited{left: 64 << 10}
	err := askServer(house.dir, "backup", task{out: gone})
	require.ErrorIs(t, err, errGone)
	require.NoError(t, askServer(house.dir, "check", task{out: io.Discard}))
	assert.ErrorIs(t, askServer(t.TempDir(), "check", task{out: io.Discard}), errNotServed)
	err = askServer(house.dir, "unsent", task{as: "keeper", in: strings.NewReader("words"), out: io.Discard})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "no file of what a phone has not sent")

	// An orderly stop waits for a chore that is under way; none is begun after it.
	slow, slowly := io.Pipe()
	result := make(chan error, 1)
	go func() { result <- askServer(house.dir, "unsent", task{as: "keeper", in: slow, out: io.Discard}) }()
	_, err = io.WriteString(slowly, strings.Repeat(" ", 1<<20)) // more than pipes and sockets hold: the chore is at it
	require.NoError(t, err)
	stopped := make(chan struct{})
	go func() { c.close(); close(stopped) }()
	require.Eventually(t, func() bool {
		return askServer(house.dir, "check", task{out: io.Discard}) == errNotServed
	}, 10*time.Second, time.Millisecond)
	_, err = slowly.Write(unsentOf(nil))
	require.NoError(t, err)
	slowly.Close()
	require.NoError(t, <-result)
	<-stopped
}

var errGone = fmt.Errorf("gone")

// limited takes so many bytes and no more.
type limited struct{ left int }

func (l *limited) Write(p []byte) (int, error) {
	if l.left -= len(p); l.left < 0 {
		return 0, errGone
	}
	return len(p), nil
}
