package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	permission "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

// kept reads everything of one store of the phone.
func kept[T any](p *tab, store string) []T {
	p.t.Helper()
	var out []T
	p.eval(`new Promise((resolve, reject) => {
		const request = indexedDB.open('wrackbook');
		request.onerror = () => reject(request.error);
		request.onsuccess = () => {
			const all = request.result.transaction('`+store+`').objectStore('`+store+`').getAll();
			all.onsuccess = () => { request.result.close(); resolve(all.result); };
			all.onerror = () => reject(all.error);
		};
	})`, &out)
	return out
}

// record is a record of the book as a phone keeps it.
type record struct {
	ID, Kind string
	Fields   map[string]any
	Deleted  bool
}

// recordsKept gives the records of a kind that a phone keeps, deleted ones too.
func recordsKept(p *tab, kind string) (list []record) {
	p.t.Helper()
	for _, r := range kept[record](p, "records") {
		if r.Kind == kind {
			list = append(list, r)
		}
	}
	return list
}

// putChoice writes what the phone keeps of itself under a key, as JavaScript.
func putChoice(p *tab, key, value string) {
	p.t.Helper()
	var done bool
	p.eval(`new Promise((resolve) => { indexedDB.open('wrackbook').onsuccess = (e) => {
		const tx = e.target.result.transaction('choices', 'readwrite');
		tx.objectStore('choices').put(`+value+`, `+quoted(key)+`);
		tx.oncomplete = () => { e.target.result.close(); resolve(true); };
	}; })`, &done)
	require.True(p.t, done)
}

// untilKept waits until a store of the phone holds some words.
func untilKept(p *tab, store, words string) {
	p.t.Helper()
	var found bool
	p.eval(`(async () => {
		for (;;) {
			const all = await new Promise((resolve, reject) => {
				const request = indexedDB.open('wrackbook');
				request.onerror = () => reject(request.error);
				request.onsuccess = () => {
					const got = request.result.transaction('`+store+`').objectStore('`+store+`').getAll();
					got.onsuccess = () => { request.result.close(); resolve(JSON.stringify(got.result)); };
				};
			});
			if (all.includes(`+quoted(words)+`)) return true;
			await new Promise(requestAnimationFrame);
		}
	})()`, &found)
}

// keptShores reads the shores of the phone, their fields together with their id.
func keptShores(p *tab) []map[string]any {
	p.t.Helper()
	type record struct {
		Kind, ID string
		Fields   map[string]any
		Deleted  bool
	}
	var shores []map[string]any
	for _, r := range kept[record](p, "records") {
		if r.Kind != "shore" {
			continue
		}
		shore := map[string]any{"id": r.ID, "deleted": r.Deleted}
		for name, value := range r.Fields {
			shore[name] = value
		}
		for _, together := range []string{"basis", "place"} {
			for name, value := range r.Fields[together].(map[string]any) {
				shore[name] = value
			}
		}
		shores = append(shores, shore)
	}
	return shores
}

// setBasis alters the basis of the only shore on the phone behind the app's back, once the core
// has folded all that was written.
func setBasis(p *tab, patch string) {
	p.t.Helper()
	var done bool
	p.eval(`(async () => {
		const db = await new Promise((resolve) => { indexedDB.open('wrackbook').onsuccess = (e) => resolve(e.target.result); });
		const ask = (request) => new Promise((resolve) => { request.onsuccess = () => resolve(request.result); });
		while (await ask(db.transaction('folds').objectStore('folds').index('due').count())) await new Promise(requestAnimationFrame);
		const store = db.transaction('records', 'readwrite').objectStore('records');
		const [shore] = await ask(store.getAll());
		Object.assign(shore.fields.basis, `+patch+`);
		await ask(store.put(shore));
		db.close();
		return true;
	})()`, &done)
	require.True(p.t, done)
}

