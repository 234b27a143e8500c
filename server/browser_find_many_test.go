package main

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// The tests here log many finds, on two phones and on one.

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
	t.Parallel()
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
	t.Parallel()
	server, p := plan(t)
	fill(p, 10_000)
	p.goTo(server, "/shore/today", `document.querySelector('[data-do="before"]')`) // all of them are read
	p.follow("/shore/log", kindsHere)
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
