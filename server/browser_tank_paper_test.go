package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here put the tanks on paper and live through the hard moments.

// shelfDay is a Thursday, 18:00 in London.
var shelfDay = time.Date(2026, 12, 10, 18, 0, 0, 0, time.UTC)

// shelf opens a phone whose clock is set, with a shelf of jars: Jar 1 held a lot of sea lettuce
// that waited its 28 days and moved to the display Hall, and a periwinkle that is still there;
// in Jar 2 a hermit crab was last looked at on Monday; in Jar 3 nobody knows what it is; Jar 4
// holds a weed that may not be kept. It gives ids by name.
func shelf(t *testing.T) (server *process, p *tab, ids map[string]string) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server = startServer(t, binary, "127.0.0.1:0")
	p = startBrowser(t).open(t, "about:blank")
	p.onNew(fmt.Sprintf(clockScript, shelfDay.UnixMilli()))
	p.run(chromedp.Navigate(server.url))
	chooseShore(p)
	untilKept(p, "changes", "San Francisco")
	appModules(p, "book", "ids", "household")
	p.eval(`(async () => {
		await book.ready('shore');
		const made = {};
		const put = async (name, kind, fields) => { made[name] = ids.uuidv7(); await book.write(kind, made[name], fields); return made[name]; };
		const say = (what, at, of, parts = {}) => book.write('event', ids.uuidv7(), {[what]: {at, of, by: made.Mara, ...parts}});
		const day = (n) => new Date(Date.UTC(2026, 10, n)).toISOString().slice(0, 10);
		await household.setHousehold({name: 'The Lowes', home: {zone: 'Europe/London', climate: 'temperate'}});
		await put('Mara', 'member', {name: 'Mara', age: 'adult'});
		await put('Ada', 'member', {name: 'Ada', age: 'child'});
		const jar = (name, order) => put(name, 'tank', {name, use: 'quarantine', volumeL: 2, order});
		await jar('Jar 1', 1); await jar('Jar 2', 2); await jar('Jar 3', 3); await jar('Jar 4', 4);
		await put('Hall', 'tank', {name: 'Hall', use: 'display', volumeL: 60, order: 5, keeps: {salinityLow: 33, salinityHigh: 35, lowC: 12, highC: 16}});
		const shore = book.records('shore').value.find((one) => !one.deleted).id;
		await put('find', 'find', {at: '2026-11-05T23:00:00Z', shore, taxon: 'Ulva lactuca', group: 'greens', fate: 'taken', amount: {value: 200, unit: 'g'}});
		const lives = async (name, taxon, group, tank, at, more = {}) => {
			await put(name, 'specimen', {taxon, group, ...more});
			await say('arrived', at, 'specimen/' + made[name], {tank: made[tank]});
		};
		await lives('lettuce', 'Ulva lactuca', 'greens', 'Jar 1', '2026-11-06T09:00:00Z', {find: made.find, amount: {value: 200, unit: 'g'}, base: 'cut'});
		await lives('winkle', 'Littorina littorea', 'snails', 'Jar 1', '2026-11-06T09:00:00Z', {name: 'Old Tom', source: 'the harbour wall'});
		await lives('hermit', 'Pagurus bernhardus', 'hermits', 'Jar 2', '2026-12-01T09:00:00Z', {name: 'Rosie'});
		await lives('stranger', 'unsure', 'unsure', 'Jar 3', '2026-12-01T09:00:00Z');
		await lives('caulerpa', 'Caulerpa taxifolia', 'greens', 'Jar 4', '2026-12-01T09:00:00Z');
		for (let n = 6; n <= 40; n++) await say('checked', day(n) + 'T10:00:00Z', 'tank/' + made['Jar 1'], {signs: []});
		for (let n = 31; n <= 37; n++) for (const name of ['Jar 2', 'Jar 3', 'Jar 4']) await say('checked', day(n) + 'T10:00:00Z', 'tank/' + made[name], {signs: []});
		await say('cleared', '2026-12-06T12:00:00Z', 'specimen/' + made.lettuce, {tank: made.Hall});
		return made;
	})()`, &ids)
	return server, p, ids
}

