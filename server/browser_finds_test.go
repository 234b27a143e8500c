package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"time"

	permission "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	paging "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// The tests here log finds, as a party does on the shore.

// party writes two members and an outing that is under way with them, on the shore that the
// phone has, through the app's own book. It gives their ids by name.
func party(p *tab) (ids map[string]string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		await book.ready('shore');
		const shore = book.records('shore').value.find((one) => !one.deleted).id;
		const made = {outing: ids.uuidv7(), Tam: ids.uuidv7(), Ada: ids.uuidv7()};
		await book.write('member', made.Tam, {name: 'Tam', age: 'adult'});
		await book.write('member', made.Ada, {name: 'Ada', age: 'child'});
		const at = new Date(Date.now() - 60000).toISOString().slice(0, 19) + 'Z';
		await book.write('outing', made.outing, {shore, purpose: 'home', started: {at, by: made.Tam},
			['party/' + made.Tam]: {as: 'adult', name: 'Tam', does: 'gathers'}, ['party/' + made.Ada]: {as: 'child', name: 'Ada', number: 1, with: made.Tam, does: 'gathers'}});
		return made;
	})()`, &ids)
	require.Len(p.t, ids, 3)
	return ids
}

// find is a find as the phone keeps it.
type find struct {
	ID      string
	Fields  map[string]any
	Deleted bool
}

// findsOf gives the finds that a phone keeps, the latest last.
func findsOf(p *tab) (finds []find) {
	p.t.Helper()
	for _, r := range kept[struct {
		find
		Kind string
	}](p, "records") {
		if r.Kind == "find" {
			finds = append(finds, r.find)
		}
	}
	return finds
}

const (
	savedLine = `document.querySelector('[data-saved]')`
	kindsHere = `document.querySelector('.groups [data-group="fish"]')`
)

// pick chooses a kind by its group.
func pick(p *tab, group, taxon string) {
	p.t.Helper()
	p.until(kindsHere)
	p.press(`.groups > [data-group="` + group + `"]`)
	p.until(`document.querySelector('[data-list="` + group + `"]')`)
	p.press(`[data-list="` + group + `"] [data-taxon="` + taxon + `"]`)
	p.until(`document.querySelector('[data-do="save"]') && document.activeElement.id === 'chosen-kind'`)
}

// wet holds every target of Shore to 64 px and 8 px apart where they are of one row, its
// text to 20 px, and the page to the width of the phone.
func wet(t *testing.T, p *tab, name string) {
	t.Helper()
	var small []string
	p.eval(`[...document.querySelectorAll('.finds :is(a, button, input, select, textarea, summary)')]
		.filter((e) => e.checkVisibility() && !e.matches('.unseen'))
		.map((e) => e.matches('input[type="checkbox"], input[type="radio"]') ? e.closest('label') ?? e : e)
		.filter((e) => { const b = e.getBoundingClientRect(); return b.width < 63.5 || b.height < 63.5; })
		.map((e) => e.outerHTML.slice(0, 120))`, &small)
	assert.Empty(t, small, "%s: targets under 64 px", name)
	p.eval(`[...document.querySelectorAll('.finds *')].filter((e) => e.checkVisibility() && !e.closest('svg, .unseen') && [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())
		&& parseFloat(getComputedStyle(e).fontSize) < 20).map((e) => e.outerHTML.slice(0, 120))`, &small)
	assert.Empty(t, small, "%s: text under 20 px", name)
	var near []string
	p.eval(`(() => { const boxes = [...document.querySelectorAll('.finds :is(a, button, select, .option)')].filter((e) => e.checkVisibility() && !e.closest('.bottom')).map((e) => [e, e.getBoundingClientRect()]);
		return boxes.flatMap(([a, x], i) => boxes.slice(i + 1).filter(([, y]) => Math.min(x.right, y.right) > Math.max(x.left, y.left) ? Math.abs(Math.max(x.top, y.top) - Math.min(x.bottom, y.bottom)) < 7.5 && !(x.bottom > y.top && y.bottom > x.top)
			: Math.min(x.bottom, y.bottom) > Math.max(x.top, y.top) && Math.max(x.left, y.left) - Math.min(x.right, y.right) < 7.5).map(([b]) => a.outerHTML.slice(0, 60) + ' | ' + b.outerHTML.slice(0, 60))); })()`, &near)
	assert.Empty(t, near, "%s: targets less than 8 px apart", name)
	for _, width := range []int64{1280, 320, 390} {
		p.run(emulation.SetDeviceMetricsOverride(width, 844, 2, width < 600))
		var wide float64
		p.eval(`document.documentElement.scrollWidth`, &wide)
		assert.LessOrEqual(t, wide, float64(width), "%s at %d", name, width)
	}
}

// Three touches log a find, without signal: what it is, that it was taken, save. It can be
// undone, and one touch is enough to come back to something at home.
func TestAFindInThreeTouches(t *testing.T) {
	server, p := plan(t)
	p.until(answered)
	readyForOffline(p)
	ids := party(p)
	server.kill(t)
	p.allowed = true // fetches that fail are told in the console
	p.follow("/shore/log", kindsHere)
	assert.Contains(t, p.text(), "Something here")
	pick(p, "greens", "Ulva lactuca")
	p.until(`document.activeElement.id === 'chosen-kind'`)
	assert.Contains(t, p.text(), "No rules are on file here: do not take. Ask the authority first.")
	p.press(`input[name="who"][value="` + ids["Ada"] + `"]`)
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	assert.Contains(t, p.textOf("[data-saved]"), "1 Sea lettuce, seen, Ada")
	one := findsOf(p)
	require.Len(t, one, 1)
	assert.Equal(t, "Ulva lactuca", one[0].Fields["taxon"])
	assert.Equal(t, "greens", one[0].Fields["group"])
	assert.Equal(t, "attached", one[0].Fields["state"])
	assert.Equal(t, "seen", one[0].Fields["fate"])
	assert.Equal(t, ids["Ada"], one[0].Fields["by"])
	assert.Equal(t, ids["outing"], one[0].Fields["outing"])
	assert.Equal(t, map[string]any{"value": 1.0, "unit": "count"}, one[0].Fields["amount"])
	assert.NotContains(t, one[0].Fields, "position", "nobody asked for it")

	// It is on top now: three touches.
	p.run(chromedp.Click(`[data-list="recent"] [data-taxon="Ulva lactuca"]`, chromedp.ByQuery))
	p.until(`document.querySelector('input[name="who"]:checked')?.value === ` + quoted(ids["Ada"])) // who stays
	p.run(chromedp.Click(`input[name="fate"][value="taken"]`, chromedp.ByQuery))
	p.run(chromedp.Click(`[data-do="save"]`, chromedp.ByQuery))
	p.until(savedLine + `?.innerText.includes('taken')`)
	finds := findsOf(p)
	require.Len(t, finds, 2)
	assert.Equal(t, "taken", finds[1].Fields["fate"])

	p.press(`[data-do="undo"]`)
	p.until(`document.querySelector('[data-undone]')`)
	assert.True(t, findsOf(p)[1].Deleted)

	// Two touches in a row are one, also where the first was on Save.
	twice := `(() => { for (let i = 0; i < 2; i++) document.querySelector('[data-do="something"]').click(); return null; })()`
	p.until(`performance.now() - performance.getEntriesByName('find-saved').slice(-1)[0].startTime > 1000`)
	p.eval(twice, new(any))
	p.until(savedLine + `?.innerText.includes('something here')`)
	p.eval(twice, new(any))
	finds = findsOf(p)
	require.Len(t, finds, 3)
	assert.Equal(t, "unsure", finds[2].Fields["taxon"])
	assert.Equal(t, true, finds[2].Fields["unfinished"])
	assert.Equal(t, "seen", finds[2].Fields["fate"])

	// A kind of the household's own, larger amounts, another unit, by keys alone.
	p.run(chromedp.Focus("#other", chromedp.ByQuery), chromedp.KeyEvent("Shore bramble"))
	p.until(`document.querySelector('[data-do="typed"]')`)
	p.tabTo(`[data-do="typed"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.activeElement.id === 'chosen-kind'`)
	p.set("#group", "reds")
	p.tabTo(`[data-do="more"]`)
	p.run(chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent(" "))
	p.until(`document.querySelector('#amount').value === '3'`)
	p.set("#unit", "g")
	p.tabTo(`input[name="fate"]`)
	p.run(chromedp.KeyEvent(kb.ArrowRight))
	p.until(`document.querySelector('input[name="fate"][value="taken"]').checked`)
	p.tabTo(`[data-do="save"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(savedLine + `?.innerText.includes('3 g Shore bramble, taken, Ada')`)
	var own []find
	for _, one := range findsOf(p) {
		if one.Fields["taxon"] == "Shore bramble" {
			own = append(own, one)
		}
	}
	require.Len(t, own, 1)
	assert.Equal(t, map[string]any{"value": 3.0, "unit": "g"}, own[0].Fields["amount"])

	// A mistake is told where it is.
	pick(p, "reds", "Chondrus crispus")
	p.write("#amount", "half")
	p.press(`[data-do="save"]`)
	p.until(`document.activeElement.id === 'amount' && document.querySelector('#amount-wrong').textContent.includes('as a number')`)
	// The form is kept at every touch.
	p.write("#amount", "7")
	untilKept(p, "drafts", `"value":"7"`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#amount')?.value === '7' && document.querySelector('[data-draft="begun"]')`)
	assert.Len(t, findsOf(p), 4)
}

// What is alive, unknown or grave is seen only; an adult's second act takes it, and a child's
// phone does not offer that.
func TestWhatIsLeftWhereItIs(t *testing.T) {
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	rows := []struct{ group, taxon, heed, words string }{
		{"snails", "Patella vulgata", "alive", "It may be alive"},
		{"greens", "unsure", "unsure", "Nobody knows yet what it is"},
		{"greens", "Caulerpa taxifolia", "controlled", "Ask the authority first; unchecked is no permission."},
		{"greens", "Codium fragile", "invasive", "Ask the authority first; unchecked is no permission."},
		{"anemones", "Anemonia viridis", "alive", "Do not touch it bare-handed."},
	}
	for _, row := range rows {
		pick(p, row.group, row.taxon)
		p.until(`document.querySelector('[data-heed="` + row.heed + `"]')`)
		assert.Contains(t, p.text(), row.words, row.taxon)
		assert.Equal(t, "none", p.attribute(`[data-rules]`, "rules"), row.taxon)
		var taken bool
		p.eval(`document.querySelector('input[name="fate"][value="taken"]') !== null`, &taken)
		assert.False(t, taken, "%s is offered for the taking", row.taxon)
		p.press(`[data-do="change"]`)
	}
	p.until(kindsHere)
	p.press(`.groups > [data-group="bivalves"]`)
	wet(t, p, "choosing a kind")
	p.inspect("choosing a kind")
	p.press(`.groups > [data-group="bivalves"]`)
	pick(p, "greens", "unsure")
	wet(t, p, "an unknown")
	p.inspect("an unknown")
	p.press(`[data-do="change"]`)
	pick(p, "snails", "Patella vulgata")
	p.press(`[data-do="anyway"]`)
	p.until(`document.activeElement.id === 'anyway'`)
	wet(t, p, "taking it all the same")
	p.inspect("taking it all the same")
	p.run(chromedp.KeyEvent(kb.Escape))
	p.until(`!document.querySelector('#anyway') && document.activeElement.dataset.do === 'anyway'`)
	p.press(`[data-do="anyway"]`)
	p.press(`[data-do="decided"]`)
	p.until(`document.querySelector('input[name="fate"][value="taken"]').checked`)
	// Its state changed, it is a new question.
	p.press(`input[name="state"][value="drift"]`)
	p.until(`document.querySelector('[data-do="anyway"]') && !document.querySelector('input[name="fate"][value="taken"]')`)
	p.press(`input[name="state"][value="empty"]`)
	p.until(`document.querySelector('input[name="fate"][value="taken"]')`)
	p.press(`[data-do="change"]`)

	// Rules that are on file are not weighed here: still no permission.
	appModules(p, "book", "ids")
	var done bool
	p.eval(`book.write('ruleset', ids.uuidv7(), {document: {form: 1, name: 'x', area: {}, authority: 'x', source: 'x', rules: []}})`, &done)
	pick(p, "reds", "Chondrus crispus")
	p.until(`document.querySelector('[data-rules="unread"]')?.textContent.includes('do not take. Ask the authority first.')`)
	p.press(`[data-do="change"]`)

	// A guest's phone reads; a child's phone does not take what is alive.
	as := func(role string) {
		t.Helper()
		p.eval(`new Promise((resolve) => { indexedDB.open('wrackbook').onsuccess = (e) => {
			const tx = e.target.result.transaction('choices', 'readwrite');
			tx.objectStore('choices').put({device: {id: 'x', name: 'Ada’s', role: '`+role+`', createdMs: 0}, household: 'x'}, 'me');
			tx.oncomplete = () => { e.target.result.close(); resolve(true); };
		}; })`, &done)
		p.run(chromedp.Reload())
	}
	server.kill(t)
	p.allowed = true
	as("guest")
	p.until(`document.querySelector('.finds')?.innerText.includes('This phone reads only')`)
	as("child")
	pick(p, "snails", "Patella vulgata")
	p.until(`document.querySelector('[data-fate="seen"]')`)
	assert.Contains(t, p.text(), "Taking this one is for an adult")
	var offered int
	p.eval(`document.querySelectorAll('[data-do="anyway"], input[name="fate"]').length`, &offered)
	assert.Zero(t, offered)
}

// attribute reads a data attribute.
func (p *tab) attribute(selector, name string) (value string) {
	p.t.Helper()
	p.eval(`document.querySelector(`+quoted(selector)+`).dataset[`+quoted(name)+`]`, &value)
	return value
}

// The list kept on the phone is enough where the core is dead, and a find is saved all the same.
func TestLoggingWithoutTheCore(t *testing.T) {
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	untilKept(p, "choices", `"kinds"`)
	p.allowed = true
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := paging.AddScriptToEvaluateOnNewDocument(`window.Worker = class { postMessage() {} terminate() {} set onerror(f) { setTimeout(() => f({message: 'no core'})); } };`).Do(ctx)
		return err
	}), chromedp.Reload())
	p.until(`document.querySelector('[data-bar="core"]')`)
	pick(p, "browns", "Fucus vesiculosus")
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	assert.Len(t, findsOf(p), 1)
	p.follow("/shore/today", `document.querySelector('[data-find]')`)
	assert.Contains(t, p.text(), "Bladder wrack")
}