// TestShoresAreKeptAsChanges: a shore is chosen, changed, joined by a second one, deleted and
// brought back, over reloads; each save is a change in the form that internal/journal
// reads, and folding the changes gives the shore that the phone keeps.
func TestShoresAreKeptAsChanges(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	untilKept(p, "changes", "San Francisco")
	p.goTo(server, "/plan/shores", `document.querySelectorAll('.my-shores li').length === 1`)
	p.click(`.my-shores li a.button`)
	p.run(chromedp.WaitVisible("#name", chromedp.ByQuery))
	p.write("#name", "Heron Ledge")
	p.write("#escape", "steps west of the slip")
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('.shore-head h2')?.textContent === 'Heron Ledge'`)
	untilKept(p, "changes", "Heron Ledge")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('.shore-head h2')?.textContent === 'Heron Ledge'`)

	// A second one, by its number.
	addByNumber(server, p, "noaa/1612340", "Palm Flat", "0.1")
	p.goTo(server, "/plan/shores", `document.querySelectorAll('.my-shores li[data-shore]').length === 2`)
	p.click(`.my-shores li[data-shore] button[aria-pressed="false"]`)
	p.until(`location.pathname === '/plan' && document.querySelector('.shore-head h2')?.textContent === 'Heron Ledge'`)

	// Deleted, and brought back.
	p.goTo(server, "/plan/shores", `document.querySelectorAll('.my-shores li[data-shore]').length === 2`)
	var nothing any
	p.eval(`[...document.querySelectorAll('.my-shores li[data-shore]')].find((l) => l.innerText.includes('Palm Flat')).querySelector('a').click(); null`, &nothing)
	p.run(chromedp.WaitVisible("#name", chromedp.ByQuery))
	p.eval(`document.querySelector('[data-do="remove"]').click(); null`, &nothing)
	p.until(`document.querySelector('[data-undo]')`)
	p.until(`document.querySelectorAll('.my-shores li[data-shore]').length === 1`)
	p.click(`[data-undo]`)
	p.until(`document.querySelectorAll('.my-shores li[data-shore]').length === 2`)
	untilKept(p, "changes", `"deleted":false`)

	fold := &journal.Fold{}
	for _, raw := range kept[json.RawMessage](p, "changes") {
		var c journal.Change
		require.NoError(t, json.Unmarshal(asJournal(t, raw), &c), string(raw))
		require.NoError(t, journal.Validate(&c), string(raw))
		fold.Apply(&c)
	}
	names := map[string]string{}
	for _, shore := range keptShores(p) {
		names[shore["id"].(string)] = shore["name"].(string)
		record := fold.Record(journal.Key{Kind: "shore", ID: shore["id"].(string)})
		require.NotNil(t, record)
		for _, field := range []string{"name", "escape", "margin", "cutOff"} {
			assert.JSONEq(t, string(mustJSON(t, shore[field])), string(record.Fields()[field]), field)
		}
		assert.NotEqual(t, true, shore["deleted"])
	}
	assert.Len(t, names, 2)
}

// asJournal leaves out of a change what the phone notes on it for itself.
func asJournal(t *testing.T, kept []byte) []byte {
	t.Helper()
	members := map[string]json.RawMessage{}
	require.NoError(t, json.Unmarshal(kept, &members))
	delete(members, "outbox")
	return mustJSON(t, members)
}

func mustJSON(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	return data
}

