package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// The tests here look after tanks, as a household does at home.

// atHome opens a phone whose clock is set, on the page of the tanks.
func atHome(t *testing.T, at time.Time) (*process, *tab) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, "about:blank")
	p.onNew(fmt.Sprintf(clockScript, at.UnixMilli()))
	p.run(chromedp.Navigate(server.url + "/tanks"))
	p.until(`document.querySelector('[data-empty]')`)
	p.clockTo(at) // which a reload keeps
	return server, p
}

const reckoned = `document.querySelector('.tanks[data-reckoned="true"]')`

// keeping runs a script that writes what is in the tanks into the app's own book. It has
// write(kind, fields) and say(what, hoursAgo, parts), which give ids, and mum and kid, an
// adult and a child.
func keeping(p *tab, script string) (ids map[string]string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		const made = {};
		const write = async (kind, fields, id = ids.uuidv7()) => { await book.write(kind, id, fields); return id; };
		const mum = made.mum = await write('member', {name: 'Mara', age: 'adult'});
		const kid = made.kid = await write('member', {name: 'Ada', age: 'child'});
		const ago = (hours) => new Date(Date.now() - hours * 3600000).toISOString().slice(0, 19) + 'Z';
		const say = (what, hours, parts, more = {}) => write('event', {[what]: {at: ago(hours), by: mum, ...parts}, ...more});
		const tank = (name, use, more = {}) => write('tank', {name, use, ...more});
		const lives = async (taxon, group, tank, hours, more = {}) => {
			const id = await write('specimen', {taxon, group, amount: {value: 1, unit: 'count'}, source: 'a friend', ...more});
			await say('arrived', hours, {of: 'specimen/' + id, tank});
			return id;
		};
		const looks = async (of, from, to, more = {}) => { for (let h = from; h >= to; h -= 24) await say('checked', h, {of, signs: [], ...more}); };
		`+script+`
		return made;
	})()`, &ids)
	return ids
}

// fullShelf is a household with something of everything: a rack of three tanks with a sign behind
// it, jars that wait, stand still, are done and stopped, and a display.
const fullShelf = `
	const rack = made.rack = await write('system', {name: 'Rack by the door', protocol: {quietDays: 14, dips: 0}});
	for (const [i, name] of ['Left tank', 'Middle tank', 'Right tank'].entries()) {
		made['tank' + i] = await tank(name, 'quarantine', {volumeL: 12});
		await say('joined', 24 * 30, {of: 'tank/' + made['tank' + i], system: rack});
	}
	made.hermit = await lives('Pagurus bernhardus', 'hermits', made.tank0, 24 * 20 + 1, {name: 'The big hermit'});
	made.snail = await lives('Littorina littorea', 'snails', made.tank1, 24 * 20, {amount: {value: 6, unit: 'count'}});
	made.shrimp = await lives('Palaemon elegans', 'shrimps', made.tank2, 24 * 20 - 1);
	await looks('system/' + rack, 24 * 20 - 5, 24 * 12);
	made.old = await say('sign', 24 * 11, {of: 'specimen/' + made.snail, what: 'white fluff', grade: 'unsure'});
	await say('settled', 24 * 11 - 2, {of: 'specimen/' + made.snail, sign: made.old, how: 'rubbed off, gone the next day'});
	await looks('system/' + rack, 24 * 10 - 3, 24 * 6);
	await looks('system/' + rack, 24 * 5 - 3, 24 * 3, {by: kid});
	await looks('system/' + rack, 24 * 2 - 3, 24);
	const jar = async (n, taxon, group, days, more) => {
		const id = made['jar' + n] = await tank('Jar ' + n, 'quarantine', {volumeL: 1});
		made['in' + n] = await lives(taxon, group, id, 24 * days, more);
		return id;
	};
	await jar(1, 'Ulva lactuca', 'greens', 31, {base: 'cut', amount: {value: 20, unit: 'g'}});
	await looks('tank/' + made.jar1, 24 * 31 - 3, 1);
	await jar(2, 'Chondrus crispus', 'reds', 9, {base: 'holdfast', amount: {value: 30, unit: 'g'}});
	await looks('tank/' + made.jar2, 24 * 9 - 3, 1);
	await jar(3, 'Fucus serratus', 'browns', 12, {base: 'stone', amount: {value: 80, unit: 'g'}});
	await looks('tank/' + made.jar3, 24 * 12 - 3, 24 * 5);
	await jar(4, 'Codium fragile', 'greens', 5, {base: 'cut', amount: {value: 15, unit: 'g'}});
	await looks('tank/' + made.jar4, 24 * 5 - 3, 24);
	made.slug = await say('sign', 5, {of: 'tank/' + made.jar4, what: 'an egg coil on the glass', grade: 'watch'});
	await jar(5, 'Caulerpa taxifolia', 'greens', 3, {base: 'cut', amount: {value: 5, unit: 'g'}});
	made.show = await tank('Long tank', 'display', {volumeL: 180, keeps: {salinityLow: 33, salinityHigh: 36, lowC: 10, highC: 18}});
	made.goby = await lives('Gobius paganellus', 'fish', made.show, 24 * 200);
	for (const of of ['tank/' + made.show, 'tank/' + made.jar1]) await write('reading', {sample: {at: ago(3), of, by: mum}, temperatureC: 14.5,
		salinity: {value: 34.2, instrument: 'refractometer', scale: 'PSS-78', sampleC: 20}});
