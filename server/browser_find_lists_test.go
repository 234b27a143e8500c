package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here read finds again: the list of a day, one find, past outings with their plot.

// The list of the day by person with totals; a find is taken off, brought back, changed, put
// back, named later, and its history shows each value and where it came from.
func TestTheDayAndOneFind(t *testing.T) {
	t.Parallel()
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
	p.wet("the list of the day")
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
	p.until(`document.querySelector('[data-put-back="unknown"]')`)
	assert.Contains(t, p.text(), "Whether it may be put back, the rules on file do not say.")
	assert.Contains(t, p.text(), "On this phone only.", "it has joined no household")
	p.wet("a find")
	p.press(`[data-do="put-back"]`)
	p.until(`document.querySelector('[data-put-back="done"]')`)
	p.press(`[data-do="edit"]`)
	p.until(`document.querySelector('#note')`)
	p.wet("changing a find")
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
	p.wet("naming a find")
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
	p.wet("a list with details to come")
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
	t.Parallel()
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
	p.wet("past outings")
	p.press(`[data-outing] a`)
	p.until(`document.querySelectorAll('.finds-table tbody tr').length === 5 && document.querySelector('.plot svg')`)
	p.wet("an outing")
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
