package main

import (
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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

// keptOf gives the records of a kind that a phone keeps and that are not taken back.
func keptOf(p *tab, kind string) []record {
	p.t.Helper()
	return slices.DeleteFunc(recordsKept(p, kind), func(r record) bool { return r.Deleted })
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
	byFind := map[any]record{}
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