`

// stands looks at a page as a person, a reader of the screen and a thumb would, and keeps
// pictures of it.
func (p *tab) stands(name string) {
	p.t.Helper()
	p.look("tanks-" + name)
	if dir := os.Getenv("WRACKBOOK_PICTURES"); dir != "" {
		var whole []byte
		p.run(chromedp.FullScreenshot(&whole, 100))
		require.NoError(p.t, os.WriteFile(filepath.Join(dir, "tanks-"+name+"-whole.png"), whole, 0o600))
	}
	p.inspect("tanks: " + name)
	targets(p.t, p, "tanks: "+name)
}

// open shows what a page folds away.
func (p *tab) unfold() {
	p.t.Helper()
	p.eval(`[...document.querySelectorAll('details')].forEach((d) => d.open = true); 0`, new(int))
}

func sundayMorning() time.Time { return time.Date(2026, 3, 22, 9, 30, 0, 0, time.UTC) }

// Every page of a household with something of everything, light and dark, on a phone and on a
// desk.
func TestTanksPages(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	p.stands("empty")
	ids := keeping(p, fullShelf)
	p.until(reckoned + ` && document.querySelector('[data-due]')`)
	p.until(`document.querySelector('[data-list="systems"] [data-system="tank/` + ids["jar5"] + `"][data-state="stopped"]')`)
	p.stands("home")
	for _, at := range []struct{ path, ready, name string }{
		{"/tanks/system/system/" + ids["rack"], `document.querySelector('.system .long-strip')`, "system"},
		{"/tanks/system/tank/" + ids["jar4"], `document.querySelector('[data-sign="` + ids["slug"] + `"]')`, "sign"},
		{"/tanks/system/tank/" + ids["jar5"], `document.querySelector('.sign.grave')`, "stopped"},
		{"/tanks/specimen/" + ids["in1"], `document.querySelector('[data-clearance="may"]')`, "specimen-done"},
		{"/tanks/specimen/" + ids["in2"], `document.querySelector('[data-clearance="missing"]')`, "specimen-waits"},
		{"/tanks/specimen/" + ids["in1"] + "/clear", `document.querySelector('[data-fits="1"]')`, "clear"},
		{"/tanks/specimen/" + ids["in2"] + "/move", `document.querySelector('#to')`, "move"},
		{"/tanks/specimen/" + ids["in2"] + "/part", `document.querySelector('#part-name')`, "part"},
		{"/tanks/specimen/" + ids["in2"] + "/died", `document.querySelector('#part')`, "died"},
		{"/tanks/specimen/" + ids["in2"] + "/gone", `document.querySelector('[data-choices="how"]')`, "gone"},
		{"/tanks/specimen/" + ids["in2"] + "/treat", `document.querySelector('#how')`, "treat"},
		{"/tanks/specimen/" + ids["in2"] + "/overrule", `document.querySelector('#reason')`, "overrule"},
		{"/tanks/specimen/" + ids["in2"] + "/edit", `document.querySelector('[data-form="specimen"]')`, "specimen-edit"},
		{"/tanks/specimen/new", `document.querySelector('.groups [data-group="fish"]')`, "specimen-new"},
		{"/tanks/system/new", `document.querySelector('#system-name')`, "system-new"},
		{"/tanks/check/system/" + ids["rack"], `document.querySelector('[data-do="quiet"]')`, "check"},
		{"/tanks/walk", `document.querySelector('[data-walk="7"]')`, "walk"},
		{"/tanks/numbers", `document.querySelector('.numbers-by-group')`, "numbers"},
		{"/tanks/system/system/" + ids["mum"], `document.querySelector('main h1')`, "system-missing"},
		{"/tanks/specimen/" + ids["mum"], `document.querySelector('main h1')`, "specimen-missing"},
	} {
		p.follow(at.path, at.ready)
		p.unfold()
		p.stands(at.name)
	}
	p.follow("/tanks/check/system/"+ids["rack"], `document.querySelector('[data-do="seen"]')`)
	p.press(`[data-do="seen"]`)
	p.until(`document.querySelector('[data-seen]')`)
	p.stands("check-seen")
}

// brought writes an outing of this morning with what was taken on it, and gives the outing's id
// and those of the finds.
const brought = `
	const outing = made.outing = ids.uuidv7();
	await book.write('outing', outing, {shore: ids.uuidv7(), purpose: 'home', started: {at: ago(4), by: mum}, ended: {at: ago(2), by: mum}});
	const took = async (taxon, group, value, unit, more = {}) => write('find', {at: ago(3), outing, by: mum, taxon, group, state: 'living', amount: {value, unit}, fate: 'taken', ...more});
	made.crab = await took('Pagurus bernhardus', 'hermits', 2, 'count');
	made.weed = await took('Ulva lactuca', 'greens', 60, 'g', {state: 'attached'});
	made.snails = await took('Littorina littorea', 'snails', 7, 'count');
	await took('Carcinus maenas', 'crabs', 1, 'count', {fate: 'seen'});
	await took('Asterina gibbosa', 'snails', 1, 'count', {putBack: {at: ago(3), by: mum}});