// sheet is what a printed page says, as a reader of the PDF has it, and how many pages it takes.
func (p *tab) sheet(name string) (text string, pages int) {
	p.t.Helper()
	var pdf []byte
	p.run(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = cdp.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	}))
	dir := p.t.TempDir()
	if keep := os.Getenv("WRACKBOOK_PICTURES"); keep != "" {
		dir = keep
	}
	file := filepath.Join(dir, name+".pdf")
	require.NoError(p.t, os.WriteFile(file, pdf, 0o600))
	path, err := exec.LookPath("pdftotext")
	require.NoError(p.t, err, "the tests of paper need pdftotext: apt-get install --no-install-recommends poppler-utils")
	out, err := exec.Command(path, file, "-").Output()
	require.NoError(p.t, err)
	return strings.Join(strings.Fields(string(out)), " "), len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(pdf, -1))
}

// whole holds that on paper nothing is cut off: no part of a sheet has more in it than it shows,
// and none stands outside its sheet.
func (p *tab) whole(name string) {
	p.t.Helper()
	p.run(emulation.SetEmulatedMedia().WithMedia("print"))
	defer p.run(emulation.SetEmulatedMedia())
	var cut []string
	p.eval(`(() => {
		const sheets = [...document.querySelectorAll('.paper-sheet')];
		if (!sheets.length) return ['there is no sheet'];
		return sheets.flatMap((sheet) => {
			const edge = sheet.getBoundingClientRect();
			return [sheet, ...sheet.querySelectorAll('*:not(svg *)')].filter((e) => {
				const box = e.getBoundingClientRect();
				const clips = getComputedStyle(e).overflow !== 'visible' && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1);
				return clips || box.left < edge.left - 1 || box.right > edge.right + 1 || box.top < edge.top - 1 || box.bottom > edge.bottom + 1;
			}).map((e) => (e.className || e.tagName) + ': ' + e.textContent.slice(0, 60));
		});
	})()`, &cut)
	assert.Empty(p.t, cut, name)
}

// dry looks at a page of Tanks as a person and a reader of the screen would.
func (p *tab) dry(name string) {
	p.t.Helper()
	p.look(name)
	p.inspect(name)
	targets(p.t, p, name)
}

