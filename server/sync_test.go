package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// askOf sends a phone's letters to an app in this process.
func askOf(t *testing.T, app *testApp) asker {
	return func(token string, l letter) (int, []byte, error) {
		response, body := send(t, app, as(token, "POST", l.path, l.body))
		return response.StatusCode, []byte(body), nil
	}
}

// What is no exchange of this protocol is refused by what is wrong with it, and the answer
// says all the same which protocol, which epoch and what time it is here.
func TestExchangesThatAreRefused(t *testing.T) {
	app, log := newTestApp(t, fstest.MapFS{})
	epoch := app.book(t).Meta().Epoch
	other := newWriter(9).uuid()
	many := strings.TrimSuffix(strings.Repeat("{},", maxPush+1), ",")
	tests := map[string]struct {
		path, body string
		status     int
		code       fault.Code
	}{
		"no JSON":                       {"push", `changes`, 400, fault.BadJSON},
		"cut short":                     {"push", `{"protocol":1,"changes":[{"id":"0`, 400, fault.BadJSON},
		"a list":                        {"pull", `[1]`, 400, fault.BadJSON},
		"no protocol":                   {"push", `{"changes":[]}`, 400, fault.BadJSON},
		"the protocol in words":         {"pull", `{"protocol":"1"}`, 400, fault.BadJSON},
		"changes that are no list":      {"push", `{"protocol":1,"changes":7}`, 400, fault.BadJSON},
		"a place that is none":          {"pull", `{"protocol":1,"after":-1}`, 400, fault.BadJSON},
		"an old protocol":               {"push", `{"protocol":0,"changes":[]}`, 426, fault.PleaseUpdate},
		"a later protocol":              {"pull", `{"protocol":2}`, 426, fault.PleaseUpdate},
		"a later protocol's form":       {"snapshot", `{"protocol":2,"cursor":[]}`, 426, fault.PleaseUpdate},
		"another epoch, push":           {"push", `{"protocol":1,"epoch":"` + other + `","changes":[]}`, 409, fault.OtherEpoch},
		"another epoch, pull":           {"pull", `{"protocol":1,"epoch":"` + other + `"}`, 409, fault.OtherEpoch},
		"another epoch, snapshot":       {"snapshot", `{"protocol":1,"epoch":"` + other + `"}`, 409, fault.OtherEpoch},
		"a place of no epoch":           {"pull", `{"protocol":1,"after":1}`, 409, fault.OtherEpoch},
		"a place past the end":          {"pull", `{"protocol":1,"epoch":"` + epoch + `","after":1}`, 409, fault.OtherEpoch},
		"a place far past the end":      {"pull", `{"protocol":1,"epoch":"` + epoch + `","after":18446744073709551615}`, 409, fault.OtherEpoch},
		"a cursor that is none":         {"snapshot", `{"protocol":1,"cursor":"x"}`, 409, fault.OtherEpoch},
		"a cursor of another epoch":     {"snapshot", `{"protocol":1,"cursor":"` + other + `.0.YQ"}`, 409, fault.OtherEpoch},
		"too many changes":              {"push", `{"protocol":1,"changes":[` + many + `]}`, 413, fault.TooLarge},
		"a pull of many bytes":          {"pull", `{"protocol":1,"x":"` + strings.Repeat("x", maxSmall) + `"}`, 413, fault.TooLarge},
		"a limit below one":             {"pull", `{"protocol":1,"limit":-1}`, 422, fault.BadInput},
		"a limit too high":              {"snapshot", `{"protocol":1,"limit":5001}`, 422, fault.BadInput},
		"a clock before 1970":           {"push", `{"protocol":1,"now":-1,"changes":[]}`, 422, fault.BadInput},
		"a clock after the year 9999":   {"push", `{"protocol":1,"now":253402300800000,"changes":[]}`, 422, fault.BadInput},
		"a clock that is no whole time": {"push", `{"protocol":1,"now":1.5,"changes":[]}`, 400, fault.BadJSON},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			response, body := send(t, app, as(app.token, "POST", "/api/sync/"+test.path, test.body))
			assert.Equal(t, test.status, response.StatusCode, body)
			code, _ := faultIn(t, body)
			assert.Equal(t, test.code, code)
			assert.Equal(t, test.status == 426, response.Header.Get("Upgrade") == "wrackbook-sync/1")
			var mark syncMark
			require.NoError(t, json.Unmarshal([]byte(body), &mark))
			assert.Equal(t, syncMark{1, epoch, noon.UnixMilli()}, mark)
		})
	}
	assert.Empty(t, log.String(), "a phone's mistake is not a line in the log")
}