`

// specimenRecord is a specimen as the phone keeps it.
type specimenRecord struct {
	ID      string
	Kind    string
	Fields  map[string]any
	Deleted bool
}

// keptOf gives the records of a kind that a phone keeps and that are not taken back.
func keptOf(p *tab, kind string) (list []specimenRecord) {
	p.t.Helper()
	for _, r := range kept[specimenRecord](p, "records") {
		if r.Kind == kind && !r.Deleted {
			list = append(list, r)
		}
	}
	return list
}

// What was taken on an outing is settled in by one touch; one bag into six jars keeps six fates
// and one origin; it is taken back in one touch, and never settled in twice.
func TestSettleIn(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, brought)
	p.follow("/shore/outings/"+ids["outing"], `document.querySelector('[data-do="settle"]')?.innerText === '3 taken: settle them in'`)
	p.follow("/tanks", `document.querySelector('[data-settle="3"]')`)
	p.click(`[data-settle="3"]`)
	p.until(`document.querySelector('.settle-in[data-finds="3"]')`)
	p.stands("settle-in")
	p.click(`[data-do="settle"]`)
	p.until(`document.querySelector('[data-settled="3"]') && document.activeElement.id === 'settled'`)
	p.stands("settled")
	specimens := keptOf(p, "specimen")
	require.Len(t, specimens, 3)
	byFind := map[any]specimenRecord{}
	for _, s := range specimens {
		byFind[s.Fields["find"]] = s
	}
	assert.Equal(t, map[string]any{"value": 2.0, "unit": "count"}, byFind[ids["crab"]].Fields["amount"])
	assert.Equal(t, "hermits", byFind[ids["crab"]].Fields["group"])
	assert.Equal(t, "Ulva lactuca", byFind[ids["weed"]].Fields["taxon"])
	assert.Equal(t, "wild", byFind[ids["weed"]].Fields["origin"])
	tanks := keptOf(p, "tank")
	require.Len(t, tanks, 1)
	assert.Equal(t, "quarantine", tanks[0].Fields["use"])
	arrivals := keptOf(p, "event")
	require.Len(t, arrivals, 3)
	for _, e := range arrivals {
		assert.Equal(t, tanks[0].ID, e.Fields["arrived"].(map[string]any)["tank"])
	}

	p.click(`[data-do="undo"]`)
	p.until(`document.querySelector('.settle-in[data-finds="3"]')`)
	assert.Empty(t, keptOf(p, "specimen"))
	assert.Empty(t, keptOf(p, "event"))
	assert.Empty(t, keptOf(p, "tank"))

	// The snails stay out; the weed goes into six jars.
	p.touchOf(`[data-find="` + ids["snails"] + `"] input[type="checkbox"]`)
	p.set(`#jars-`+ids["weed"], "6")
	p.set(`#base-`+ids["weed"], "cut")
	p.touchOf(`[data-do="settle"]`)
	p.until(`document.querySelector('[data-settled="7"]')`)
	origin, tanksOf := "", map[any]bool{}
	for _, e := range keptOf(p, "event") {
		tanksOf[e.Fields["arrived"].(map[string]any)["tank"]] = true
	}
	assert.Len(t, tanksOf, 7, "each has a jar of its own")
	parts := 0
	for _, s := range keptOf(p, "specimen") {
		if s.Fields["find"] != ids["weed"] {
			continue
		}
		parts++
		assert.Equal(t, map[string]any{"value": 10.0, "unit": "g"}, s.Fields["amount"])
		assert.Equal(t, "cut", s.Fields["base"])
		if s.Fields["lot"] == nil {
			origin = s.ID
		}
	}
	require.Equal(t, 6, parts)
	require.NotEmpty(t, origin)
	for _, s := range keptOf(p, "specimen") {
		if s.Fields["find"] == ids["weed"] && s.ID != origin {
			assert.Equal(t, origin, s.Fields["lot"])
		}
	}
	// What is left is offered still, and no more.
	p.follow("/tanks", `document.querySelector('[data-settle="1"]')`)
	p.click(`[data-settle="1"]`)
	p.until(`document.querySelector('.settle-in[data-finds="1"]')`)
	p.touchOf(`[data-do="settle"]`)
	p.until(`document.querySelector('[data-settled="1"]')`)
	p.follow("/tanks", reckoned)
	p.follow("/tanks/settle/"+ids["outing"], `document.querySelector('[data-none]')`)
	assert.Contains(t, p.text(), "settled in already")
	p.follow("/tanks", reckoned+` && document.querySelectorAll('[data-list="specimens"] > li').length === 8`)
	assert.NotContains(t, p.text(), "settle them in")
	p.follow("/shore/outings/"+ids["outing"], `document.querySelector('.outing-finds') && !document.querySelector('[data-do="settle"]')`)
}

// Twenty jars, one with a sign and one left out, in eight touches: whoever needs ten seconds for
// each is through in under two minutes.
func TestJarWalk(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, `
		for (let n = 1; n <= 20; n++) {
			made['jar' + n] = await tank('Jar ' + n, 'quarantine', {volumeL: 1, order: n});
			made['in' + n] = await lives('Ulva lactuca', 'greens', made['jar' + n], 24 * 3, {base: 'cut'});
			await looks('tank/' + made['jar' + n], 24 * 3 - 2, 24);
		}`)
	p.until(reckoned + ` && document.querySelector('[data-what="walk"] [data-do="walk"]')`)
	p.eval(`window.taps = 0; addEventListener('click', () => taps++, true); 0`, new(int))
	p.click(`[data-what="walk"] [data-do="walk"]`)
	p.until(`document.querySelectorAll('[data-walk="20"] > li').length === 20`)
	var names []string
	p.eval(`[...document.querySelectorAll('.walk > li strong')].map((e) => e.textContent)`, &names)
	assert.Equal(t, "Jar 1", names[0])
	assert.Equal(t, []string{"Jar 9", "Jar 10"}, names[8:10], "in the order of the shelf")
	assert.Equal(t, "Jar 20", names[19])
	stop := func(n int) string { return `.walk > [data-system="tank/` + ids[fmt.Sprint("jar", n)] + `"]` }
	p.touchOf(`[data-do="top-up-all"]`)
	p.touchOf(stop(13) + ` [data-do="seen"]`)
	p.touchOf(stop(17) + ` [data-do="not"]`)
	untilKept(p, "drafts", "seen")
	p.run(chromedp.Reload()) // the phone was needed for something else
	p.until(`document.querySelector(` + quoted(stop(13)) + `)?.dataset.looked === 'seen'`)
	p.eval(`window.taps = 4; addEventListener('click', () => taps++, true); 0`, new(int))
	p.stands("walk-marked")
	p.touchOf(`[data-do="walked"]`)
	p.until(`document.querySelector('[data-walked="38"] ~ [data-seen]')`)
	p.stands("walk-seen")
	p.write("#own-words", "a white film")
	p.touchOf(`[data-do="save-sign"]`)
	p.until(`document.querySelector('[data-walked="39"]') && document.body.innerText.includes('The walk is done')`)
	var taps int
	p.eval(`taps`, &taps)
	assert.LessOrEqual(t, taps, 8, "touches for twenty jars, one with a sign and one left out")
	checks, tops := 0, 0
	for _, e := range keptOf(p, "event") {
		if c, ok := e.Fields["checked"].(map[string]any); ok && c["at"].(string) >= "2026-03-22" {
			checks++
			assert.NotEqual(t, "tank/"+ids["jar13"], c["of"])
			assert.NotEqual(t, "tank/"+ids["jar17"], c["of"])
			assert.Equal(t, ids["mum"], c["by"])
		}
		if e.Fields["toppedUp"] != nil {
			tops++
		}
	}
	assert.Equal(t, 18, checks)
	assert.Equal(t, 20, tops)
	p.follow("/tanks", reckoned+` && document.querySelector('[data-what="check"][data-system="tank/`+ids["jar17"]+`"]')`)
	p.until(`document.querySelector('[data-what="sign"][data-system="tank/` + ids["jar13"] + `"]')`)
	assert.NotContains(t, p.text(), "systems to look at")
}

