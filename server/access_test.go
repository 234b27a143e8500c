package main

import (
	"net/http"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// mayCall says, route by route, what it answers whom it lets in, and who that is: everyone,
// or the roles by their first letters: Guest, cHild, cOllector, Keeper. It is written by
// hand after "Doors and locks" and is not read off the table in routes.go.
var mayCall = map[string]struct {
	body   string
	status int
	who    string
}{
	"GET /api/health":                {"", 200, "everyone"},
	"HEAD /api/health":               {"", 200, "everyone"},
	"POST /api/pair":                 {`{"code":"00000-00000","name":"x"}`, 404, "everyone"},
	"GET /api/me":                    {"", 200, "GHOK"},
	"POST /api/core/:call":           {"{}", 200, "GHOK"},
	"POST /api/sync/pull":            {`{"protocol":1}`, 200, "GHOK"},
	"POST /api/sync/snapshot":        {`{"protocol":1}`, 200, "GHOK"},
	"POST /api/sync/history":         {`{"protocol":1,"kind":"find","id":"01a212ed-c134-725b-ada5-4bbfc285ad75"}`, 200, "GHOK"},
	"GET /api/photos/:sha":           {"", 200, "GHOK"},
	"HEAD /api/photos/:sha":          {"", 200, "GHOK"},
	"POST /api/sync/push":            {`{"protocol":1,"changes":[]}`, 200, "HOK"},
	"PUT /api/photos/:sha":           {string(smallPhoto(1)), 201, "HOK"},
	"GET /api/devices":               {"", 200, "K"},
	"POST /api/devices/:id/shut-out": {"{}", 200, "K"},
	"POST /api/invitations":          {`{"role":"guest"}`, 201, "K"},
	"GET /api/backup":                {"", 200, "K"},
}

func TestEveryRouteForEveryone(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	name, err := app.book(t).PutPhoto(smallPhoto(1))
	require.NoError(t, err)
	outID, outToken := app.device(t, store.Keeper)
	require.NoError(t, app.book(t).ShutOut(outID))
	callers := map[string]string{"": "", "wrong": strings.Repeat("A", 43), "shut out": outToken}
	for letter, role := range map[string]store.Role{"G": store.Guest, "H": store.Child, "O": store.Collector, "K": store.Keeper} {
		_, callers[letter] = app.device(t, role)
	}
	require.Len(t, callers, 7)

	seen := map[string]bool{}
	for _, r := range routes {
		key := r.method + " " + r.path
		want, ok := mayCall[key]
		require.True(t, ok, "say in mayCall who may use %s", key)
		require.False(t, seen[key], "%s is there twice", key)
		seen[key] = true
		path := strings.NewReplacer(":call", "about", ":sha", name, ":id", outID).Replace(r.path)
		for who, token := range callers {
			t.Run(key+" "+who, func(t *testing.T) {
				request := as(token, r.method, path, want.body)
				if r.takes == "image/*" {
					request.Header.Set("Content-Type", "image/png")
				}
				status, code := want.status, fault.Code("")
				switch _, isRole := map[string]bool{"G": true, "H": true, "O": true, "K": true}[who]; {
				case want.who == "everyone" || isRole && strings.Contains(want.who, who):
				case isRole:
					status, code = 403, fault.NotAllowed
				default:
					status, code = 401, fault.NoDevice
				}
				response, body := send(t, app, request)
				assert.Equal(t, status, response.StatusCode, body)
				if code != "" && r.method != http.MethodHead {
					got, _ := faultIn(t, body)
					assert.Equal(t, code, got)
					assert.Equal(t, status == 401, response.Header.Get("WWW-Authenticate") != "")
				}
			})
		}
	}
	assert.Len(t, mayCall, len(seen), "mayCall speaks of routes that are not there")

	// Nothing answers under /api that is not in the table.
	for _, r := range app.GetRoutes(true) {
		if strings.HasPrefix(r.Path, "/api") {
			assert.True(t, seen[r.Method+" "+r.Path], "%s %s is not in the table of routes", r.Method, r.Path)
		}
	}
}

// Every kind and field of the book, pushed from a device of every role: who may not write
// it gets a reason, the change is kept, and the record does not change.
func TestEveryFieldFromEveryRole(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	kept := app.book(t)
	w := newWriter(1)
	asked, refused := 0, map[store.Role]int{}
	for _, role := range []store.Role{store.Child, store.Collector, store.Keeper} {
		_, token := app.device(t, role)
		var changes []journal.Change
		add := func(kind, field string) { changes = append(changes, w.change(kind, w.uuid(), noon, field, "1")) }
		for _, kind := range append(book.Kinds(), &book.Kind{Name: "kind-of-later"}) {
			for _, field := range kind.Fields {
				add(kind.Name, strings.Replace(field.Name, "*", "x", 1))
			}
			add(kind.Name, "fieldOfLater")
		}
		answer := read[pushAnswer](t, app, as(token, "POST", "/api/sync/push", pushBody("", changes...)), 200)
		require.Len(t, answer.Results, len(changes))
		for i, c := range changes {
			asked++
			r := answer.Results[i]
			require.Nil(t, r.Error)
			require.NotZero(t, r.Seq, "it is kept in any case")
			var field string
			for field = range c.Fields {
			}
			may := book.MayWrite(role, c.Kind, field)
			assert.Equal(t, may, r.Refused == "", "%s: %s.%s: %s", role, c.Kind, field, r.Refused)
			record, err := kept.Record(c.Key())
			require.NoError(t, err)
			require.NotNil(t, record)
			assert.Equal(t, may, record.Exists(), "%s: %s.%s", role, c.Kind, field)
			if !may {
				refused[role]++
			}
		}
	}
	assert.Greater(t, asked, 300)
	assert.Zero(t, refused[store.Keeper], "a keeper may everything")
	assert.Greater(t, refused[store.Child], refused[store.Collector])
	assert.Positive(t, refused[store.Collector])
}

// The promises about children, as the design makes them, whatever the table says.
func TestWhatAChildMayWrite(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	_, token := app.device(t, store.Child)
	w := newWriter(2)
	tests := map[string]struct {
		kind, field string
		may         bool
	}{
		"logs a find":            {"find", "taxon", true},
		"adds a photo to it":     {"find", "photos/" + strings.Repeat("a", 64), true},
		"logs a check":           {"event", "checked", true},
		"raises a sign":          {"event", "sign", true},
		"clears":                 {"event", "cleared", false},
		"overrules":              {"event", "overruled", false},
		"confirms a quiet day":   {"event", "confirmed", false},
		"moves an animal":        {"event", "moved", false},
		"writes a member":        {"member", "contact", false},
		"writes of a later kind": {"kind-of-later", "x", false},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			c := w.change(test.kind, w.uuid(), noon, test.field, "1")
			answer := read[pushAnswer](t, app, as(token, "POST", "/api/sync/push", pushBody("", c)), 200)
			assert.Equal(t, test.may, answer.Results[0].Refused == "", answer.Results[0].Refused)
		})
	}

	// One field that it may not set keeps the whole change out.
	c := w.change("event", w.uuid(), noon, "checked", "1", "cleared", "1")
	answer := read[pushAnswer](t, app, as(token, "POST", "/api/sync/push", pushBody("", c)), 200)
	assert.Contains(t, answer.Results[0].Refused, `"cleared"`)
}