// TestLidSheets: the sheet for a lid says who waits, how it stood and when, and what not to do;
// its code is that of rsc.io/qr for the address that stands beside it. Jars get small ones.
func TestLidSheets(t *testing.T) {
	server, p, ids := shelf(t)
	p.goTo(server, "/tanks/lid", `document.querySelector('a[href="/tanks/lid/tank/`+ids["Jar 1"]+`"] .soft')?.textContent.includes('Wait done')`)
	p.dry("lids")
	jar := "/tanks/lid/tank/" + ids["Jar 1"]
	p.follow(jar, `document.querySelector('.lid[data-state="done"]')`)
	p.dry("lid")
	p.whole("lid")
	said, pages := p.sheet("lid")
	assert.Equal(t, 1, pages)
	link := server.url + "/tanks/tank/" + ids["Jar 1"]
	for _, words := range []string{"Jar 1", "The Lowes", "Wait done", "28 of 28 days watched", "Old Tom, Common periwinkle", "10 Dec, 18:00", "share none", "Nothing goes back to the sea"} {
		assert.Contains(t, said, words)
	}
	assert.NotContains(t, said, "Sea lettuce", "it lives in the display")
	plain := strings.NewReplacer(" ", "", "-", "") // where a line ends, a reader takes the hyphen for one of a broken word
	assert.Contains(t, plain.Replace(said), plain.Replace(link))
	drawn(p, link)

	// One that is stopped, one whose clock is paused, one that is no quarantine.
	p.follow("/tanks/lid/tank/"+ids["Jar 4"], `document.querySelector('.lid[data-state="stopped"]')`)
	said, _ = p.sheet("lid-stopped")
	assert.Contains(t, said, "STOPPED")
	assert.Contains(t, said, "Ask the authority")
	p.follow("/tanks/lid/tank/"+ids["Jar 2"], `document.querySelector('.lid[data-state="paused"]')`)
	assert.Contains(t, p.textOf(".lid"), "Rosie")
	p.follow("/tanks/lid/tank/"+ids["Hall"], `document.querySelector('.lid[data-state="none"]')`)
	assert.Contains(t, p.textOf(".lid"), "Keep at salinity 33 to 35, 12 to 16 °C")
	assert.Contains(t, p.textOf(".lid"), "Sea lettuce")
	p.follow("/tanks/lid/tank/01990000-0000-7000-8000-00000000dead", `document.querySelector('h1') && !document.querySelector('.lid')`)
	assert.Contains(t, p.text(), "not on file on this phone")

	// The longest names that the book takes, many to a tank, an open sign: still nothing is cut off.
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		const jar = `+quoted(ids["Jar 2"])+`;
		await book.write('tank', jar, {name: 'The jar beside the window of the laundry '.repeat(2).slice(0, 80), volumeL: 2.5, keeps: {salinityLow: 33.25, salinityHigh: 35.75, lowC: 12, highC: 16.5}});
		for (let i = 0; i < 30; i++) {
			const id = ids.uuidv7();
			await book.write('specimen', id, {name: (i % 3 ? 'crab ' + i : i + ' a hermit crab with a very long name of its own, '.repeat(2)).slice(0, 80), taxon: 'Pagurus bernhardus', group: 'hermits'});
			await book.write('event', ids.uuidv7(), {arrived: {at: '2026-12-01T09:00:00Z', of: 'specimen/' + id, by: null, tank: jar}});
		}
		await book.write('event', ids.uuidv7(), {sign: {at: '2026-12-10T09:00:00Z', of: 'tank/' + jar, by: null, what: 'a spot', grade: 'watch'}});
		return true;
	})()`, new(bool))
	p.follow("/tanks/lid/tank/"+ids["Jar 2"], `document.querySelector('.lid')?.textContent.includes('A sign is open') && document.querySelector('.lid').textContent.includes('more: read the code')`)
	p.whole("lid, long")
	_, pages = p.sheet("lid-long")
	assert.Equal(t, 1, pages)
	p.follow("/tanks/lid/all", `document.querySelectorAll('.lid-small').length === 5`)
	p.dry("lids-small")
	p.whole("lids-small")
	said, pages = p.sheet("lids-small")
	assert.Equal(t, 2, pages)
	for _, name := range []string{"Jar 1", "the window of the laundry", "Jar 3", "Jar 4", "Hall"} {
		assert.Contains(t, said, name)
	}
}

// TestPaperWithoutServer: a lid, its code, labels and ticks print while the server is gone.
func TestPaperWithoutServer(t *testing.T) {
	server, p, ids := shelf(t)
	readyForOffline(p)
	p.goTo(server, "/tanks", `document.querySelector('[data-system]')`) // the places that come later are there
	server.kill(t)
	p.allowed = true // fetches that fail are told in the console
	link := server.url + "/tanks/tank/" + ids["Jar 2"]
	p.goTo(server, "/tanks/lid/tank/"+ids["Jar 2"], `document.querySelector('.lid[data-state="paused"]')`)
	said, _ := p.sheet("lid-offline")
	assert.Contains(t, said, "Rosie")
	drawn(p, link)
	p.goTo(server, "/tanks/labels/"+ids["lettuce"], `document.querySelector('.label')?.textContent.includes('wait done')`)
	p.goTo(server, "/tanks/ticks/enter/2026-12-07", `document.querySelector('.tick-form')`)
	p.press(`[data-day="2026-12-08"]`)
	p.until(onDay("2026-12-08"))
	p.choose("#tick-who", "Mara")
	p.press(`[data-do="all"]`)
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-says]').textContent.includes('Tue 8 Dec')`)
	p.goTo(server, "/tanks/recall/"+ids["lettuce"], `document.querySelector('[data-recall="2"]')`)
}