// picture is a small JPEG that differs by its number.
func picture(t *testing.T, n int) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for x := range 64 {
		for y := range 48 {
			m.Set(x, y, color.RGBA{byte(x*n + 7), byte(y * (n + 3)), byte(n * 37), 255})
		}
	}
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, m, nil))
	return base64.StdEncoding.EncodeToString(out.Bytes())
}

// hand gives the camera's input files, as a camera does that comes back.
func hand(p *tab, kind string, encoded ...string) {
	p.t.Helper()
	var nothing any
	p.eval(`(() => {
		const files = new DataTransfer();
		for (const one of `+string(mustJSON(p.t, encoded))+`) files.items.add(new File([Uint8Array.from(atob(one), (c) => c.charCodeAt(0))], 'x', {type: `+quoted(kind)+`}));
		const input = document.querySelector('[data-camera]');
		input.files = files.files;
		input.dispatchEvent(new Event('change', {bubbles: true}));
		return null;
	})()`, &nothing)
}

// A photo may be cancelled, be none, find no room, come twice, or find the page gone: what was
// entered is there each time, and the words say what happened.
func TestPhotosAndWhatGoesWrong(t *testing.T) {
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	p.allowed = true
	p.run(paging.SetInterceptFileChooserDialog(true))
	pick(p, "greens", "unsure")
	p.write("#amount", "4")
	says := func(words string) {
		t.Helper()
		p.until(`document.querySelector('[data-photo-says]')?.textContent.includes(` + quoted(words) + `)`)
		var amount string
		p.eval(`document.querySelector('#amount').value`, &amount)
		assert.Equal(t, "4", amount)
	}
	assert.Contains(t, p.text(), "Put a coin or a shell beside it")
	p.click(`[data-do="photo"]`)
	untilKept(p, "drafts", `"camera":true`) // before the camera opened
	var nothing any
	p.eval(`document.querySelector('[data-camera]').dispatchEvent(new Event('cancel')); null`, &nothing)
	says("No photo was taken")
	untilKept(p, "drafts", `"camera":false`)
	hand(p, "image/jpeg", base64.StdEncoding.EncodeToString([]byte("no picture at all")))
	says("no picture that this phone can read")
	hand(p, "image/jpeg", picture(t, 1), picture(t, 2))
	says("2 photos are kept")
	hand(p, "image/jpeg", picture(t, 1)) // once more the same
	says("2 photos are kept")
	p.until(`[...document.querySelectorAll('.thumb')].filter((i) => i.complete && i.naturalWidth > 0).length === 2`)

	// No room for the photo. Chromium does not hold its database to a quota set by DevTools, so
	// the refusal is made here: at once, and below as the end of the transaction.
	p.eval(`window.realPut = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = function (...a) { if (this.name === 'photos') throw new DOMException('full', 'QuotaExceededError'); return realPut.apply(this, a); }; null`, &nothing)
	hand(p, "image/jpeg", picture(t, 3))
	says("no room for the photo")
	p.write("#scale", "a 20 mm coin")
	p.write("#candidates", "Ulva lactuca\nUlva intestinalis")
	untilKept(p, "drafts", "Ulva intestinalis")

	// The page goes while the camera is open.
	p.click(`[data-do="photo"]`)
	untilKept(p, "drafts", `"camera":true`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-draft="camera"]')`)
	assert.Contains(t, p.textOf(`[data-draft="camera"]`), "loaded again while the camera was open")
	p.until(`document.querySelector('#amount').value === '4' && document.querySelector('#scale').value === 'a 20 mm coin' && document.querySelectorAll('.thumb').length === 2`)

	// No room for the find: said, and saved whole once there is.
	p.eval(`window.realPut = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = function (...a) { const r = realPut.apply(this, a); if (this.name === 'changes') this.transaction.abort(); return r; }; null`, &nothing)
	p.press(`[data-do="save"]`)
	p.until(`document.querySelector('[data-unkept]')?.textContent.includes('write it on the slate')`)
	assert.Empty(t, findsOf(p))
	p.eval(`IDBObjectStore.prototype.put = realPut; null`, &nothing)
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	finds := findsOf(p)
	require.Len(t, finds, 1)
	photos := 0
	for name, value := range finds[0].Fields {
		if strings.HasPrefix(name, "photos/") && value == true {
			photos++
		}
	}
	assert.Equal(t, 2, photos)
	assert.Equal(t, "a 20 mm coin", finds[0].Fields["scale"])
	assert.Equal(t, []any{"Ulva lactuca", "Ulva intestinalis"}, finds[0].Fields["candidates"])
	assert.Equal(t, map[string]any{"value": 4.0, "unit": "count"}, finds[0].Fields["amount"])
	assert.NotContains(t, string(mustJSON(t, kept[any](p, "drafts"))), "candidates", "nothing is left to save")

	// A photo that comes late joins its find where that is saved, and makes none where it was given up.
	late := func(n int, then string) {
		t.Helper()
		pick(p, "greens", "Ulva lactuca")
		p.eval(`(() => { window.camera = document.querySelector('[data-camera]'); document.querySelector(`+quoted(then)+`).click(); return null; })()`, &nothing)
		p.until(kindsHere)
		p.eval(`(() => { const files = new DataTransfer(); files.items.add(new File([Uint8Array.from(atob('`+picture(t, n)+`'), (c) => c.charCodeAt(0))], 'x', {type: 'image/jpeg'}));
			camera.files = files.files; camera.dispatchEvent(new Event('change')); return null; })()`, &nothing)
	}
	withPhoto := func() (n int) {
		for _, one := range findsOf(p) {
			if strings.Contains(string(mustJSON(t, one.Fields)), "photos/") {
				n++
			}
		}
		return n
	}
	late(7, `[data-do="save"]`)
	require.Eventually(t, func() bool { return withPhoto() == 2 }, patience, 50*time.Millisecond)
	before := len(kept[any](p, "thumbs"))
	late(8, `[data-do="change"]`)
	require.Eventually(t, func() bool { return len(kept[any](p, "thumbs")) == before+1 }, patience, 50*time.Millisecond)
	p.until(`!document.querySelector('[data-do="save"]')`)
	assert.Len(t, findsOf(p), 2)
}

