package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// The log is read by whoever mends the machine. Whatever happens, it holds no place, name,
// token, code or value of the household: here all of them are marked, everything goes wrong
// once, and the log is searched.
func TestLogKeepsQuiet(t *testing.T) {
	var log lockedBuffer
	app, _ := newTestApp(t, fstest.MapFS{})
	dir := filepath.Join(t.TempDir(), "household")
	logger := slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))
	options := store.Options{Now: func() time.Time { return app.now }, Logger: logger}
	open := func() {
		house, err := openHousehold(dir, options)
		require.NoError(t, err)
		app.api.house, app.api.log = house, logger
	}
	open()
	app.App = newApp(app.api, app.files)
	const mark = "periwinkle"
	secrets := map[string]string{"a value": mark, "a place": "51.4837", "a place, too": "-9.7231"}
	statuses := map[int]int{}
	ask := func(token, method, path, body string) string {
		t.Helper()
		request := as(token, method, path, body)
		if method == "PUT" {
			request.Header.Set("Content-Type", "image/png")
		}
		response, answer := send(t, app, request)
		statuses[response.StatusCode]++
		return answer
	}
	join := func(code string) (token string) {
		response, body := send(t, app, as("", "POST", "/api/pair", fmt.Sprintf(`{"code":%q,"name":"the phone of %s"}`, code, mark)))
		require.Equal(t, 201, response.StatusCode, body)
		token = response.Cookies()[0].Value
		secrets["a token "+fmt.Sprint(len(secrets))] = token
		return token
	}

	// Everything that is right.
	code, err := app.api.house.keeperCode()
	require.NoError(t, err)
	secrets["the first code"], secrets["as it is typed"] = code, readableCode(code)
	keeper := join(readableCode(code))
	var invitation struct{ Code, Link string }
	require.NoError(t, json.Unmarshal([]byte(ask(keeper, "POST", "/api/invitations", `{"role":"child","name":"`+mark+`"}`)), &invitation))
	secrets["an invitation"] = invitation.Code
	child := join(invitation.Code)
	p := newPhone(31, keeper, false)
	p.write("shore", p.uuid(), noon, "name", `"`+mark+`"`, "place", `{"lat":51.4837,"lon":-9.7231,"zone":"Europe/Dublin","distanceKm":null}`)
	find := p.uuid()
	p.write("find", find, noon, "note", `"`+mark+`"`, "position", `{"lat":51.4837,"lon":-9.7231,"accuracyM":5}`)
	require.NoError(t, p.catchUp(askOf(t, app), noon, true))
	photo := append(smallPhoto(1), mark...)
	secrets["a photo"] = photoName(photo)
	ask(child, "PUT", "/api/photos/"+photoName(photo), string(photo))
	ask(child, "GET", "/api/photos/"+photoName(photo), "")
	ask(keeper, "POST", "/api/sync/snapshot", `{"protocol":1}`)
	ask(keeper, "GET", "/api/devices", "")
	ask(keeper, "POST", "/api/core/windows", `{"shore":{"station":"`+mark+`","lat":51.4837}}`)
	backup := ask(keeper, "GET", "/api/backup", "")
	for name, input := range map[string]string{"pair": "", "check": "", "backup": "", "unsent": string(unsentOf(p.own, photo))} {
		require.NoError(t, chores[name](app.book(t), task{app.api.site, "child", strings.NewReader(input), io.Discard}), name)
	}

	// Everything that callers get wrong.
	for _, token := range []string{"", keeper, child, strings.Repeat("A", 43)} {
		for _, r := range routes {
			path := strings.NewReplacer(":call", mark, ":sha", mark, ":id", mark).Replace(r.path)
			for _, body := range []string{"", mark, `{"` + mark + `":1}`, `{"protocol":1,"epoch":"` + mark + `","cursor":"` + mark + `","changes":[{"id":"` + mark + `"}]}`,
				`{"protocol":1,"changes":[{"fields":{"` + mark + `":"51.4837"}},7]}`, `{"protocol":9}`, strings.Repeat(mark, 6000)} {
				if r.path != "/api/pair" { // has its own
					ask(token, r.method, path, body)
				}
			}
		}
		ask(token, "GET", "/"+mark, "")
		ask(token, "DELETE", "/api/"+mark+"?"+mark, mark)
	}
	for range triesEach + 2 {
		ask("", "POST", "/api/pair", `{"code":"`+readableCode(strings.Repeat("A", 32))+`","name":"`+mark+`"}`)
	}
	for _, file := range []string{mark, string(unsentOf(nil, []byte(mark)))} {
		require.Error(t, unsentChore(app.book(t), task{as: "child", in: strings.NewReader(file), out: io.Discard}))
	}
	elsewhere := httptest.NewRequest("POST", "https://"+mark+".example/api/sync/push", strings.NewReader(mark))
	elsewhere.Header.Set("Origin", "https://"+mark+".example")
	response, _ := send(t, app, elsewhere)
	statuses[response.StatusCode]++

	// Everything that goes wrong with the disk.
	path := filepath.Join(dir, "photos", photoName(photo)[:2], photoName(photo))
	require.NoError(t, os.WriteFile(path, []byte(mark), 0o600))
	ask(child, "GET", "/api/photos/"+photoName(photo), "")
	require.Error(t, checkChore(app.book(t), task{out: io.Discard}))
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "photos")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "photos"), []byte(mark), 0o600))
	ask(child, "PUT", "/api/photos/"+photoName(photo), string(photo))
	ask(child, "GET", "/api/photos/"+photoName(photo), "")
	ask(keeper, "GET", "/api/backup", "")
	require.NoError(t, app.api.house.close())
	ask(keeper, "GET", "/api/devices", "")
	whole, err := os.ReadFile(filepath.Join(dir, bookFile))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, bookFile), bytes.ReplaceAll(whole, []byte(mark), []byte("perixinkle")), 0o600))
	_, err = openHousehold(dir, options)
	require.Error(t, err)
	assert.NotContains(t, err.Error()+fmt.Sprintf("%+v", errorsIn(err)), "perixinkle")
	require.NoError(t, os.RemoveAll(dir))
	_, err = store.Restore(strings.NewReader(backup), int64(len(backup)), dir, options)
	require.NoError(t, err)
	open()
	require.NoError(t, p.catchUp(askOf(t, app), noon, true))
	require.NoError(t, os.Truncate(filepath.Join(dir, bookFile), 8192)) // under the open book
	ask(keeper, "POST", "/api/sync/pull", `{"protocol":1}`)
	p.write("find", find, noon, "note", `"`+mark+`"`)
	ask(keeper, "POST", "/api/sync/push", p.push(1, noon).body)
	require.NoError(t, os.RemoveAll(dir))

	said := log.String()
	for what, secret := range secrets {
		assert.NotContains(t, strings.ToLower(said), strings.ToLower(secret), what)
	}
	assert.NotContains(t, said, "perixinkle")
	for status, n := range map[int]int{200: 10, 201: 2, 400: 10, 401: 10, 403: 10, 404: 10, 409: 1, 413: 4, 415: 0, 422: 4, 426: 1, 429: 2, 500: 3, 503: 1} {
		assert.GreaterOrEqual(t, statuses[status], n, "too little of %d went wrong: %v", status, statuses)
	}
	for _, line := range []string{"book opened", "a backup was written", "a backup was restored", "not answered", "the book could not be read"} {
		assert.Contains(t, said, line)
	}
	assert.Greater(t, strings.Count(said, "\n"), 15)
}

// errorsIn lists an error and what it wraps.
func errorsIn(err error) (list []string) {
	for err != nil {
		list = append(list, err.Error())
		wrapped, ok := err.(interface{ Unwrap() error })
		if !ok {
			return list
		}
		err = wrapped.Unwrap()
	}
	return list
}