// addByNumber adds a shore from its station's id.
func addByNumber(server *process, p *tab, station, name, below string) {
	p.t.Helper()
	p.goTo(server, "/plan/shore/new", `document.querySelector('#hand-id')`)
	var nothing any
	p.eval(`document.querySelector('details.hand').open = true; null`, &nothing)
	p.write("#hand-id", station)
	p.click(`[data-do="id"]`)
	p.until(`document.querySelector('[data-chosen="` + station + `"]')`)
	p.until(focusSettled)
	p.write("#name", name)
	p.write("#below", below)
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('.shore-head h2')?.textContent === ` + quoted(name))
	untilKept(p, "changes", name)
}

// TestNearMe: the position is asked for only when the button is pressed; granted it lists
// the nearest stations with distance and bearing, refused it says so and goes on.
func TestNearMe(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	// allowed opens a phone that answers for its position, or refuses to.
	allowed := func(setting permission.PermissionSetting) *tab {
		p := startBrowser(t).open(t, "about:blank")
		p.run(permission.SetPermission(&permission.PermissionDescriptor{Name: "geolocation"}, setting).WithOrigin(server.url),
			emulation.SetGeolocationOverride().WithLatitude(37.8).WithLongitude(-122.47).WithAccuracy(20))
		p.goTo(server, "/", `document.querySelector('[data-do="near"]') && document.querySelector('[data-catalogue]') === null`)
		return p
	}
	// The position is asked for on a press, and on another if the phone was not ready.
	press := `document.querySelector('[data-do="near"]').click()`
	refused := allowed(permission.PermissionSettingDenied)
	var nothing any
	refused.eval(press+`; null`, &nothing)
	refused.until(`document.querySelector('[data-near-says]').textContent.includes('may not tell where it is') && !document.querySelector('[data-station]')`)

	p := allowed(permission.PermissionSettingGranted)
	p.until(`(() => { if (document.querySelector('[data-station="noaa/9414290"]')) return true;
		if (Date.now() - (window.pressedAt ?? 0) > 2000) { window.pressedAt = Date.now(); ` + press + `; } return false; })()`)
	var words string
	p.eval(`document.querySelector('[data-station="noaa/9414290"]').innerText`, &words)
	assert.Regexp(t, `km`, words)
	p.click(`[data-station="noaa/9414290"]`)
	p.until(`document.querySelector('[data-chosen="noaa/9414290"]')`)
}

// TestMeanSeaLevelStation: where heights count from mean sea level no workable height can
// be set, and the page says why.
func TestMeanSeaLevelStation(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url)
	p.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	p.write("#station", "stockholm")
	p.click(`[data-station="ticon/stockholm-2069-swe-smhi"]`)
	p.until(`document.querySelector('[data-refused]')`)
	var text string
	p.eval(`document.querySelector('main').innerText`, &text)
	assert.Regexp(t, `mean sea level|no distinct tide`, text)
	var canSave bool
	p.eval(`Boolean(document.querySelector('#below')?.checkVisibility())`, &canSave)
	assert.False(t, canSave, "no field for a workable height")
}

// TestDoubtAboutTheBasis: the heights were set with another release of the catalogue, so the
// shore asks before it shows a window; "still holds" shows them, and it is kept.
func TestDoubtAboutTheBasis(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	untilKept(p, "changes", "San Francisco")
	setBasis(p, `{release: '2020-01-01'}`)
	p.goTo(server, "/plan", `document.querySelector('[data-doubt="release"]')`)
	var windows int
	p.eval(`document.querySelectorAll('.windows li[data-day]').length`, &windows)
	assert.Zero(t, windows, "no window before the question is answered")
	p.until(`document.querySelector('[data-do="holds"]')`)
	var nothing any
	p.eval(`document.querySelector('[data-do="holds"]').click(); null`, &nothing)
	p.until(answered)
	untilKept(p, "records", "2026-09-24")
	p.run(chromedp.Reload())
	p.until(answered)
}

// TestRememberedDay: the predicted height at one remembered time is offered as the workable
// height, and each height says how many lit windows a month it gives.
func TestRememberedDay(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url)
	chooseStation(p)
	var nothing any
	p.eval(`document.querySelector('details.find').open = true; null`, &nothing)
	p.run(chromedp.WaitVisible(`[name="good-day"]`, chromedp.ByQuery))
	p.set(`[name="good-day"]`, "2026-12-24")
	p.set(`[name="good-time"]`, "17:42")
	p.until(`document.querySelector('[data-then]')`)
	var then float64
	p.eval(`Number(document.querySelector('[data-then]').dataset.then)`, &then)
	// NOAA's printed low of that minute: -1.8 ft.
	assert.InDelta(t, -1.8*0.3048, then, 0.017)
	p.click(`[data-do="take"]`)
	p.until(`document.querySelector('#below').value.length > 0`)
	p.until(`document.querySelector('[data-per-month]')`)
}

// TestDraftSurvives: what was typed into the form is there after a reload.
func TestDraftSurvives(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url)
	chooseStation(p)
	p.write("#name", "Half a shore")
	untilKept(p, "drafts", "Half a shore")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#name')?.value === 'Half a shore'`)
}

// TestOldDatabase: the one shore of the first version of the database is there in the
// second, with a name of its own and as a change.
func TestOldDatabase(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url+"/sw.js") // of the same origin, and runs nothing
	var done bool
	p.eval(`new Promise((resolve, reject) => {
		const request = indexedDB.open('wrackbook', 1);
		request.onupgradeneeded = () => {
			const db = request.result;
			for (const name of ['choices', 'answers', 'heights']) db.createObjectStore(name);
			db.createObjectStore('errors', {autoIncrement: true});
			request.transaction.objectStore('choices').put({station: 'noaa/9414290', name: 'San Francisco', place: 'California', zone: 'America/Los_Angeles',
				lat: 37.806, lon: -122.466, below: 0.3, wayOff: 0.9, cutOff: true, walkOut: 12}, 'shore');
		};
		request.onsuccess = () => { request.result.close(); resolve(true); };
		request.onerror = () => reject(request.error);
	})`, &done)
	require.True(t, done)
	// The release that its heights were set with is not on file, so it asks first.
	p.goTo(server, "/plan", `document.querySelector('[data-doubt]')`)
	p.click(`[data-do="holds"]`)
	p.until(answered)
	shores := keptShores(p)
	require.Len(t, shores, 1)
	assert.Equal(t, 12.0, shores[0]["walkOut"])
	assert.Regexp(t, `^[0-9a-f]{8}-[0-9a-f]{4}-7`, shores[0]["id"])
	assert.NotEmpty(t, kept[map[string]any](p, "changes"))
}