// The position is asked for only while an outing is under way and only after somebody said so.
// A find does not wait: it gets the fix that is there, one that comes soon, or none.
func TestPositionsOfFinds(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url)
	chooseShore(p)
	untilKept(p, "changes", "San Francisco")
	allow := func(setting permission.PermissionSetting) {
		p.run(permission.SetPermission(&permission.PermissionDescriptor{Name: "geolocation"}, setting).WithOrigin(server.url))
	}
	allow(permission.PermissionSettingGranted)
	p.allowed = true
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := paging.AddScriptToEvaluateOnNewDocument(`window.asked = 0; if (navigator.geolocation) { const real = navigator.geolocation.watchPosition.bind(navigator.geolocation); navigator.geolocation.watchPosition = (...a) => { asked++; return real(...a); }; }`).Do(ctx)
		return err
	}))
	p.goTo(server, "/shore/log", kindsHere)
	log := func() find {
		t.Helper()
		before := len(findsOf(p))
		pick(p, "greens", "Ulva lactuca")
		p.press(`[data-do="save"]`)
		p.until(savedLine)
		finds := findsOf(p)
		require.Len(t, finds, before+1)
		return finds[before]
	}
	log()
	ids := party(p)
	p.until(`document.querySelector('[data-position="off"]')`)
	log()
	var asked int
	p.eval(`asked`, &asked)
	require.Zero(t, asked, "the phone was asked without anybody saying so")

	// Allowed, and there is no fix yet: the find is there first.
	p.run(emulation.SetGeolocationOverride()) // none to be had
	p.press(`[data-do="position"]`)
	p.until(`asked === 1`)
	waits := log()
	assert.NotContains(t, waits.Fields, "position")
	p.run(emulation.SetGeolocationOverride().WithLatitude(37.8071234).WithLongitude(-122.4651239).WithAccuracy(11.2))
	p.until(`document.querySelector('[data-position="here"]')`)
	want := map[string]any{"lat": 37.807123, "lon": -122.465124, "accuracyM": 12.0}
	require.Eventually(t, func() bool {
		finds := findsOf(p)
		return assert.ObjectsAreEqual(want, finds[len(finds)-1].Fields["position"])
	}, patience, 50*time.Millisecond, "the fix that came was not added")
	assert.Equal(t, want, log().Fields["position"], "a fresh fix goes with the find")

	// The outing ends: nobody is asked any more.
	var done bool
	p.eval(`book.write('outing', `+quoted(ids["outing"])+`, {ended: {at: new Date().toISOString().slice(0, 19) + 'Z', by: null}})`, &done)
	require.True(t, done)
	p.until(`!document.querySelector('[data-position]')`)
	assert.NotContains(t, log().Fields, "position")
	p.eval(`book.write('outing', `+quoted(ids["outing"])+`, {ended: null})`, &done)

	// Denied: said, and the find says that it has none.
	allow(permission.PermissionSettingDenied)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-position="denied"]')`)
	assert.Equal(t, "noFix", log().Fields["position"])

	// One that waited while the page was closed and whose time is over.
	late := findsOf(p)[1]
	p.eval(`new Promise((resolve) => { indexedDB.open('wrackbook').onsuccess = (e) => {
		const tx = e.target.result.transaction('choices', 'readwrite');
		tx.objectStore('choices').put([{id: `+quoted(late.ID)+`, atMs: Date.now() - 600000}], 'awaitingFix');
		tx.oncomplete = () => { e.target.result.close(); resolve(true); };
	}; })`, &done)
	p.run(chromedp.Reload())
	p.until(kindsHere)
	require.Eventually(t, func() bool { return findsOf(p)[1].Fields["position"] == "noFix" }, patience, 50*time.Millisecond)
}