// atClock sets a phone's clock, and waits until the tanks are reckoned for that day.
func (p *tab) atClock(at time.Time) {
	p.t.Helper()
	p.clockTo(at)
	p.until(`document.querySelector('.tanks[data-day="` + at.Format(time.DateOnly) + `"]')`)
}

// offline cuts a phone off, or brings it back.
func (p *tab) offline(is bool) {
	p.t.Helper()
	p.run(network.Enable(), network.EmulateNetworkConditions(is, 0, -1, -1))
}

// looks notes on the first page that no signs were seen, in one touch.
func (p *tab) looks(at time.Time) {
	p.t.Helper()
	p.atClock(at)
	p.until(`document.querySelector('li[data-what="check"] button[data-do="check"]')`)
	p.press(`li[data-what="check"] button[data-do="check"]`)
	p.until(`document.querySelector('[data-done]') && !document.querySelector('li[data-what="check"]')`)
}

// standing is how the one quarantine stands on the first page: its days, one letter each, and
// the words under them.
func (p *tab) standing(system string) string {
	p.t.Helper()
	return p.textOf(`[data-list="systems"] [data-system="` + system + `"]`)
}

// A keeper's fortnight: what was taken is settled in, two phones look after it without signal,
// a sign on day 9 sends the wait back to nothing, and on day 24, not before, it goes to the
// display. A sign that comes late from the other phone then undoes that, on both.
func TestKeepersFortnight(t *testing.T) {
	t.Parallel()
	day := func(n int) time.Time { return time.Date(2026, 3, n, 8, 30, 0, 0, time.UTC) }
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	phone := func(at time.Time) *tab {
		p := startBrowser(t).open(t, "about:blank")
		p.allowed = true // what fails without signal is told in the console
		p.onNew(fmt.Sprintf(clockScript, at.UnixMilli()))
		p.run(chromedp.Navigate(server.url + "/tanks"))
		p.until(`document.querySelector('[data-empty]')`)
		return p
	}
	a := phone(day(1))
	joinBy(a, code, "Mara's phone")
	a.until(`document.querySelector('[data-empty]')`)
	ids := keeping(a, `
		made.dad = await write('member', {name: 'Dan', age: 'adult'});
		await book.write('household', '00000000-0000-7000-8000-000000000001', {home: {zone: 'Europe/London'}});
		made.show = await tank('Long tank', 'display', {volumeL: 180});
		`+brought)
	exchanged(a)

	// Day 1: everything taken comes in by one touch, and its tank becomes a system with a protocol.
	a.until(`document.querySelector('[data-settle="3"]')`)
	a.click(`[data-settle="3"]`)
	a.until(`document.querySelector('.settle-in[data-finds="3"]')`)
	a.set(`#base-`+ids["weed"], "cut")
	a.touchOf(`[data-do="settle"]`)
	a.until(`document.querySelector('[data-settled="3"]')`)
	a.follow("/tanks/system/new", `document.querySelector('#system-name')`)
	a.write("#system-name", "Utility room")
	quarantine := ""
	for _, r := range keptOf(a, "tank") {
		if r.Fields["use"] == "quarantine" {
			quarantine = r.ID
		}
	}
	a.touchOf(`input[value="` + quarantine + `"]`)
	a.touchOf(`[data-do="save"]`)
	a.until(`document.querySelector('.system[data-state="waiting"]')`)
	var system string
	a.eval(`document.querySelector('.system').dataset.system`, &system)
	a.unfold()
	a.write("#quiet-days", "14")
	a.touchOf(`[data-do="protocol"]`)
	a.until(`document.querySelector('[data-wait="14"][data-quiet="0"]')`)
	a.follow("/tanks", reckoned+` && document.querySelector('[data-list="systems"] [data-system="`+system+`"]')`)
	assert.Contains(t, a.standing(system), "0 of 14 quiet days, wait done on Mon 16 Mar at the earliest")
	a.stands("day-1")
	exchanged(a)
	b := phone(day(1).Add(time.Hour))
	joinBy(b, invited(a, store.Collector), "Dan's phone")
	exchanged(b)
	b.until(reckoned + ` && document.querySelector('[data-list="systems"] [data-system="` + system + `"]')`)
	b.until(`document.querySelector('[data-list="systems"] [data-system="` + system + `"]').innerText === ` + quoted(a.standing(system)))

	// Days 2 to 8, in turns, without signal: each phone knows but half of it.
	a.offline(true)
	b.offline(true)
	for n := 2; n <= 8; n++ {
		p, who := a, ids["mum"]
		if n%2 == 1 {
			p, who = b, ids["dad"]
		}
		p.atClock(day(n))
		p.until(`document.querySelector('#who-looks')`)
		p.set("#who-looks", who)
		p.looks(day(n))
	}
	a.atClock(day(9))
	b.atClock(day(9))
	assert.Contains(t, a.standing(system), "4 of 14 quiet days")
	a.offline(false)
	b.offline(false)
	exchanged(a)
	exchanged(b)
	exchanged(a)
	for _, p := range []*tab{a, b} {
		p.until(`document.querySelector('[data-list="systems"] [data-system="` + system + `"]').innerText.includes('7 of 14 quiet days, wait done on Mon 16 Mar')`)
	}

	// Day 9: the other phone sees something; the wait starts from nothing, on both.
	b.follow("/tanks/check/"+system, `document.querySelector('[data-do="seen"]')`)
	b.press(`[data-do="seen"]`)
	b.until(`document.querySelector('#own-words')`)
	b.write("#own-words", "white threads on a leg")
	b.press(`[data-do="save-sign"]`)
	b.until(`document.querySelector('[data-done]')`)
	exchanged(b)
	exchanged(a)
	a.until(`document.querySelector('[data-what="sign"]')?.innerText.includes('white threads')`)
	assert.Contains(t, a.standing(system), "0 of 14 quiet days, no end in sight while a sign is open")
	a.stands("day-9")
	a.press(`[data-what="sign"] [data-do="sign"]`)
	a.until(`document.querySelector('.sign')`)
	a.unfold()
	a.stands("day-9-sign")
	a.press(`[data-do="settle"]`)
	a.until(`document.querySelector('.sign .wrong')?.textContent`)
	a.write(`.sign textarea`, "fibres of a cloth, gone when rinsed")
	a.press(`[data-do="settle"]`)
	a.until(`!document.querySelector('.sign')`)
	a.follow("/tanks", reckoned+` && document.querySelector('[data-list="systems"] [data-system="`+system+`"]').innerText.includes('wait done on Tue 24 Mar')`)

	// Days 10 to 23. The other phone is off, but for a day on which it saw something that it
	// could not tell anybody.
	b.offline(true)
	for n := 10; n <= 23; n++ {
		a.looks(day(n))
	}
	b.follow("/tanks", reckoned)
	b.atClock(day(20))
	b.follow("/tanks/check/"+system, `document.querySelector('[data-do="seen"]')`)
	b.press(`[data-do="seen"]`)
	b.until(`document.querySelector('#own-words')`)
	b.write("#own-words", "lies on its back")
	b.press(`[data-do="save-sign"]`)
	b.until(`document.querySelector('[data-done]')`)

	// On day 23 it may not go yet; on day 24 it may.
	assert.Contains(t, a.standing(system), "13 of 14 quiet days, wait done on Tue 24 Mar at the earliest")
	a.stands("day-23")
	var crab string
	for _, s := range keptOf(a, "specimen") {
		if s.Fields["find"] == ids["crab"] {
			crab = s.ID
		}
	}
	a.follow("/tanks/specimen/"+crab, `document.querySelector('[data-clearance="missing"]')`)
	assert.Contains(t, a.text(), "One quiet day of 14 is missing.")
	a.stands("day-23-crab")
	a.follow("/tanks/specimen/"+crab+"/clear", `document.querySelector('[data-cannot]')`)
	assert.NotContains(t, a.text(), "Which display?")
	a.follow("/tanks", reckoned)
	a.clockTo(time.Date(2026, 3, 24, 8, 0, 0, 0, time.UTC))
	a.until(`document.querySelector('[data-what="many-clear"]')`)
	a.follow("/tanks/specimen/"+crab, `document.querySelector('[data-clearance="may"]')`)
	a.press(`[data-do="clear"]`)
	a.until(`document.querySelector('[data-fit="` + ids["show"] + `"][data-missing="salinity reading, temperature reading"]')`)
	appModules(a, "book", "ids")
	for _, tank := range []string{quarantine, ids["show"]} {
		a.eval(`book.write('reading', ids.uuidv7(), {sample: {at: '2026-03-24T07:50:00Z', of: 'tank/`+tank+`', by: null}, temperatureC: 14, salinity: {value: 34, instrument: 'refractometer', scale: 'PSS-78', sampleC: 20}})`, new(bool))
	}
	a.until(`document.querySelector('[data-fit="` + ids["show"] + `"][data-missing=""] input')`)
	a.stands("day-24-clear")
	a.press(`[data-fit="` + ids["show"] + `"] input`)
	a.press(`[data-do="clear"]`)
	a.until(`document.querySelector('[data-clearance="stands"]')`)
	assert.Contains(t, a.text(), "Cleared into the display on 24 Mar")
	assert.NotRegexp(t, `(?i)\bclean\b|disease-free`, a.text())

	// What the other phone saw comes late: the clearance does not stand, and both say so.
	b.offline(false)
	exchanged(b)
	exchanged(a)
	exchanged(b)
	a.until(`document.querySelector('[data-clearance="undone"]')`)
	a.stands("undone")
	b.follow("/tanks", reckoned)
	b.clockTo(time.Date(2026, 3, 24, 9, 0, 0, 0, time.UTC))
	b.until(`document.querySelector('[data-what="question"]')`)
	b.follow("/tanks/specimen/"+crab, `document.querySelector('[data-clearance="undone"]')`)
	a.follow("/tanks/system/tank/"+ids["show"], `document.querySelector('[data-questions="1"]')`)
	assert.Contains(t, a.text(), "In question")
}

