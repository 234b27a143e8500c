package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// What the tests of the household have in common: devices of each role, changes, photos.

// device joins a device of a role and gives its id and token.
func (app *testApp) device(t *testing.T, role store.Role) (id, token string) {
	t.Helper()
	book := app.book(t)
	code, err := book.Invite(role, time.Hour)
	require.NoError(t, err)
	d, token, err := book.Redeem(code, "a "+string(role)+"'s phone")
	require.NoError(t, err)
	return d.ID, token
}

// as makes a request as a browser on the app's own page does, with the cookie of a device.
func as(token, method, path, body string) *http.Request {
	request := httptest.NewRequest(method, path, strings.NewReader(body))
	if token != "" {
		request.AddCookie(&http.Cookie{Name: cookieName, Value: token})
	}
	request.Header.Set("Sec-Fetch-Site", "same-origin")
	if method != http.MethodGet && method != http.MethodHead {
		request.Header.Set("Origin", testSite)
		request.Header.Set("Content-Type", "application/json")
	}
	return request
}

// read sends a request, which must be answered with status, and decodes the answer.
func read[T any](t *testing.T, app *testApp, request *http.Request, status int) (answer T) {
	t.Helper()
	response, body := send(t, app, request)
	require.Equal(t, status, response.StatusCode, body)
	require.NoError(t, json.Unmarshal([]byte(body), &answer), body)
	return answer
}

// writer makes changes from a seed, as one device does.
type writer struct {
	*rand.Rand
	id    string
	clock *journal.Clock
}

func newWriter(seed uint64) *writer {
	w := &writer{Rand: rand.New(rand.NewPCG(seed, 7))}
	w.id = w.uuid()
	w.clock, _ = journal.NewClock(w.id, "") // the id is one
	return w
}

func (w *writer) uuid() string {
	a, b := w.Uint64(), w.Uint64()
	return fmt.Sprintf("%08x-%04x-7%03x-%04x-%012x", a>>32, a>>16&0xffff, a&0xfff, b>>48&0x3fff|0x8000, b&(1<<48-1))
}

// change sets fields, name after value, of a record.
func (w *writer) change(kind, record string, now time.Time, fields ...string) journal.Change {
	c := journal.Change{ID: w.uuid(), Kind: kind, Record: record, Stamp: w.clock.Next(now.UnixMilli()), Fields: map[string]json.RawMessage{}}
	for i := 0; i < len(fields); i += 2 {
		c.Fields[fields[i]] = json.RawMessage(fields[i+1])
	}
	return c
}

// pushBody is a push of changes.
func pushBody(epoch string, changes ...journal.Change) string {
	list := make([]json.RawMessage, len(changes))
	for i := range changes {
		list[i] = changes[i].Append(nil)
	}
	return fmt.Sprintf(`{"protocol":1,"epoch":%q,"now":%d`, epoch, noon.UnixMilli()) + string(appendChanges(nil, list)) + "}"
}

// The answers of the sync, as a phone reads them.
type pushAnswer struct {
	syncMark
	Results []pushResult `json:"results"`
}

type pullAnswer struct {
	syncMark
	Changes []json.RawMessage `json:"changes"`
	Next    uint64            `json:"next"`
	More    bool              `json:"more"`
}

// smallPhoto makes a PNG that differs by n.
func smallPhoto(n int) []byte {
	picture := image.NewGray(image.Rect(0, 0, 8, 8))
	for i := range 8 {
		picture.Pix[i] = byte(n >> (8 * i))
	}
	var b bytes.Buffer
	if err := png.Encode(&b, picture); err != nil {
		panic(err)
	}
	return b.Bytes()
}