// The list of the day by person with totals; a find is taken off, brought back, changed, put
// back, named later, and its history shows each value and where it came from.
func TestTheDayAndOneFind(t *testing.T) {
	_, p := plan(t)
	ids := party(p)
	p.follow("/shore/log", kindsHere)
	for _, one := range []struct{ taxon, by, value string }{{"Ulva lactuca", "Tam", "3"}, {"Ulva lactuca", "Tam", "2"}, {"Ulva intestinalis", "Ada", "1"}} {
		pick(p, "greens", one.taxon)
		p.press(`input[name="who"][value="` + ids[one.by] + `"]`)
		p.write("#amount", one.value)
		p.press(`input[name="fate"][value="taken"]`)
		p.press(`[data-do="save"]`)
		p.until(savedLine)
	}
	p.press(`[data-do="today"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 3`)
	wet(t, p, "the list of the day")
	p.inspect("the list of the day")
	assert.Contains(t, p.textOf(`.person[data-by="`+ids["Tam"]+`"]`), "Sea lettuce: 5 taken")
	assert.Contains(t, p.textOf(`.person[data-by="`+ids["Ada"]+`"]`), "Gut weed: 1 taken")
	finds := findsOf(p)
	p.press(`[data-find="` + finds[1].ID + `"] [data-do="undo"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 2 && document.querySelector('[data-off]')`)
	assert.Contains(t, p.textOf(`.person[data-by="`+ids["Tam"]+`"]`), "Sea lettuce: 3 taken")
	p.eval(`document.querySelector('.off-list').open = true; null`, new(any))
	p.press(`[data-do="bring-back"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 3`)

	p.press(`[data-find="` + finds[0].ID + `"] a`)
	p.until(`document.querySelector('[data-put-back="may"]')`)
	assert.Contains(t, p.text(), "Only where the rules allow it, on the same shore and tide")
	assert.Contains(t, p.text(), "On this phone only.", "it has joined no household")
	wet(t, p, "a find")
	p.inspect("a find")
	p.press(`[data-do="put-back"]`)
	p.until(`document.querySelector('[data-put-back="done"]')`)
	p.press(`[data-do="edit"]`)
	p.until(`document.querySelector('#note')`)
	wet(t, p, "changing a find")
	p.inspect("changing a find")
	p.write("#note", "under the third ledge")
	untilKept(p, "drafts", "third ledge")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#note')?.value === 'under the third ledge'`)
	p.write("#massG", "12,5")
	p.write("#sizeMm", "far too big")
	p.press(`[data-do="done"]`)
	p.until(`document.activeElement.id === 'sizeMm' && document.querySelector('#sizeMm-wrong').textContent`)
	p.write("#sizeMm", "15")
	p.press(`[data-do="done"]`)
	p.until(`document.querySelector('[data-says]')`)
	p.press(`[data-do="name"]`)
	p.until(kindsHere)
	wet(t, p, "naming a find")
	p.inspect("naming a find")
	p.press(`.groups > [data-group="greens"]`)
	p.until(`document.querySelector('[data-list="greens"]')`)
	p.press(`[data-list="greens"] [data-taxon="Ulva intestinalis"]`)
	p.until(`document.activeElement.id === 'chosen-kind'`)
	p.write("#how", "a lens and a book")
	untilKept(p, "drafts", "a lens and a book")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#how')?.value === 'a lens and a book' && document.querySelector('#chosen-kind')?.textContent.includes('Gut weed')`)
	p.press(`[data-do="identify"]`)
	p.until(`document.querySelector('h1').textContent.includes('Gut weed')`)
	assert.Contains(t, p.text(), "First logged as: Sea lettuce.")
	assert.Contains(t, p.text(), "a lens and a book")
	one := findsOf(p)[0]
	assert.Equal(t, "Ulva lactuca", one.Fields["taxon"], "the first name stays")
	assert.Equal(t, map[string]any{"g": 12.5, "weighed": "wet"}, one.Fields["mass"])
	assert.Equal(t, map[string]any{"mm": 15.0, "axis": "length"}, one.Fields["size"])
	assert.Equal(t, "under the third ledge", one.Fields["note"])
	assert.Equal(t, "taken", one.Fields["fate"])

	// Two writings of one field: both are in the history, one stands.
	appModules(p, "book", "ids")
	var done bool
	p.eval(`book.write('find', `+quoted(one.ID)+`, {note: 'under the fourth ledge'})`, &done)
	require.True(t, done)
	p.press(`[data-do="history"]`)
	p.until(`document.querySelectorAll('[data-field="note"] li').length === 2`)
	p.inspect("the history of a find")
	targets(t, p, "the history of a find")
	var notes []string
	p.eval(`[...document.querySelectorAll('[data-field="note"] li')].map((li) => li.dataset.stands + ' ' + li.querySelector('strong').textContent)`, &notes)
	assert.Equal(t, []string{"true under the fourth ledge", "false under the third ledge"}, notes)
	assert.Contains(t, p.textOf(`[data-field="note"]`), "this phone")

	// What was only "something here" stands on the list until its details have come.
	p.eval(`book.write('find', ids.uuidv7(), {at: '2026-02-03T08:00:00Z', taxon: 'unsure', group: 'unsure', fate: 'seen', unfinished: true})`, &done)
	p.follow("/shore/today", `document.querySelector('[data-unfinished] a')`)
	wet(t, p, "a list with details to come")
	p.press(`[data-unfinished] a`)
	p.until(`document.querySelector('[data-do="edit"]')`)
	p.press(`[data-do="edit"]`)
	p.until(`document.querySelector('[data-do="done"]')`)
	p.press(`[data-do="done"]`)
	p.until(`document.querySelector('[data-says]')`)
	p.follow("/shore/today", `document.querySelector('[data-find]') && !document.querySelector('[data-unfinished]')`)

	p.follow("/house/kinds", `document.querySelector('[data-group="fish"]')`)
	p.inspect("the list of kinds")
	targets(t, p, "the list of kinds")
	p.write("#search", "velvet")
	p.until(`document.querySelector('[data-taxon="Codium tomentosum"]')`)
}