// A child's phone raises signs and logs looks, and decides nothing; an adult's confirms the day
// and grades the sign.
func TestChildLooksAdultDecides(t *testing.T) {
	t.Parallel()
	at := sundayMorning()
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	phone := func(at time.Time) *tab {
		p := startBrowser(t).open(t, "about:blank")
		p.onNew(fmt.Sprintf(clockScript, at.UnixMilli()))
		p.run(chromedp.Navigate(server.url + "/tanks"))
		p.until(`document.querySelector('[data-empty]')`)
		return p
	}
	a := phone(at)
	joinBy(a, code, "Mara's phone")
	a.until(`document.querySelector('[data-empty]')`)
	ids := keeping(a, `
		made.jar = await tank('Jar 1', 'quarantine');
		made.snail = await lives('Littorina littorea', 'snails', made.jar, 24 * 2);
		await looks('tank/' + made.jar, 24, 24);
		made.done = await tank('Jar 2', 'quarantine');
		made.ready = await lives('Ulva lactuca', 'greens', made.done, 24 * 30, {base: 'cut'});
		await looks('tank/' + made.done, 24 * 30 - 2, 1);`)
	exchanged(a)
	kid := phone(at.Add(time.Hour))
	joinBy(kid, invited(a, store.Child), "Ada's phone")
	exchanged(kid)
	jar := "tank/" + ids["jar"]
	kid.until(`document.querySelector('li[data-what="check"][data-system="` + jar + `"]')`)
	kid.stands("child-home")
	assert.NotContains(t, kid.text(), "Add a tank or jar")
	assert.NotContains(t, kid.text(), "Choose its display")
	var names []string
	kid.eval(`[...document.querySelectorAll('#who-looks option')].map((e) => e.textContent)`, &names)
	assert.Equal(t, []string{"Nobody named", "Ada"}, names, "a child's phone names children alone")
	kid.press(`li[data-what="check"][data-system="` + jar + `"] button[data-do="check"]`)
	kid.until(`document.querySelector('[data-done]')?.innerText.includes('An adult confirms the day')`)
	kid.until(`!document.querySelector('[data-do="undo"]')`) // a child's phone takes nothing back
	// What a child's phone sees of a specimen whose wait is done offers nothing to decide.
	kid.follow("/tanks/specimen/"+ids["ready"], `document.querySelector('[data-clearance="may"]')`)
	kid.until(`!document.querySelector('[data-do="clear"], [data-do="move"], [data-do="gone"], [data-do="overrule"], [data-do="edit"], [data-do="off"]')`)
	for _, act := range []string{"clear", "move", "overrule", "edit"} {
		kid.follow("/tanks/specimen/"+ids["ready"]+"/"+act, `document.querySelector('main').innerText.includes('An adult does this.')`)
	}
	exchanged(kid)
	exchanged(a)

	// The next day: what the child saw waits for an adult's word, and counts with it.
	a.clockTo(at.Add(24 * time.Hour))
	kid.clockTo(at.Add(25 * time.Hour))
	a.until(`document.querySelector('li[data-what="confirm"][data-system="` + jar + `"]')?.innerText.includes('Sun 22 Mar waits')`)
	assert.Contains(t, a.standing(jar), "1 of 28 quiet days")
	a.press(`li[data-what="confirm"] [data-do="confirm"]`)
	a.until(`document.querySelector('[data-system="` + jar + `"][data-state]').innerText.includes('2 of 28 quiet days')`)

	// A child raises a sign, harmless as it may be: it holds the wait up until an adult has seen it.
	kid.follow("/tanks/check/"+jar, `document.querySelector('[data-do="seen"]')`)
	kid.press(`[data-do="seen"]`)
	kid.until(`document.querySelector('[data-sign-word="amphipods"]')`)
	kid.press(`[data-sign-word="amphipods"]`)
	kid.until(`document.querySelector('[data-means="watch"]') && !document.querySelector('[data-choices="grade"]')`)
	kid.press(`[data-do="save-sign"]`)
	kid.until(`document.querySelector('[data-done]')`)
	exchanged(kid)
	exchanged(a)
	a.clockTo(at.Add(26 * time.Hour)) // before, what the other clock says is ahead of its time
	a.until(`document.querySelector('li[data-what="sign"][data-system="` + jar + `"]')`)
	a.until(`document.querySelector('[data-list="systems"] [data-system="` + jar + `"][data-state="paused"]')`)
	a.press(`li[data-what="sign"] [data-do="sign"]`)
	a.until(`document.querySelector('.sign[data-grade="watch"]')`)
	a.unfold()
	// A pest gets no milder by a touch: an adult settles it in words.
	a.press(`.grades [data-grade="pest"]`)
	a.until(`document.querySelector('.sign[data-grade="pest"]')`)
	a.unfold()
	var offered []string
	a.eval(`[...document.querySelectorAll('.grades [data-grade]')].map((e) => e.dataset.grade)`, &offered)
	assert.Equal(t, []string{"notify"}, offered)
	a.write(`.settle textarea`, "sand hoppers, picked out")
	a.press(`[data-do="settle"]`)
	a.until(`!document.querySelector('.sign') && document.querySelector('.system[data-state="waiting"]')`)
	kid.follow("/tanks/system/"+jar, `document.querySelector('.sign')`)
	assert.Contains(t, kid.text(), "An adult looks into it.")
}

