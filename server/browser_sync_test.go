package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	esbuild "github.com/evanw/esbuild/pkg/api"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// The tests here have browsers exchange what they wrote through the built server.

// joinBy has a phone join as its page does, without the page.
func joinBy(p *tab, code, name string) {
	p.t.Helper()
	var done bool
	p.eval(`(async () => {
		const paired = await fetch('/api/pair', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify({code: `+quoted(code)+`, name: `+quoted(name)+`})});
		if (!paired.ok) throw new Error(await paired.text());
		const {device, household} = await (await fetch('/api/me')).json();
		const db = await new Promise((resolve) => { indexedDB.open('wrackbook').onsuccess = (e) => resolve(e.target.result); });
		const tx = db.transaction('choices', 'readwrite');
		tx.objectStore('choices').put({device, household}, 'me');
		await new Promise((resolve) => { tx.oncomplete = resolve; });
		db.close();
		return true;
	})()`, &done)
	require.True(p.t, done)
	p.run(chromedp.Reload())
}

// invited gives a code that a keeper's phone has made.
func invited(p *tab, role store.Role) (code string) {
	p.t.Helper()
	p.eval(`fetch('/api/invitations', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify({role: `+quoted(string(role))+`})}).then((r) => r.json()).then((answer) => answer.code)`, &code)
	require.NotEmpty(p.t, code)
	return code
}

// exchanged has a phone exchange now and waits until nothing is unsent or unfolded.
func exchanged(p *tab) {
	p.t.Helper()
	var done bool
	p.eval(`(async () => {
		const db = await new Promise((resolve) => { indexedDB.open('wrackbook').onsuccess = (e) => resolve(e.target.result); });
		const ask = (request) => new Promise((resolve) => { request.onsuccess = () => resolve(request.result); });
		const read = (store, key) => ask(db.transaction(store).objectStore(store).get(key));
		const count = (store, index) => ask(db.transaction(store).objectStore(store).index(index).count());
		const before = (await read('choices', 'syncedMs')) ?? 0;
		dispatchEvent(new Event('online'));
		for (;;) {
			const after = (await read('choices', 'syncedMs')) ?? 0;
			if (after > before && !(await count('changes', 'outbox')) && !(await count('photos', 'outbox')) && !(await count('folds', 'due'))) break;
			await new Promise((resolve) => setTimeout(resolve, 20));
		}
		db.close();
		return true;
	})()`, &done)
	require.True(p.t, done)
}

// recordsOf gives the records that a phone shows, by kind and id, as JSON of their fields.
func recordsOf(p *tab) map[string]string {
	p.t.Helper()
	records := map[string]string{}
	for _, r := range kept[struct {
		Kind, ID string
		Fields   map[string]any
	}](p, "records") {
		records[r.Kind+"/"+r.ID] = string(mustJSON(p.t, r.Fields))
	}
	return records
}

// appModules gives a page some of the app's own modules, for what no screen does yet.
func appModules(p *tab, names ...string) {
	p.t.Helper()
	var entry strings.Builder
	for _, name := range names {
		entry.WriteString("import * as " + name + " from './" + name + ".js'; window." + name + " = " + name + ";\n")
	}
	here, err := filepath.Abs(filepath.Join("..", "pwa"))
	require.NoError(p.t, err)
	lib := func(name string) string { return filepath.Join(here, "lib", filepath.FromSlash(name)) }
	result := esbuild.Build(esbuild.BuildOptions{
		Stdin:  &esbuild.StdinOptions{Contents: entry.String(), ResolveDir: filepath.Join(here, "app", "data")},
		Bundle: true, Format: esbuild.FormatIIFE, AbsWorkingDir: here, Define: map[string]string{"BUILD": `"test"`},
		Alias: map[string]string{"idb": lib("idb/index.js"), "@preact/signals": lib("signals/signals.module.js"),
			"@preact/signals-core": lib("signals-core/signals-core.module.js"), "preact": lib("preact/preact.module.js"), "preact/hooks": lib("preact/hooks.module.js")},
	})
	require.Empty(p.t, result.Errors)
	var nothing any
	p.eval(string(result.OutputFiles[0].Contents)+"\nnull", &nothing)
}