// An outing shows where its finds were: a plot that tells its scale, and the same as a table.
func TestOutingsAndThePlot(t *testing.T) {
	_, p := plan(t)
	ids := party(p)
	var made int
	// At 37.8° a degree of latitude is 110.99 km and one of longitude 88.07 km on WGS 84 (the
	// series in pwa/test/plot-grid.test.js): 0.001° is 111.0 m north, 88.1 m east.
	p.eval(`(async () => {
		const at = new Date().toISOString().slice(0, 19) + 'Z';
		const list = [[37.8, -122.46, 8], [37.801, -122.46, 15], [37.801, -122.459, null], 'noFix', null];
		for (const [i, one] of list.entries()) await book.write('find', ids.uuidv7(), {at, outing: `+quoted(ids["outing"])+`, taxon: 'Ulva lactuca', group: 'greens', fate: 'seen', by: i % 2 ? `+quoted(ids["Tam"])+` : null,
			...(one ? {position: one === 'noFix' ? one : {lat: one[0], lon: one[1], accuracyM: one[2]}} : {})});
		return list.length;
	})()`, &made)
	require.Equal(t, 5, made)
	p.follow("/shore/outings", `document.querySelector('[data-outing] a')?.innerText.includes('5 finds')`)
	wet(t, p, "past outings")
	p.inspect("past outings")
	p.press(`[data-outing] a`)
	p.until(`document.querySelectorAll('.finds-table tbody tr').length === 5 && document.querySelector('.plot svg')`)
	wet(t, p, "an outing")
	p.inspect("an outing")
	var rows []string
	p.eval(`[...document.querySelectorAll('.finds-table tbody tr')].map((r) => r.lastElementChild.textContent)`, &rows)
	assert.Equal(t, []string{"55 m south, 44 m west", "55 m north, 44 m west", "55 m north, 44 m east", "none", "none"}, rows)
	assert.Len(t, strings.Split(strings.TrimSpace(p.textOf("[data-without]")), "\n"), 2)
	var drawn struct {
		East, North, Bar float64
		Circles          int
		Label            string
	}
	p.eval(`(() => { const [a, b, c] = [...document.querySelectorAll('.plot .dot')].map((d) => [Number(d.getAttribute('cx')), Number(d.getAttribute('cy'))]);
		const bar = document.querySelector('.plot .bar-line').getBBox().width;
		return {East: (c[0] - b[0]) / bar, North: (a[1] - b[1]) / bar, Bar: bar, Circles: document.querySelectorAll('.plot .within').length, Label: document.querySelector('.plot svg').getAttribute('aria-label')}; })()`, &drawn)
	assert.Contains(t, drawn.Label, "The bar is 20 m.")
	assert.InDelta(t, 111.0/20, drawn.North, 0.02)
	assert.InDelta(t, 88.07/20, drawn.East, 0.02)
	assert.Equal(t, 2, drawn.Circles, "one says nothing of its accuracy")
}

