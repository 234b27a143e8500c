package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// What is written between a picture and a touch must not be passed over: nobody is cleared,
// given away or moved beside others by how things stood before.

// slowCore stands before the app's worker: while slow is true, what is asked of the core waits
// in the list asked.
const slowCore = `(() => {
	const Real = Worker;
	window.slow = false;
	window.asked = [];
	window.Worker = class extends Real {
		postMessage(...of) {
			if (window.slow) asked.push({name: of[0].name, send: () => super.postMessage(...of)});
			else super.postMessage(...of);
		}
	};
	window.quick = () => { window.slow = false; for (const one of asked.splice(0)) one.send(); };
})()`

// signInto writes a sign into a water, of which the page hears while the core is slow to answer.
func signInto(p *tab, of string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		slow = true;
		await book.write('event', ids.uuidv7(), {sign: {at: new Date().toISOString().slice(0, 19) + 'Z', of: '`+of+`', by: null, what: 'white fluff', grade: 'unsure'}});
		return 0;
	})()`, new(int))
	p.until(`asked.some(({name}) => name === 'addToTanks' || name === 'clock')`)
}

// noted counts the events of a kind that the phone keeps.
func noted(p *tab, what string) (n int) {
	for _, event := range keptOf(p, "event") {
		if _, is := event.Fields[what]; is {
			n++
		}
	}
	return n
}

func TestNobodyGoesByAnOldPicture(t *testing.T) { // alone: what is held back must be what was just written
	server, p := atHome(t, sundayMorning())
	p.onNew(slowCore)
	p.run(chromedp.Navigate(server.url + "/tanks"))
	p.until(`document.querySelector('[data-empty]')`)
	ids := keeping(p, fullShelf+`
		made.jar6 = await tank('Jar 6', 'quarantine', {volumeL: 1});
		made.in6 = await lives('Ulva lactuca', 'greens', made.jar6, 24 * 31, {base: 'cut', amount: {value: 20, unit: 'g'}});
		await looks('tank/' + made.jar6, 24 * 31 - 3, 1);
		made.tub = await tank('Tub', 'holding', {volumeL: 40});
		made.late = await lives('Littorina littorea', 'snails', made.tub, 24 * 2);
	`)
	p.until(reckoned)

	p.follow("/tanks/specimen/"+ids["in1"]+"/clear", `document.querySelector('[data-fit="`+ids["show"]+`"] input')`)
	p.press(`[data-fit="` + ids["show"] + `"] input`)
	p.until(`document.querySelector('[data-do="clear"]').getAttribute('aria-disabled') !== 'true'`)
	signInto(p, "tank/"+ids["jar1"])
	p.press(`[data-do="clear"]`)
	p.until(`document.querySelector('p.heed[role="alert"]')?.textContent.includes('Nothing was cleared') || location.pathname.endsWith('` + ids["in1"] + `')
		|| document.querySelector('[data-do="clear"]')?.getAttribute('aria-disabled') === 'true'`)
	p.eval(`quick(); 0`, new(int))
	p.until(`document.querySelector('[data-cannot]')`)
	assert.Zero(t, noted(p, "cleared"), "cleared with a sign that was on file")

	p.follow("/tanks/specimen/"+ids["in6"]+"/gone", `document.querySelector('input[name="how"][value="given away"]')`)
	p.press(`input[name="how"][value="given away"]`)
	p.until(`document.querySelector('#to-whom')`)
	p.write("#to-whom", "Ms Reed")
	signInto(p, "tank/"+ids["jar6"])
	p.press(`[data-do="note"]`)
	p.until(`document.querySelector('#to-whom-wrong')?.textContent.includes('Nothing was noted') || location.pathname.endsWith('` + ids["in6"] + `')`)
	p.eval(`quick(); 0`, new(int))
	assert.Zero(t, noted(p, "gone"), "given away with a sign that was on file")

	// Out of a tub that is no quarantine nobody slips into a display either.
	p.follow("/tanks/specimen/"+ids["late"]+"/move", `document.querySelector('#to option[value="`+ids["jar6"]+`"]')`)
	var display bool
	p.eval(`Boolean(document.querySelector('#to option[value="`+ids["show"]+`"]'))`, &display)
	assert.False(t, display, "one that never waited may be moved into the display")
	p.stands("move-from-holding")
}

// A child notes a death; what explains it is for an adult to say.
func TestChildExplainsNoDeath(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	phone := func() *tab {
		p := startBrowser(t).open(t, "about:blank")
		p.onNew(fmt.Sprintf(clockScript, sundayMorning().UnixMilli()))
		p.run(chromedp.Navigate(server.url + "/tanks"))
		p.until(`document.querySelector('[data-empty]')`)
		return p
	}
	a := phone()
	joinBy(a, code, "Mara's phone")
	a.until(`document.querySelector('[data-empty]')`)
	ids := keeping(a, `
		made.jar = await tank('Jar 1', 'quarantine');
		made.snail = await lives('Littorina littorea', 'snails', made.jar, 24 * 2);`)
	exchanged(a)
	kid := phone()
	joinBy(kid, invited(a, store.Child), "Ada's phone")
	exchanged(kid)
	died := "/tanks/specimen/" + ids["snail"] + "/died"
	a.follow(died, `document.querySelector('[data-choices="known"] input[value="yes"]')`)
	kid.follow(died, `document.querySelector('form.act [data-restarts]')`)
	var asked bool
	kid.eval(`Boolean(document.querySelector('[data-choices="known"]'))`, &asked)
	assert.False(t, asked, "a child is asked whether a death is explained")
}

// A form that stood open writes what was typed into it and nothing else: the days that another
// phone has set meanwhile stand.
func TestFormOfASystemWritesWhatWasTyped(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, fullShelf)
	p.until(reckoned)
	p.follow("/tanks/system/system/"+ids["rack"], `document.querySelector('[data-wait="14"]')`)
	p.unfold()
	p.eval(`book.write('system', `+quoted(ids["rack"])+`, {protocol: {quietDays: 60, dips: 0}})`, new(bool))
	p.until(`document.querySelector('[data-wait="60"]')`)
	p.write("#system-name", "Rack by the window")
	p.touchOf(`[data-do="protocol"]`)
	p.until(`document.querySelector('.protocol [data-says]').textContent`)
	systems := keptOf(p, "system")
	require.Len(t, systems, 1)
	assert.Equal(t, "Rack by the window", systems[0].Fields["name"])
	assert.Equal(t, map[string]any{"quietDays": 60.0, "dips": 0.0}, systems[0].Fields["protocol"])

	p.follow("/tanks/numbers", `document.querySelector('#days-hermits')`)
	p.eval(`book.write('household', '00000000-0000-7000-8000-000000000001', {'handling/fish': {days: 60}})`, new(bool))
	p.write("#days-hermits", "35")
	p.touchOf(`[data-do="save"]`)
	p.until(`document.querySelector('[data-says]').textContent`)
	households := keptOf(p, "household")
	require.Len(t, households, 1)
	assert.Equal(t, map[string]any{"days": 60.0}, households[0].Fields["handling/fish"])
	assert.Equal(t, map[string]any{"days": 35.0}, households[0].Fields["handling/hermits"])
}

// Who looks is a child, on an adult's phone: it settles nothing, and is told so.
func TestChildSettlesNothingOnAnAdultsPhone(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, `
		made.jar = await tank('Jar 1', 'quarantine');
		made.snail = await lives('Littorina littorea', 'snails', made.jar, 24 * 3);
		await looks('tank/' + made.jar, 24 * 2 - 3, 24, {by: kid});
		made.leaf = await say('sign', 5, {of: 'tank/' + made.jar, what: 'a leaf that may be Caulerpa', grade: 'notify'});`)
	p.until(reckoned)
	p.follow("/tanks/check/tank/"+ids["jar"], `document.querySelector('#who-looks')`)
	p.set("#who-looks", ids["kid"])
	p.follow("/tanks/system/tank/"+ids["jar"], `document.querySelector('.sign.grave textarea') && document.querySelector('[data-do="confirm"]')`)
	p.unfold()
	p.write(".sign textarea", "it was sea lettuce")
	p.touchOf(`[data-do="settle"]`)
	p.until(`document.querySelector('.sign .wrong')?.textContent.includes('An adult')`)
	assert.Zero(t, noted(p, "settled"))
	p.touchOf(`[data-do="confirm"]`)
	p.until(`document.querySelector('[data-unconfirmed] [role="status"]')?.textContent.includes('An adult')`)
	assert.Zero(t, noted(p, "confirmed"))
}

// A phone whose clock is known to be a day ahead clears nobody: its days end too early.
func TestAFastClockClearsNobody(t *testing.T) {
	t.Parallel()
	server, p := atHome(t, sundayMorning())
	ids := keeping(p, fullShelf)
	for _, off := range []int{86_400_000, -86_400_000} {
		putChoice(p, "clockOffMs", fmt.Sprint(off))
		p.run(chromedp.Navigate(server.url + "/tanks"))
		p.until(reckoned)
		p.follow("/tanks/specimen/"+ids["in1"]+"/clear", `document.querySelector('[data-fit="`+ids["show"]+`"] input')`)
		p.press(`[data-fit="` + ids["show"] + `"] input`)
		p.until(`document.querySelector('[data-do="clear"]').getAttribute('aria-disabled') !== 'true'`)
		p.press(`[data-do="clear"]`)
		if off > 0 {
			p.until(`document.querySelector('p.heed[role="alert"]')?.textContent.includes('Nothing was cleared')`)
			assert.Zero(t, noted(p, "cleared"))
		} else { // one that is behind only waits longer
			p.until(`location.pathname.endsWith('` + ids["in1"] + `')`)
			assert.Equal(t, 1, noted(p, "cleared"))
		}
	}
}
