package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"
	"time"

	permission "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	paging "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here give finds their photos and positions.

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
	t.Parallel()
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
	t.Parallel()
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
	log := func() record {
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
	putChoice(p, "awaitingFix", `[{id: `+quoted(late.ID)+`, atMs: Date.now() - 600000}]`)
	p.run(chromedp.Reload())
	p.until(kindsHere)
	require.Eventually(t, func() bool { return findsOf(p)[1].Fields["position"] == "noFix" }, patience, 50*time.Millisecond)
}