// logMany logs finds in the page, each with a photo of its own, by the same buttons.
func logMany(p *tab, n int, first int) {
	p.t.Helper()
	pictures := make([]string, n)
	for i := range pictures {
		pictures[i] = picture(p.t, first+i)
	}
	var logged int
	p.eval(`(async () => {
		const until = async (is) => { for (let i = 0; i < 2000; i++) { const found = is(); if (found) return found; await new Promise((r) => setTimeout(r, 5)); } throw new Error('waited in vain for ' + is); };
		const press = async (selector) => (await until(() => document.querySelector(selector))).click();
		let n = 0, last = '';
		for (const one of `+string(mustJSON(p.t, pictures))+`) {
			if (!document.querySelector('[data-list="recent"] [data-taxon="Fucus serratus"]')) { await press('.groups > [data-group="browns"]'); await press('[data-list="browns"] [data-taxon="Fucus serratus"]'); }
			else await press('[data-list="recent"] [data-taxon="Fucus serratus"]');
			const input = await until(() => document.querySelector('[data-camera]'));
			const files = new DataTransfer();
			files.items.add(new File([Uint8Array.from(atob(one), (c) => c.charCodeAt(0))], 'x.jpg', {type: 'image/jpeg'}));
			input.files = files.files;
			input.dispatchEvent(new Event('change', {bubbles: true}));
			await until(() => document.querySelector('[data-photo-says]')?.textContent.includes('1 photo is kept'));
			await press('[data-do="save"]');
			last = (await until(() => { const id = document.querySelector('[data-saved]')?.dataset.saved; return id && id !== last && document.querySelector('.groups') && id; }));
			n++;
		}
		return n;
	})()`, &logged)
	require.Equal(p.t, n, logged)
}