// TestLabels: labels are as large as their sheet says, hold all their words on every sheet, and
// say what stays here; a place is used up, an own sheet is measured, the origin is as blurred as
// the household chooses.
func TestLabels(t *testing.T) {
	server, p, ids := shelf(t)
	p.goTo(server, "/tanks/labels", `document.querySelector('[data-standing="may"] input')`)
	p.dry("labels-empty")
	p.press(`[data-standing="may"] input[value="` + ids["lettuce"] + `"]`)
	p.until(`document.querySelectorAll('.label').length === 1`)
	p.press(`[data-do="all-may"]`) // the periwinkle's wait is done as well
	p.press(`[data-do="all-stays"]`)
	p.until(`document.querySelectorAll('.label').length === 5`)
	p.dry("labels")
	said, pages := p.sheet("labels")
	assert.Equal(t, 1, pages)
	for _, words := range []string{"Sea lettuce", "Ulva lactuca", "Quarantine 6 Nov 2026 to 6 Dec 2026, 30 days: wait done", "Never release it, nor its water. Never into a drain to the sea.", "Lot ",
		"STAYS HERE", "Unidentified", "Trim it every week", "freeze it for a day"} {
		assert.Contains(t, said, words)
	}
	assert.NotContains(t, said, "San Francisco", "nothing is said of the shore unless the household chooses to")
	p.press(`input[name="origin"][value="shore"]`)
	lettuce := `document.querySelector('[data-label="` + ids["lettuce"] + `"]')`
	p.until(lettuce + `.textContent.includes('from San Francisco')`)
	p.press(`input[name="origin"][value="words"]`)
	p.until(`document.querySelector('#region-wrong').textContent && !document.querySelector('.label')`)
	p.write("#region", "north coast")
	p.until(lettuce + `?.textContent.includes('from north coast')`)

	// Every sheet holds every label whole, at the size that it names, mm.
	p.write("#copies", "5")
	for size, want := range map[string][3]float64{"a4-cut": {90, 52, 3}, "a4-24": {70, 37, 2}, "a4-21": {63.5, 38.1, 2}, "a4-14": {99.1, 38.1, 2}, "a4-8": {99.1, 67.7, 4}, "letter-cut": {90, 50, 3}, "letter-10": {101.6, 50.8, 3}} {
		p.set("#size", size)
		p.until(fmt.Sprintf(`document.querySelectorAll('.paper-sheet').length === %d && document.querySelectorAll('.label').length === 25`, int(want[2])))
		p.whole(size)
		var tight bool
		p.eval(`Boolean(document.querySelector('[data-tight]'))`, &tight)
		assert.False(t, tight, size)
		p.run(emulation.SetEmulatedMedia().WithMedia("print"))
		var box [2]float64
		p.eval(`(() => { const {width, height} = document.querySelector('.label').getBoundingClientRect(); return [width, height].map((px) => px * 25.4 / 96); })()`, &box)
		p.run(emulation.SetEmulatedMedia())
		assert.InDelta(t, want[0], box[0], 0.05, size)
		assert.InDelta(t, want[1], box[1], 0.05, size)
		_, pages = p.sheet("labels-" + size)
		assert.Equal(t, int(want[2]), pages, size)
	}

	// A sheet with three places gone, then one of the household's own that is too wide.
	p.write("#copies", "1")
	p.set("#size", "a4-24")
	p.write("#used", "22")
	p.until(`document.querySelectorAll('.paper-sheet').length === 2 && document.querySelectorAll('.paper-sheet:first-child .label').length === 2`)
	p.write("#used", "24")
	p.until(`document.querySelector('#used-wrong').textContent.includes('0 to 23')`)
	p.write("#used", "0")
	p.set("#size", "own")
	p.until(`document.querySelector('#width') && document.querySelectorAll('.label').length === 5`)
	p.dry("labels-own")
	p.write("#columns", "3")
	p.until(`document.querySelector('#columns-wrong').textContent.includes('wider than the paper')`)
	p.write("#width", "50")
	p.until(`document.querySelector('#width-wrong').textContent.includes('60 × 36')`)
	p.write("#width", "62")
	p.until(`document.querySelectorAll('.label').length === 5`)
	p.whole("own")
	// What was chosen is there the next time.
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#width')?.value === '62' && document.querySelector('#region').value === 'north coast'`)
}

// TestNamedLater: what a find turned out to be is what its specimens are, on labels, on lids and
// where they are handed on, and not what they were taken for.
func TestNamedLater(t *testing.T) {
	_, p, ids := shelf(t)
	p.follow("/tanks/labels/"+ids["lettuce"], `document.querySelector('.label')?.textContent.includes('Ulva lactuca')`)
	p.eval(`book.write('find', `+quoted(ids["find"])+`, {['identified/' + ids.uuidv7()]: {at: '2026-12-10T12:00:00Z', by: null, taxon: 'Codium fragile', group: 'greens'}})`, new(bool))
	p.until(`document.querySelector('.label').textContent.includes('Codium fragile')`)
	assert.NotContains(t, p.textOf(".label"), "Ulva lactuca")
	p.follow("/tanks/lid/tank/"+ids["Hall"], `document.querySelector('.lid-who')?.textContent.includes('Green sea fingers')`)
	p.follow("/tanks/hand-on/"+ids["lettuce"], `document.querySelector('form.hand-on > .heed')`)
	assert.Contains(t, p.textOf("form.hand-on > .heed"), "invasive", "internal/book/taxa.json has it invasive in three regions")
}