// A child's device speaks for no adult, whose look would make a quiet day, and alters nothing
// that others have seen.
func TestAChildSpeaksForItself(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	_, token := app.device(t, store.Child)
	w := newWriter(3)
	mum, kid, sign, look := w.uuid(), w.uuid(), w.uuid(), w.uuid()
	push := func(token string, c journal.Change) string {
		t.Helper()
		return read[pushAnswer](t, app, as(token, "POST", "/api/sync/push", pushBody("", c)), 200).Results[0].Refused
	}
	for _, c := range []journal.Change{
		w.change("member", mum, noon, "name", `"Mara"`, "age", `"adult"`), w.change("member", kid, noon, "name", `"Ada"`, "age", `"child"`),
		w.change("event", sign, noon, "sign", `{"of":"tank/x","by":"`+mum+`","what":"a leaf of Caulerpa","grade":"notify"}`),
		w.change("event", look, noon, "checked", `{"of":"tank/x","by":"`+mum+`","signs":["spots"]}`),
	} {
		require.Empty(t, push(app.token, c))
	}
	mine := w.uuid()
	for _, row := range []struct {
		name   string
		change journal.Change
		may    bool
	}{
		{"a look of its own", w.change("event", mine, noon, "checked", `{"of":"tank/x","by":"`+kid+`","signs":[]}`), true},
		{"a look of nobody named", w.change("event", w.uuid(), noon, "checked", `{"of":"tank/x","by":null,"signs":[]}`), true},
		{"a look in an adult's name", w.change("event", w.uuid(), noon, "checked", `{"of":"tank/x","by":"`+mum+`","signs":[]}`), false},
		{"a death that an adult explains", w.change("event", w.uuid(), noon, "died", `{"of":"specimen/x","by":"`+mum+`","explained":"old age"}`), false},
		{"a sign", w.change("event", w.uuid(), noon, "sign", `{"of":"tank/x","by":"`+kid+`","what":"spots","grade":"unsure"}`), true},
		{"its photo beside another's sign", w.change("event", sign, noon, "photos/"+strings.Repeat("a", 64), "true"), true},
		{"another's sign made harmless", w.change("event", sign, noon, "sign", `{"of":"tank/x","by":"`+kid+`","what":"a leaf","grade":"harmless"}`), false},
		{"another's look without what it saw", w.change("event", look, noon, "checked", `{"of":"tank/x","by":"`+kid+`","signs":[]}`), false},
		{"the same once more", w.change("event", mine, noon, "checked", `{"of":"tank/x","by":"`+kid+`","signs":[]}`), true},
	} {
		refused := push(token, row.change)
		assert.Equal(t, row.may, refused == "", "%s: %s", row.name, refused)
	}
	assert.Empty(t, push(app.token, w.change("event", sign, noon, "sign", `{"of":"tank/x","by":"`+mum+`","what":"sea lettuce after all","grade":"harmless"}`)), "an adult's device may")
}