// Where the core does not answer, nothing is known and nothing is offered.
func TestTanksNotReckoned(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, "about:blank")
	p.allowed = true // a worker that fails is an error on the console
	p.onNew(fmt.Sprintf(clockScript, sundayMorning().UnixMilli()))
	remove := p.onNew(`window.Worker = class { postMessage() { setTimeout(() => this.onerror?.(new ErrorEvent('error', {message: 'broken'}))); } terminate() {} };`)
	p.run(chromedp.Navigate(server.url + "/tanks"))
	p.until(`document.querySelector('[data-empty]')`)
	ids := keeping(p, fullShelf)
	p.until(`document.querySelector('[data-picture="none"]')`)
	p.stands("not-reckoned")
	assert.Contains(t, p.text(), "Not reckoned")
	for _, words := range []string{"Wait done", "Choose its display", "quiet days"} {
		assert.NotContains(t, p.text(), words)
	}
	p.follow("/tanks/specimen/"+ids["in1"], `document.querySelector('[data-picture="none"]')`)
	assert.NotContains(t, p.text(), "Choose its display")
	p.follow("/tanks/specimen/"+ids["in1"]+"/clear", `document.querySelector('[data-picture="none"]')`)
	assert.NotContains(t, p.text(), "Which display?")
	// A look is kept all the same.
	p.follow("/tanks/check/tank/"+ids["jar1"], `document.querySelector('[data-do="quiet"]')`)
	p.press(`[data-do="quiet"]`)
	p.until(`document.querySelector('[data-done="true"]')`)

	// The core comes back, and with it what is known; when it fails again, what was known is
	// shown with its age, and nobody is cleared by it.
	remove()
	p.onNew(`(() => {
		const Real = Worker, made = [];
		let broken = false;
		window.Worker = class extends Real {
			constructor(...of) {
				super(...of);
				made.push(this);
				if (broken) setTimeout(() => this.onerror?.(new ErrorEvent('error', {message: 'broken'})));
			}
		};
		window.breakCore = () => { broken = true; made[made.length - 1].onerror(new ErrorEvent('error', {message: 'broken'})); };
	})()`)
	p.run(chromedp.Navigate(server.url + "/tanks"))
	p.until(reckoned + ` && !document.querySelector('[data-picture]')`)
	p.follow("/tanks/specimen/"+ids["in1"], `document.querySelector('[data-clearance="may"] [data-do="clear"]')`)
	p.eval(`breakCore(); null`, new(any))
	p.until(`document.querySelector('[data-picture="old"]')`)
	p.stands("old")
	assert.Contains(t, p.text(), "clear nothing by it")
	p.until(`!document.querySelector('[data-do="clear"]')`)
	p.follow("/tanks/specimen/"+ids["in1"]+"/clear", `document.querySelector('[data-cannot]')`)
	p.follow("/tanks", `document.querySelector('[data-picture="old"]')`)
	assert.Contains(t, p.text(), "Wait done")
}