// editEscape writes the way of escape of a shore by the form.
func editEscape(server *process, p *tab, shore, words string) {
	p.t.Helper()
	p.goTo(server, "/plan/shore/"+shore, `document.querySelector('#below')?.value`)
	var nothing any
	p.eval(`for (const d of document.querySelectorAll('details')) d.open = true; null`, &nothing)
	p.write("#escape", words)
	p.run(chromedp.Focus(`button[type="submit"]`, chromedp.ByQuery), chromedp.KeyEvent("\r"))
	p.until(`location.pathname === '/plan'`)
	untilKept(p, "changes", words)
}

// joinedPhones serves a household in dir that two phones have joined: a keeper's with a shore,
// and one of another role.
func joinedPhones(t *testing.T, dir string, role store.Role) (server *process, a, b *tab) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	a = startBrowser(t).open(t, server.url)
	chooseShore(a)
	joinBy(a, code, "A")
	a.until(answered)
	exchanged(a)
	b = startBrowser(t).open(t, server.url)
	joinBy(b, invited(a, role), "B")
	exchanged(b)
	return server, a, b
}

// TestTwoPhones: two browsers join, write without signal, also in the same field of the same
// record, are restarted, and meet the server again: both show the same, the field that was
// written later stands, and what lost is in its past.
func TestTwoPhones(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	profile := t.TempDir()
	first := startBrowser(t, chromedp.UserDataDir(profile))
	a := first.open(t, server.url)
	chooseShore(a) // made before joining, joins the book
	joinBy(a, code, "A")
	a.until(answered)
	exchanged(a)

	b := startBrowser(t).open(t, server.url)
	joinBy(b, invited(a, store.Collector), "B")
	exchanged(b)
	exchanged(a) // B has introduced itself
	assert.Equal(t, recordsOf(a), recordsOf(b))
	shores := keptShores(b)
	require.Len(t, shores, 1)
	id := shores[0]["id"].(string)
	b.until(answered)
	readyForOffline(a)
	readyForOffline(b)

	server.kill(t)
	a.allowed, b.allowed = true, true // fetches that fail are told in the console
	editEscape(server, a, id, "by the slip")
	editEscape(server, b, id, "up the steps")
	addByNumber(server, a, "noaa/9414806", "Heron Ledge", "0.3")
	addByNumber(server, b, "noaa/9414806", "Palm Flat", "0.2")
	first.close()
	a = startBrowser(t, chromedp.UserDataDir(profile)).open(t, server.url) // no server: the phone's own copy
	a.allowed = true
	b.run(chromedp.Reload())
	a.until(answered)
	b.until(answered)
	require.NotEqual(t, recordsOf(a), recordsOf(b))

	addr := strings.TrimPrefix(server.url, "http://")
	server, code = startHousehold(t, binary, addr, dir)
	require.Empty(t, code, "the household has a keeper")
	exchanged(a)
	exchanged(b)
	exchanged(a)
	assert.Equal(t, recordsOf(a), recordsOf(b))
	assert.Len(t, keptShores(a), 3)
	a.goTo(server, "/plan/shores", `document.querySelectorAll('.my-shores li[data-shore]').length === 3`)
	for _, p := range []*tab{a, b} {
		var changes []journal.Change
		for _, raw := range kept[json.RawMessage](p, "changes") {
			var c journal.Change
			require.NoError(t, json.Unmarshal(asJournal(t, raw), &c))
			changes = append(changes, c)
		}
		past := map[string]bool{}
		for _, field := range journal.History(journal.Key{Kind: "shore", ID: id}, changes) {
			for _, version := range field.Versions {
				if field.Field == "escape" {
					past[string(version.Value)] = version.Stands
				}
			}
		}
		assert.Equal(t, map[string]bool{`""`: false, `"by the slip"`: false, `"up the steps"`: true}, past)
	}

	// One that joins now took only what stands; the server tells it what lost.
	c := startBrowser(t).open(t, server.url)
	joinBy(c, invited(a, store.Guest), "C")
	exchanged(c)
	c.goTo(server, "/house/history/shore/"+id, `document.querySelector('main')?.innerText.includes('up the steps')`)
	c.until(`document.querySelector('main').innerText.includes('by the slip')`)
}