// A change that is not of the form is answered in its place and holds up no other.
func TestOneBadChangeHoldsUpNoOther(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	w := newWriter(4)
	good, last := w.change("find", w.uuid(), noon, "note", `"calm"`), w.change("find", w.uuid(), noon, "note", `"mild"`)
	alike := func(alter func(map[string]any)) string {
		var m map[string]any
		c := w.change("find", w.uuid(), noon, "note", `"x"`)
		require.NoError(t, json.Unmarshal(c.Append(nil), &m))
		alter(m)
		data, err := json.Marshal(m)
		require.NoError(t, err)
		return string(data)
	}
	bad := map[string]string{ // by the field that the answer must name
		"stamp":   alike(func(m map[string]any) { m["stamp"] = "yesterday" }),
		"record":  alike(func(m map[string]any) { m["record"] = "../../etc" }),
		"kind":    alike(func(m map[string]any) { m["kind"] = "Find" }),
		"fields":  alike(func(m map[string]any) { m["fields"] = map[string]any{} }),
		"id":      alike(func(m map[string]any) { m["id"] = 7 }),
		"extra":   alike(func(m map[string]any) { m["extra"] = 1 }),
		"receipt": alike(func(m map[string]any) { m["receipt"] = map[string]any{"seq": 0, "atMs": 1} }),
		"":        `"change"`,
	}
	list := []string{string(good.Append(nil))}
	fields := []string{}
	for field, text := range bad {
		list, fields = append(list, text), append(fields, field)
	}
	tooLong := w.change("find", w.uuid(), noon, "note", `"`+strings.Repeat("a", journal.MaxChangeBytes)+`"`)
	list = append(list, string(tooLong.Append(nil)), string(last.Append(nil)))
	answer := read[pushAnswer](t, app, as(app.token, "POST", "/api/sync/push", `{"protocol":1,"changes":[`+strings.Join(list, ",")+`]}`), 200)
	require.Len(t, answer.Results, len(list))
	assert.Equal(t, pushResult{ID: good.ID, Seq: 1, AtMS: answer.Results[0].AtMS}, answer.Results[0])
	assert.Equal(t, pushResult{ID: last.ID, Seq: 2, AtMS: answer.Results[len(list)-1].AtMS}, answer.Results[len(list)-1])
	for i, field := range fields {
		r := answer.Results[i+1]
		require.NotNil(t, r.Error, field)
		assert.Equal(t, field, r.Error.Field, r.Error.Message)
		assert.Zero(t, r.Seq)
	}
	long := answer.Results[len(list)-2]
	require.NotNil(t, long.Error)
	assert.Equal(t, fault.TooLarge, long.Error.Code)
	assert.Equal(t, tooLong.ID, long.ID)

	// The same again: the receipts that they have. Other contents under an id stay out.
	forged := good
	forged.Fields = map[string]json.RawMessage{"note": []byte(`"storm"`)}
	again := read[pushAnswer](t, app, as(app.token, "POST", "/api/sync/push", pushBody("", last, forged)), 200)
	assert.Equal(t, answer.Results[len(list)-1], again.Results[0])
	altered := answer.Results[0]
	altered.Altered = true
	assert.Equal(t, altered, again.Results[1])
	pulled := read[pullAnswer](t, app, as(app.token, "POST", "/api/sync/pull", `{"protocol":1}`), 200)
	require.Len(t, pulled.Changes, 2)
	assert.Contains(t, string(pulled.Changes[0]), `"calm"`)
}

