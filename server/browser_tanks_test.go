package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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

// unfold shows what a page folds away.
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