// TestRestoredServerAndPhones: the server is restored from a backup of before the last
// writes. One phone wrote after it, the other has not heard of that; in the end all is there,
// everywhere, and what only the lost book had is gone from the phones.
func TestRestoredServerAndPhones(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	server, a, b := joinedPhones(t, dir, store.Keeper)
	var stderr bytes.Buffer
	require.Zero(t, dispatch([]string{"backup", "-data", filepath.Join(dir, "household"), filepath.Join(dir, "saved.zip")}, nil, &stderr, &stderr), stderr.String())

	addByNumber(server, a, "noaa/9414806", "Heron Ledge", "0.3")
	exchanged(a)
	// A third device writes and is never seen again: only the lost book has that, and phone B.
	_, c := func() (string, *tab) {
		code := invited(a, store.Collector)
		c := startBrowser(t).open(t, server.url)
		joinBy(c, code, "C")
		exchanged(c)
		addByNumber(server, c, "noaa/9414806", "Lost Cove", "0.2")
		exchanged(c)
		return code, c
	}()
	c.run(chromedp.Navigate("about:blank"))
	exchanged(b)
	require.Len(t, keptShores(b), 3)

	a.allowed, b.allowed = true, true
	server.kill(t)
	require.NoError(t, os.Rename(filepath.Join(dir, "household"), filepath.Join(dir, "lost")))
	require.Zero(t, dispatch([]string{"restore", filepath.Join(dir, "saved.zip"), filepath.Join(dir, "household")}, nil, &stderr, &stderr), stderr.String())
	binary, err := builtBinary()
	require.NoError(t, err)
	server, _ = startHousehold(t, binary, strings.TrimPrefix(server.url, "http://"), dir)
	exchanged(a)
	exchanged(b)
	exchanged(a)
	names := map[string]bool{}
	for _, shore := range keptShores(b) {
		names[shore["name"].(string)] = true
	}
	assert.Equal(t, map[string]bool{"San Francisco (Golden Gate)": true, "Heron Ledge": true}, names)
	assert.Equal(t, recordsOf(a), recordsOf(b))
}