// A receipt that a phone sends along is not believed.
func TestPhonesGiveNoReceipts(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	w := newWriter(5)
	c := w.change("find", w.uuid(), noon, "note", `"calm"`)
	c.Receipt = &journal.Receipt{Seq: 900, AtMS: 1, Refused: "mine"}
	answer := read[pushAnswer](t, app, as(app.token, "POST", "/api/sync/push", pushBody("", c)), 200)
	assert.Equal(t, pushResult{ID: c.ID, Seq: 1, AtMS: noon.UnixMilli()}, answer.Results[0])
}

// Values of later programs, in forms that writers of JSON like to alter (RFC 8259 leaves
// 1.0, 1e3, escapes, repeated names and large integers to them), come back byte for byte.
func TestBytesPass(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	w := newWriter(6)
	fields := map[string]string{
		"fraction": `1.0`, "exponent": `1e3`, "minusZero": `-0.0`, "large": `12345678901234567890123`, "precise": `0.1000000000000000055511151231257827`,
		"escapes": `"\u00e9\/\u0041\ud83d\ude00"`, "loneSurrogate": `"\ud800"`, "zero": `"a\u0000b"`, "angle": `"<script>&\u2028"`, "plain": `"é 😀 \u003c"`,
		"spaced": "{ \"b\" : 1 ,\n\t\"a\":[ 1.50 , null ] }", "twice": `{"a":1,"a":2}`, "set/one": `true`, "later.part/x-y_z": `null`, "empty": `{}`,
	}
	var list []string
	for name, value := range fields {
		list = append(list, fmt.Sprintf("%q:%s", name, value))
	}
	id, record := w.uuid(), w.uuid()
	text := fmt.Sprintf(`{"id":%q, "kind":"kelp-line-2031","record":%q,"stamp":%q, "fields": {%s} }`, id, record, w.clock.Next(noon.UnixMilli()), strings.Join(list, " , "))
	answer := read[pushAnswer](t, app, as(app.token, "POST", "/api/sync/push", `{"protocol":1,"changes":[`+text+`]}`), 200)
	require.Nil(t, answer.Results[0].Error)
	require.Empty(t, answer.Results[0].Refused)

	holds := func(where string, changes []json.RawMessage) {
		t.Helper()
		require.Len(t, changes, 1, where)
		c, err := journal.DecodeChange(changes[0])
		require.NoError(t, err)
		assert.Equal(t, id, c.ID, where)
		require.Len(t, c.Fields, len(fields), where)
		for name, value := range fields {
			assert.Equal(t, value, string(c.Fields[name]), "%s: %s", where, name)
			assert.Contains(t, string(changes[0]), fmt.Sprintf("%q:%s", name, value), "%s, as text", where)
		}
	}
	pull := func(app *testApp, path string) []json.RawMessage {
		return read[pullChanges](t, app, as(app.token, "POST", "/api/sync/"+path, `{"protocol":1}`), 200).Changes
	}
	holds("pull", pull(app, "pull"))
	holds("snapshot", pull(app, "snapshot"))
	restored := app.restoredFrom(t, app.backedUp(t))
	holds("pull after a restore", pull(restored, "pull"))
	holds("snapshot after a restore", pull(restored, "snapshot"))
}

type pullChanges struct{ Changes []json.RawMessage }

// backedUp gives a backup of the app's book, fetched as a keeper fetches it.
func (app *testApp) backedUp(t *testing.T) []byte {
	t.Helper()
	response, body := send(t, app, as(app.token, "GET", "/api/backup", ""))
	require.Equal(t, 200, response.StatusCode, body)
	return []byte(body)
}