// TestDatabaseOfVersion2: shores and changes of the second version of the database, one
// shore deleted, are records of the book in the third; every change waits to be sent, in the
// order of writing, and the core folds them to what the phone shows.
func TestDatabaseOfVersion2(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url+"/sw.js") // of the same origin, and runs nothing
	old, err := os.ReadFile(filepath.Join("..", "testdata", "phone", "version-2.json"))
	require.NoError(t, err)
	var done bool
	p.eval(`new Promise((resolve, reject) => {
		const old = `+string(old)+`;
		const request = indexedDB.open('wrackbook', 2);
		request.onupgradeneeded = () => {
			const db = request.result;
			for (const name of ['choices', 'answers', 'heights', 'drafts']) db.createObjectStore(name);
			db.createObjectStore('errors', {autoIncrement: true});
			for (const name of ['shores', 'changes']) db.createObjectStore(name, {keyPath: 'id'});
			for (const name of ['shores', 'changes']) for (const value of old[name]) request.transaction.objectStore(name).put(value);
			for (const [key, value] of Object.entries(old.choices)) request.transaction.objectStore('choices').put(value, key);
		};
		request.onsuccess = () => { request.result.close(); resolve(true); };
		request.onerror = () => reject(request.error);
	})`, &done)
	require.True(t, done)
	p.goTo(server, "/plan/shores", `document.querySelectorAll('.my-shores li[data-shore]').length === 1`)
	setBasis(p, `{}`) // when all is folded
	shores := map[string]map[string]any{}
	for _, shore := range keptShores(p) {
		shores[shore["name"].(string)] = shore
	}
	require.Len(t, shores, 2)
	assert.Equal(t, true, shores["Palm Flat"]["deleted"])
	assert.Equal(t, map[string]any{"minutes": []any{10.0, 12.0}, "heights": []any{0.1, 0.0}, "heightsAre": "metres"}, shores["Heron Ledge"]["differences"])
	assert.Equal(t, 0.45, shores["Heron Ledge"]["below"], "the later of two changes")

	var waiting []string
	for _, c := range kept[struct{ ID, Outbox string }](p, "changes") {
		if c.Outbox != "" {
			waiting = append(waiting, c.ID)
		}
	}
	assert.Len(t, waiting, 4)
}

// TestChooseByKeyboard: from an empty phone to windows with the keyboard alone.
func TestChooseByKeyboard(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url)
	p.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	tabTo := func(what string) {
		t.Helper()
		for range 50 {
			var there bool
			p.eval(`document.activeElement.matches(`+quoted(what)+`)`, &there)
			if there {
				return
			}
			p.run(chromedp.KeyEvent(kb.Tab))
		}
		require.Fail(t, "the keyboard does not reach "+what)
	}
	tabTo("#station")
	p.run(chromedp.KeyEvent("san francisco golden"))
	p.until(`document.querySelector('[data-station="noaa/9414290"]')`)
	tabTo(`[data-station="noaa/9414290"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('[data-chosen]')`)
	tabTo("#below")
	p.run(chromedp.KeyEvent("0.3"), chromedp.KeyEvent(kb.Enter))
	p.until(answered)
}

// TestDataIsDear: on a phone that saves data the list of stations is not fetched until the
// person asks for it; then it is found, and kept for flight mode.
func TestDataIsDear(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, "about:blank")
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := cdp.AddScriptToEvaluateOnNewDocument(`Object.defineProperty(navigator, 'connection', {value: {saveData: true, effectiveType: '4g', addEventListener() {}, removeEventListener() {}}})`).Do(ctx)
		return err
	}))
	p.goTo(server, "/", `document.querySelector('[data-catalogue="wanted"] button')`)
	var fetched int
	p.eval(`performance.getEntriesByType('resource').filter((e) => e.name.includes('/core/catalogue.')).length`, &fetched)
	assert.Zero(t, fetched)
	var nothing any
	p.eval(`document.querySelector('[data-catalogue="wanted"] button').click(); null`, &nothing)
	p.until(`!document.querySelector('[data-catalogue]')`)
	chooseShore(p)
	readyForOffline(p)
	server.kill(t)
	p.run(chromedp.Reload())
	p.until(answered)
}