// photoWithPlace is a JPEG of 3000 x 1500 whose EXIF tells where it was taken.
func photoWithPlace(t *testing.T) []byte {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, 3000, 1500))
	for x := range 3000 {
		for y := range 1500 {
			picture.Set(x, y, color.RGBA{byte(x), byte(y), byte(x ^ y), 255})
		}
	}
	var plain bytes.Buffer
	require.NoError(t, jpeg.Encode(&plain, picture, nil))
	// APP1 after the start of the image: "Exif\0\0", then a TIFF with one directory (Exif 2.32,
	// 4.5.4 and 4.6.2), which tells of an artist.
	tiff := append([]byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x3b\x00\x02\x00\x00\x00\x11\x00\x00\x00\x1a\x00\x00\x00\x00"), "Secret Cove 1234\x00"...)
	body := append([]byte("Exif\x00\x00"), tiff...)
	segment := append([]byte{0xff, 0xe1, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
	return append(append(bytes.Clone(plain.Bytes()[:2]), segment...), plain.Bytes()[2:]...)
}

// TestPhotosLeaveThePhoneOnce: a photo is drawn anew, so that nothing of its EXIF is left; the
// whole one stays on the phone while there is no signal, is sent once there is, and only then
// goes; a small one stays. What is no picture is refused.
func TestPhotosLeaveThePhoneOnce(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	p := startBrowser(t).open(t, server.url)
	p.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	joinBy(p, code, "A")
	p.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	server.kill(t)
	p.allowed = true

	appModules(p, "photos")
	require.Contains(t, string(photoWithPlace(t)), "Secret Cove")
	var taken struct {
		SHA  string
		Kept bool
	}
	p.eval(`photos.keepPhoto(new Blob([Uint8Array.from(atob('`+base64.StdEncoding.EncodeToString(photoWithPlace(t))+`'), (c) => c.charCodeAt(0))]))`, &taken)
	require.True(t, taken.Kept)
	var refused string
	p.eval(`photos.keepPhoto(new Blob(['no picture'], {type: 'image/jpeg'})).then(() => '', (error) => error.name)`, &refused)
	assert.NotEmpty(t, refused)

	whole := func() (data []byte) {
		var encoded string
		p.eval(`photos.keptPhoto(`+quoted(taken.SHA)+`).then((b) => new Promise((resolve) => { const r = new FileReader(); r.onload = () => resolve(r.result.split(',')[1]); r.readAsDataURL(b); }))`, &encoded)
		data, err := base64.StdEncoding.DecodeString(encoded)
		require.NoError(t, err)
		return data
	}
	onPhone := whole()
	assert.NotContains(t, string(onPhone), "Secret Cove")
	assert.NotContains(t, string(onPhone), "Exif")
	config, err := jpeg.DecodeConfig(bytes.NewReader(onPhone))
	require.NoError(t, err)
	assert.Equal(t, [2]int{2048, 1024}, [2]int{config.Width, config.Height})
	assert.Equal(t, photoName(onPhone), taken.SHA)

	startHousehold(t, binary, strings.TrimPrefix(server.url, "http://"), dir)
	exchanged(p)
	assert.Empty(t, kept[struct{}](p, "photos"), "the whole one is the server's now")
	small, err := jpeg.DecodeConfig(bytes.NewReader(whole()))
	require.NoError(t, err)
	assert.Equal(t, 240, small.Width)
	var status int
	p.eval(`fetch('/api/photos/`+taken.SHA+`').then((r) => r.status)`, &status)
	assert.Equal(t, http.StatusOK, status)
	onServer, err := os.ReadFile(filepath.Join(dir, "household", "photos", taken.SHA[:2], taken.SHA))
	require.NoError(t, err)
	assert.Equal(t, onPhone, onServer)
}

// TestRefusedOnThePhone: what a child's phone may not write is kept on it with the reason, and
// does not stand on any phone.
func TestRefusedOnThePhone(t *testing.T) {
	t.Parallel()
	server, a, b := joinedPhones(t, t.TempDir(), store.Child)
	id := keptShores(b)[0]["id"].(string)
	editEscape(server, b, id, "a child's idea")
	exchanged(b)
	exchanged(a)
	for _, p := range []*tab{a, b} {
		assert.Equal(t, "", keptShores(p)[0]["escape"])
	}
	refusals := 0
	for _, raw := range kept[json.RawMessage](b, "changes") {
		var c journal.Change
		require.NoError(t, json.Unmarshal(asJournal(t, raw), &c))
		if c.Receipt != nil && c.Receipt.Refused != "" {
			refusals++
			assert.Contains(t, c.Receipt.Refused, "child")
		}
	}
	assert.Equal(t, 1, refusals)
}

// TestRefusedByThePhone: a field that the phone had no room for goes along with the next
// write, and stays on the screen until then.
func TestRefusedByThePhone(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	p.allowed = true
	appModules(p, "book", "ids")
	var kept []any
	p.eval(`(async () => {
		await book.ready('tank');
		const id = ids.uuidv7();
		const put = IDBObjectStore.prototype.put;
		const kept = [await book.write('tank', id, {name: 'Jar'})];
		IDBObjectStore.prototype.put = function () { throw new DOMException('full', 'QuotaExceededError'); };
		kept.push(await book.write('tank', id, {note: 'by the window'}));
		IDBObjectStore.prototype.put = put;
		kept.push(await book.write('tank', id, {volumeL: 3}));
		return [...kept, book.records('tank').value.find((one) => one.id === id).fields];
	})()`, &kept)
	all := map[string]any{"name": "Jar", "note": "by the window", "volumeL": 3.0}
	assert.Equal(t, []any{true, false, true, all}, kept)
	p.run(chromedp.Reload())
	p.until(answered)
	assert.JSONEq(t, string(mustJSON(t, all)), tankIn(recordsOf(p)), "on the phone, not on the screen alone")
}

func tankIn(records map[string]string) string {
	for name, fields := range records {
		if strings.HasPrefix(name, "tank/") {
			return fields
		}
	}
	return ""
}

// TestAnotherRole: what a child's phone was never sent comes once it is a collector's.
func TestAnotherRole(t *testing.T) {
	t.Parallel()
	_, a, b := joinedPhones(t, t.TempDir(), store.Child)
	appModules(a, "book", "ids")
	a.eval(`book.ready('outing').then(() => book.write('outing', ids.uuidv7(), {purpose: 'home', note: 'calm', ashoreCall: '0123 456'})).then(() => null)`, new(any))
	exchanged(a)
	exchanged(b)
	outing := func() string { return string(mustJSON(t, outingRecord(b))) }
	assert.Contains(t, outing(), "calm")
	assert.NotContains(t, outing(), "0123 456")
	joinBy(b, invited(a, store.Collector), "B")
	exchanged(b)
	assert.Contains(t, outing(), "0123 456")
}