// Two phones log thirty finds each with photos, without signal; the page is loaded again in the
// middle and the browser started anew. With signal both show sixty, and the server has each
// find and each photo once.
func TestThirtyFindsOnTwoPhones(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	profiles := []string{t.TempDir(), t.TempDir()}
	browsers := []*browser{startBrowser(t, chromedp.UserDataDir(profiles[0])), startBrowser(t, chromedp.UserDataDir(profiles[1]))}
	a := browsers[0].open(t, server.url)
	chooseShore(a)
	joinBy(a, code, "A")
	a.until(answered)
	exchanged(a)
	b := browsers[1].open(t, server.url)
	b.until(`navigator.serviceWorker.controller`) // joining loads the page again, which must not cut its install short
	joinBy(b, invited(a, store.Collector), "B")
	exchanged(b)
	phones := []*tab{a, b}
	for _, p := range phones {
		p.until(answered)
		readyForOffline(p)
		p.follow("/shore/log", kindsHere)
		untilKept(p, "choices", `"kinds"`)
	}
	server.kill(t)
	for i, p := range phones {
		p.allowed = true
		logMany(p, 15, 1+100*i)
		p.run(chromedp.Reload())
		p.until(kindsHere)
		logMany(p, 5, 40+100*i)
		// The browser goes and comes again.
		browsers[i].close()
		p = startBrowser(t, chromedp.UserDataDir(profiles[i])).open(t, server.url+"/shore/log")
		p.allowed = true
		p.until(kindsHere)
		logMany(p, 10, 60+100*i)
		require.Len(t, findsOf(p), 30)
		p.follow("/shore/today", `document.querySelector('.finds > p:not(.ways-out)')?.textContent === '30 finds'`)
		p.until(`document.querySelectorAll('[data-find] .marks').length === 30`) // each says that it is not yet sent
		phones[i] = p
	}
	addr := strings.TrimPrefix(server.url, "http://")
	server, code = startHousehold(t, binary, addr, dir)
	require.Empty(t, code)
	exchanged(phones[0])
	exchanged(phones[1])
	exchanged(phones[0])
	for _, p := range phones {
		p.until(`document.querySelector('.finds > p:not(.ways-out)')?.textContent === '60 finds'`)
		p.until(`!document.querySelector('main').innerText.includes('not yet sent')`)
		assert.Len(t, findsOf(p), 60)
		p.until(`[...document.querySelectorAll('.thumb')].length >= 40`)
	}
	assert.Equal(t, recordsOf(phones[0]), recordsOf(phones[1]))
	server.kill(t)
	book, err := store.Open(filepath.Join(dir, "household"), store.Options{})
	require.NoError(t, err)
	defer func() { assert.NoError(t, book.Close()) }()
	records, err := book.Records("find", "", 1000)
	require.NoError(t, err)
	assert.Len(t, records, 60)
	for _, r := range records {
		changes, err := book.History(r.Key())
		require.NoError(t, err)
		assert.Len(t, changes, 1, "%s came more than once", r.Key().ID)
	}
	photos := map[string]bool{}
	require.NoError(t, filepath.WalkDir(filepath.Join(dir, "household", "photos"), func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			photos[d.Name()] = true
		}
		return err
	}))
	assert.Len(t, photos, 60)
}