// Children and guests get no address, neither by pulling nor in a snapshot, and nobody else
// misses one.
func TestWhoSeesAddresses(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	w := newWriter(3)
	person, outing := w.uuid(), w.uuid()
	secrets := []string{"1 Kelp Lane", "0123 456"}
	pushed := pushBody("",
		w.change("member", person, noon, "name", `"Ada"`, "contact", `"1 Kelp Lane"`),
		w.change("member", person, noon, "contact", `"1 Kelp Lane, Dulse"`),
		w.change("outing", outing, noon, "note", `"calm"`, "ashoreCall", `"0123 456"`))
	read[pushAnswer](t, app, as(app.token, "POST", "/api/sync/push", pushed), 200)
	for role, sees := range map[store.Role]bool{store.Keeper: true, store.Collector: true, store.Child: false, store.Guest: false} {
		_, token := app.device(t, role)
		pulled := read[pullAnswer](t, app, as(token, "POST", "/api/sync/pull", `{"protocol":1}`), 200)
		_, snapshot := send(t, app, as(token, "POST", "/api/sync/snapshot", `{"protocol":1}`))
		_, journal := send(t, app, as(token, "POST", "/api/sync/pull", `{"protocol":1}`))
		_, past := send(t, app, as(token, "POST", "/api/sync/history", `{"protocol":1,"kind":"member","id":"`+person+`"}`))
		assert.Equal(t, sees, strings.Contains(past, secrets[0]), "%s reads the past", role)
		assert.Contains(t, past, `"Ada"`, role)
		for _, secret := range secrets {
			assert.Equal(t, sees, strings.Contains(journal, secret), "%s pulls %s", role, secret)
			assert.Equal(t, sees, strings.Contains(snapshot, secret), "%s takes %s", role, secret)
		}
		for _, plain := range []string{`"Ada"`, `"calm"`} {
			assert.Contains(t, journal, plain, role)
			assert.Contains(t, snapshot, plain, role)
		}
		assert.EqualValues(t, 3, pulled.Next, "what is hidden is passed over, not asked for again")
		assert.False(t, pulled.More)
	}
}
