package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

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

// standing is how a system stands on the first page, in words.
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