// restoredFrom is another app, with the household of a backup and the same keeper's token.
func (app *testApp) restoredFrom(t *testing.T, backup []byte) *testApp {
	t.Helper()
	other, _ := newTestApp(t, fstest.MapFS{})
	dir := filepath.Join(t.TempDir(), "restored")
	_, err := store.Restore(bytes.NewReader(backup), int64(len(backup)), dir, store.Options{})
	require.NoError(t, err)
	house, err := openHousehold(dir, store.Options{Now: func() time.Time { return other.now }})
	require.NoError(t, err)
	t.Cleanup(func() { // after the check of its own household, which closes that one
		assert.NoError(t, house.close())
		checkBook(t, dir)
	})
	other.api.house, other.token, other.now = house, app.token, app.now
	return other
}

// The server's disk died and a backup took its place. One phone had sent more since, one
// comes home with what it wrote before the backup, one joins anew: all agree afterwards, and
// what anyone wrote is there.
func TestRestoredServer(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	_, collector := app.device(t, store.Collector)
	newer, older := newPhone(11, app.token, false), newPhone(12, collector, false)
	shore, find := newer.uuid(), newer.uuid()
	home := func(app *testApp, phones ...*phone) {
		t.Helper()
		for _, p := range phones {
			require.NoError(t, p.catchUp(askOf(t, app), app.now, true))
		}
	}
	newer.write("shore", shore, app.now, "name", `"Gull Ledge"`, "escape", `"up the gully"`)
	home(app, newer, older)
	older.write("find", find, app.now, "note", `"from before the backup, unsent"`)
	backup := app.backedUp(t)
	app.now = app.now.Add(48 * time.Hour)
	newer.write("shore", shore, app.now, "escape", `"none"`)
	newer.write("find", find, app.now, "taxon", `"Ulva lactuca"`)
	home(app, newer)
	assert.EqualValues(t, 3, newer.after)

	restored := app.restoredFrom(t, backup)
	restored.now = app.now.Add(24 * time.Hour)
	joined := newPhone(13, collector, true)
	home(restored, joined) // the first to come sees the state of the backup
	assert.Equal(t, 2, len(standing(joined.fold)))
	old := newer.epoch
	newer.write("find", find, restored.now, "note", `"written not knowing of the restore"`)
	home(restored, newer, older, joined, newer)
	assert.NotEqual(t, old, newer.epoch)
	want := map[string]string{"shore.name": `"Gull Ledge"`, "shore.escape": `"none"`, "find.taxon": `"Ulva lactuca"`, "find.note": `"written not knowing of the restore"`}
	for _, p := range []*phone{newer, older, joined} {
		got := map[string]string{}
		for r := range p.fold.All() {
			for field, v := range r.All() {
				got[r.Key().Kind+"."+field] = string(v.JSON)
				assert.True(t, v.Sent)
			}
		}
		assert.Equal(t, want, got)
	}
	assert.EqualValues(t, 5, newer.after, "each change once")
	require.NoError(t, same("the one that joined", standing(newer.fold), standing(joined.fold)))
	require.NoError(t, same("the older one", standing(newer.fold), standing(older.fold)))
}

// A first pull is sent compressed to whoever can read that; it is the same.
func TestPullsAreCompressed(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	p := newPhone(14, app.token, false)
	for range 200 {
		p.write("find", p.uuid(), noon, "note", `"bladder wrack"`)
	}
	require.NoError(t, p.catchUp(askOf(t, app), noon, true))
	for _, path := range []string{"pull", "snapshot"} {
		request := func(accepts string) (*http.Response, string) {
			r := as(app.token, "POST", "/api/sync/"+path, `{"protocol":1}`)
			r.Header.Set("Accept-Encoding", accepts)
			return send(t, app, r)
		}
		plainly, plain := request("identity")
		assert.Empty(t, plainly.Header.Get("Content-Encoding"))
		zipped, body := request("gzip, br")
		require.Equal(t, "gzip", zipped.Header.Get("Content-Encoding"))
		assert.Contains(t, zipped.Header.Get("Vary"), "Accept-Encoding")
		r, err := gzip.NewReader(strings.NewReader(body))
		require.NoError(t, err)
		unzipped, err := io.ReadAll(r)
		require.NoError(t, err)
		assert.Equal(t, plain, string(unzipped))
		assert.Less(t, len(body), len(plain)/2)
	}
}