// What is done with one specimen, by its forms, and what follows for its water.
func TestSpecimenActs(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, `
		made.jar = await tank('Jar 1', 'quarantine');
		made.weed = await lives('Ulva lactuca', 'greens', made.jar, 24 * 30, {base: 'cut', amount: {value: 60, unit: 'g'}});
		await looks('tank/' + made.jar, 24 * 30 - 2, 1);
		made.other = await tank('Jar 2', 'quarantine');
		made.hermit = await lives('Pagurus bernhardus', 'hermits', made.other, 24 * 10, {amount: {value: 3, unit: 'count'}});
		await looks('tank/' + made.other, 24 * 10 - 2, 1);
		made.third = await tank('Jar 3', 'quarantine');
		made.find = await write('find', {at: ago(80), by: mum, taxon: 'unsure', group: 'greens', amount: {value: 5, unit: 'g'}, fate: 'taken'});
		made.green = await write('specimen', {find: made.find, taxon: 'unsure', group: 'greens', base: 'cut', amount: {value: 5, unit: 'g'}});
		await say('arrived', 72, {of: 'specimen/' + made.green, tank: made.third});
		made.fourth = await tank('Jar 4', 'quarantine');
		made.first = await lives('Ulva lactuca', 'greens', made.fourth, 24 * 40, {name: 'Ready', base: 'cut'});
		made.second = await lives('Fucus serratus', 'browns', made.fourth, 24 * 40, {name: 'Not searched', base: 'stone'});
		await looks('tank/' + made.fourth, 24 * 40 - 2, 1);
		made.show = await tank('Long tank', 'display');`)
	p.until(reckoned)
	// A jar does not become the display while one in it still waits, though another is ready.
	p.follow("/tanks/specimen/"+ids["first"]+"/clear", `document.querySelector('[data-fit="late"]')?.innerText.includes('Not searched cannot be yet')`)
	p.until(`!document.querySelector('[data-fit="here"]')`)
	weed := "/tanks/specimen/" + ids["weed"]
	amount := func(id string) any {
		for _, s := range keptOf(p, "specimen") {
			if s.ID == id {
				return s.Fields["amount"]
			}
		}
		return nil
	}

	// A part keeps the days that are behind it, and more than there is cannot be parted.
	p.follow(weed+"/part", `document.querySelector('#part-name')`)
	p.write("#amount", "60")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('#amount-wrong').textContent.includes('60 g')`)
	p.write("#amount", "20")
	p.write("#part-name", "For the class")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('.specimen[data-specimen="` + ids["weed"] + `"]')`)
	var part string
	for _, s := range keptOf(p, "specimen") {
		if s.Fields["name"] == "For the class" {
			part = s.ID
			assert.Equal(t, ids["weed"], s.Fields["lot"])
			assert.Equal(t, map[string]any{"value": 20.0, "unit": "g"}, s.Fields["amount"])
		}
	}
	require.NotEmpty(t, part)
	assert.Equal(t, map[string]any{"value": 40.0, "unit": "g"}, amount(ids["weed"]))
	p.follow("/tanks/specimen/"+part, `document.querySelector('[data-clearance="may"]')`)

	// Put together again, one goes on.
	p.press(`[data-do="merge"]`)
	p.until(`document.querySelector('#into')`)
	p.stands("merge")
	p.set("#into", ids["weed"])
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('[data-gone="merged"]')`)
	assert.Equal(t, map[string]any{"value": 60.0, "unit": "g"}, amount(ids["weed"]))

	// A third of it is lost, nobody knows why: the wait starts from nothing.
	p.follow(weed+"/died", `document.querySelector('#part')`)
	p.write("#part", "130")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('#part-wrong').textContent.includes('100')`)
	p.write("#part", "30")
	p.write("#why", "a warm night")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('[data-clearance="missing"]')?.innerText.includes('28 quiet days of 28')`)
	assert.Contains(t, p.text(), "70 % of it left")
	assert.Contains(t, p.text(), "30 % of it died: nobody knows why, perhaps a warm night")

	// A keeper overrules that, with a reason, and the jar becomes the display; minutes later,
	// since of two events of one second the order is nobody's.
	p.clockTo(sundayMorning().Add(5 * time.Minute))
	p.press(`[data-do="overrule"]`)
	p.until(`document.querySelector('#reason')`)
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('#reason-wrong').textContent`)
	p.write("#reason", "It is alone and stays alone.")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('[data-clearance="may"]')`)
	assert.Contains(t, p.text(), "A keeper has overruled the clock")
	assert.NotContains(t, p.text(), "The wait is done")
	p.press(`[data-do="clear"]`)
	p.until(`document.querySelector('[data-fit="here"]')`)
	assert.Contains(t, p.text(), "28 quiet days of 28", "what is missing all the same")
	assert.NotContains(t, p.text(), "The wait is done")
	p.press(`[data-fit="here"] input`)
	p.touchOf(`[data-do="clear"]`)
	p.until(`document.querySelector('[data-clearance="overruled"]')`)
	for _, tank := range keptOf(p, "tank") {
		if tank.ID == ids["jar"] {
			assert.Equal(t, "display", tank.Fields["use"], "it graduates in place")
		}
	}

	// A death that is explained sets nobody back; of three, one.
	p.follow("/tanks/specimen/"+ids["hermit"]+"/died", `document.querySelector('#part')`)
	p.press(`input[name="known"][value="yes"]`)
	p.write("#why", "crushed by a stone")
	p.write("#part", "1")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('.standing')?.innerText.includes('9 of 28 quiet days')`)
	// A dip in haste does.
	p.press(`[data-do="treat"]`)
	p.until(`document.querySelector('#how')`)
	p.press(`input[name="planned"][value="no"]`)
	p.until(`document.querySelector('[data-restarts]')`)
	p.write("#how", "fresh water, 30 s")
	p.touchOf(`[data-do="note"]`)
	p.until(`document.querySelector('.standing')?.innerText.includes('0 of 28 quiet days')`)

	// The household's own number for a group holds at once; one that cannot be is said to be wrong.
	p.follow("/tanks/numbers", `document.querySelector('#days-hermits')`)
	p.write("#days-hermits", "0")
	p.touchOf(`[data-do="save"]`)
	p.until(`document.querySelector('#days-hermits-wrong').textContent`)
	p.write("#days-hermits", "35")
	p.touchOf(`[data-do="save"]`)
	p.until(`document.querySelector('[data-says]').textContent`)
	p.follow("/tanks/system/tank/"+ids["other"], `document.querySelector('[data-wait="35"]')`)

	// What turns out to be a forbidden kind stops everything, and that is not overruled as a clock is.
	p.eval(`book.write('find', `+quoted(ids["find"])+`, {['identified/' + ids.uuidv7()]: {at: new Date(Date.now() - 60000).toISOString().slice(0, 19) + 'Z', by: null, taxon: 'Caulerpa taxifolia', group: 'greens'}})`, new(bool))
	p.follow("/tanks", reckoned+` && document.querySelector('.due-list > li:first-child[data-what="ask"]')`)
	p.follow("/tanks/specimen/"+ids["green"]+"/overrule", `document.querySelector('main').innerText.includes('cannot be overruled')`)
	p.follow("/tanks/system/tank/"+ids["third"], `document.querySelector('.sign.grave')`)
	assert.Contains(t, p.text(), "Do not release it, give it away or bin it")
	p.unfold()
	p.write("#isolation", "permit 12/2026")
	p.touchOf(`[data-do="isolation"]`)
	p.until(`document.querySelector('.system[data-state="waiting"]')`)

	// A sign with its photo, over a reload behind the camera; the others were looked at all the same.
	p.follow("/tanks/check/tank/"+ids["third"], `document.querySelector('[data-do="seen"]')`)
	p.press(`[data-do="seen"]`)
	p.until(`document.querySelector('[data-sign-word="melting"]')`)
	p.press(`[data-sign-word="melting"]`)
	p.until(`document.querySelector('[data-look]')`)
	hand(p, "image/jpeg", picture(t, 3))
	p.until(`document.querySelector('.thumbs img')`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-sign-word="melting"][aria-pressed="true"]') && document.querySelector('.thumbs img')`)
	p.stands("check-photo")
	p.touchOf(`[data-do="save-sign"]`)
	p.until(`document.querySelector('[data-done="true"]')`)
	var sign, look map[string]any
	for _, e := range keptOf(p, "event") {
		if s, ok := e.Fields["sign"].(map[string]any); ok {
			sign = s
			photos := 0
			for field := range e.Fields {
				if len(field) == len("photos/")+64 {
					photos++
				}
			}
			assert.Equal(t, 1, photos)
		}
		if c, ok := e.Fields["checked"].(map[string]any); ok && c["of"] == "tank/"+ids["third"] {
			look = c
		}
	}
	require.NotNil(t, sign)
	assert.Equal(t, []any{"melting", "melting", "watch"}, []any{sign["kind"], sign["what"], sign["grade"]})
	require.NotNil(t, look)
	p.follow("/tanks/system/tank/"+ids["third"], `document.querySelector('.system[data-state="paused"] .sign .thumbs img')`)
}