// fill puts finds onto a phone, as many as years bring: through the database, in the form
// that the app writes.
func fill(p *tab, n int) {
	p.t.Helper()
	appModules(p, "db", "journal", "ids")
	var done int
	p.eval(`(async () => {
		const taxa = ['Ulva lactuca', 'Chondrus crispus', 'Fucus serratus', 'Fucus vesiculosus', 'Palmaria palmata', 'Codium tomentosum'];
		const start = Date.now() - 300 * 86400000;
		for (let from = 0; from < `+fmt.Sprint(n)+`; from += 1000) {
			await db.write(['changes', 'folds', 'records', 'choices'], async (tx) => {
				for (let i = from; i < Math.min(from + 1000, `+fmt.Sprint(n)+`); i++) {
					const at = new Date(start + Math.floor(i / 50) * 86400000 + (i % 50) * 60000).toISOString().slice(0, 19) + 'Z';
					const id = ids.uuidv7();
					const fields = {at, outing: null, shore: null, taxon: taxa[i % taxa.length], group: 'reds', state: 'drift', amount: {value: 1 + i % 4, unit: 'count'}, fate: i % 3 ? 'seen' : 'taken'};
					tx.objectStore('changes').put({id: ids.uuidv7(), kind: 'find', record: id, stamp: String(i), fields});
					tx.objectStore('records').put({kind: 'find', id, fields, flags: [], deleted: false});
				}
			});
		}
		return (await db.range('records', 'find')).length;
	})()`, &done)
	require.Equal(p.t, n, done)
}

// With ten thousand finds on the phone a find is saved at once, and the lists are of one day and
// a part at a time. The budget of 100 ms is held by scripts/measure; here it may be five
// times that, on a machine that does other things.
func TestTenThousandFinds(t *testing.T) {
	server, p := plan(t)
	fill(p, 10_000)
	p.goTo(server, "/shore/log", kindsHere)
	p.until(`document.querySelectorAll('[data-list="recent"] li').length === 6`)
	var worst float64
	for range 5 {
		p.press(`[data-list="recent"] [data-taxon="Palmaria palmata"]`)
		p.until(`document.querySelector('[data-do="save"]')`)
		p.press(`[data-do="save"]`)
		p.until(savedLine + ` && performance.getEntriesByName('find-saved').length`)
		var ms float64
		p.eval(`(() => { const [a] = performance.getEntriesByName('find-tap').slice(-1), [b] = performance.getEntriesByName('find-saved').slice(-1); performance.clearMarks(); return b.startTime - a.startTime; })()`, &ms)
		worst = max(worst, ms)
	}
	t.Logf("tap to saved, worst of five: %.0f ms", worst)
	assert.Greater(t, worst, 0.0)
	assert.Less(t, worst, 500.0)
	p.follow("/shore/today", `document.querySelectorAll('[data-find]').length === 5`)
	p.press(`[data-do="before"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 40 && document.querySelector('[data-do="more"]')`)
	p.press(`[data-do="more"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 50`)
}
