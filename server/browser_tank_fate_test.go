package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestHandOn: what still waits, is not named or may not be kept is refused with its reasons; a
// part of what may go is parted from its lot, traceable to shore and day, and can be taken back.
func TestHandOn(t *testing.T) {
	server, p, ids := shelf(t)
	page := func(name string) string { return "/tanks/hand-on/" + ids[name] }
	reasons := func() (list []string) {
		p.eval(`[...document.querySelectorAll('[data-reason]')].map((e) => e.dataset.reason)`, &list)
		return list
	}
	const refused = `document.querySelector('[data-hand-on="refused"]')`
	p.goTo(server, page("hermit"), refused)
	assert.Equal(t, []string{"waiting"}, reasons())
	p.dry("hand-on-refused")
	p.follow(page("stranger"), refused)
	assert.Equal(t, []string{"waiting", "unidentified"}, reasons())
	p.follow(page("caulerpa"), refused)
	assert.Equal(t, []string{"stopped", "waiting", "controlled"}, reasons())
	assert.Contains(t, p.text(), "Ask the authority")

	p.follow(page("lettuce"), `document.querySelector('form.hand-on')`)
	p.dry("hand-on")
	assert.Contains(t, p.text(), "no permission")
	assert.Contains(t, p.textOf("[data-trace]"), "San Francisco (Golden Gate), Thu 5 Nov 2026")
	p.press(`[data-do="hand-on"]`)
	p.until(`document.querySelector('#to-whom-wrong').textContent && document.querySelector('#told-wrong').textContent && document.activeElement.matches('[aria-invalid="true"]')`)
	p.write("#part-amount", "200") // all there is is no part
	p.write("#to-whom", "Ms Reed, 4b")
	p.press("#told")
	p.press(`input[name="use"][value="class"]`)
	p.press(`[data-do="hand-on"]`)
	p.until(`document.querySelector('#part-amount-wrong').textContent.includes('more than there is') && document.activeElement.matches('[aria-invalid="true"]')`)
	p.write("#part-amount", "30")
	p.press(`[data-do="hand-on"]`)
	p.until(`document.activeElement.id === 'handed'`)
	p.dry("hand-on-done")

	one := func() (part, lot map[string]any, given string) {
		p.t.Helper()
		for _, r := range kept[struct {
			Kind, ID string
			Deleted  bool
			Fields   map[string]any
		}](p, "records") {
			if r.Kind != "specimen" || r.Deleted {
				continue
			}
			if r.ID == ids["lettuce"] {
				lot = r.Fields
			} else if r.Fields["lot"] == ids["lettuce"] {
				part, given = r.Fields, r.ID
			}
		}
		return part, lot, given
	}
	part, lot, _ := one()
	assert.Equal(t, map[string]any{"value": 170.0, "unit": "g"}, lot["amount"])
	assert.Equal(t, map[string]any{"value": 30.0, "unit": "g"}, part["amount"])
	assert.Equal(t, ids["find"], part["find"])
	assert.Equal(t, "Ulva lactuca", part["taxon"])
	p.press(`[data-do="undo"]`)
	p.until(`document.querySelector('form.hand-on') && document.querySelector('.fate-says').textContent === 'Taken back.'`)
	part, lot, _ = one()
	assert.Nil(t, part)
	assert.Equal(t, map[string]any{"value": 200.0, "unit": "g"}, lot["amount"])

	// For good, with its label: handed on, and its quarantine that of the lot.
	p.until(`document.querySelector('#to-whom')`)
	p.write("#to-whom", "Ms Reed")
	p.press("#told")
	p.press(`[data-do="hand-on"]`)
	p.until(`document.activeElement.id === 'handed'`)
	p.press(`[data-do="label"]`)
	p.until(`document.querySelectorAll('.label').length === 1 && document.querySelector('.label').textContent.includes('Handed on')`)
	label := p.textOf(".label")
	assert.Contains(t, label, "Quarantine 6 Nov 2026 to 6 Dec 2026, 30 days: wait done. Handed on 10 Dec 2026")
	assert.NotContains(t, label, "STAYS HERE")

	// The recall: the lot, the part with who has it, and the periwinkle that shared its water.
	p.follow("/tanks/recall/"+ids["lettuce"], `document.querySelector('[data-recall="3"]')`)
	p.dry("recall")
	_, _, given := one()
	row := func(id string) string { return p.textOf(`[data-specimen="` + id + `"]`) }
	assert.Contains(t, p.textOf(`[data-where="away"]`), "Ms Reed, a friend")
	assert.Contains(t, row(given), "a part of it")
	assert.Contains(t, row(ids["winkle"]), "shared its water")
	assert.Contains(t, row(ids["winkle"]), "in Jar 1")
	assert.Contains(t, row(ids["lettuce"]), "the lot")
	assert.Contains(t, row(ids["lettuce"]), "in Hall")
	p.eval(`window.sent = ''; delete navigator.share; Object.defineProperty(navigator, 'share', {value: undefined, configurable: true}); Object.defineProperty(navigator, 'clipboard', {value: {writeText: async (words) => { window.sent = words; }}}); true`, new(bool))
	p.press(`[data-do="share"]`)
	p.until(`window.sent`)
	var sent string
	p.eval(`window.sent`, &sent)
	for _, words := range []string{"Called back: Sea lettuce, lot ", "Ms Reed, a friend", "Old Tom: shared its water, in Jar 1", "received of it: Jar 1, Hall", "Do not release it"} {
		assert.Contains(t, sent, words)
	}
	said, pages := p.sheet("recall")
	assert.Equal(t, 1, pages)
	assert.Contains(t, said, "Ms Reed")
	assert.NotContains(t, said, "Share as text")
}

// TestHardMoments: each card leads on from where it is needed; companions are a caution; what
// must go never goes to the sea, and what the authority must see is not thrown away.
func TestHardMoments(t *testing.T) {
	server, p, ids := shelf(t)
	p.goTo(server, "/tanks/trouble", `document.querySelectorAll('[data-card]').length === 5`)
	p.dry("trouble")
	for _, card := range []string{"melting", "death", "cloudy", "smell", "hurt"} {
		p.follow("/tanks/trouble/"+card, `document.querySelectorAll('.trouble-steps > li').length >= 5`)
		p.inspect(card)
		targets(t, p, card)
		var unsourced int
		p.eval(`[...document.querySelectorAll('.trouble-steps > li')].filter((e) => !/Common practice|Our own|Source: /.test(e.textContent)).length`, &unsourced)
		assert.Zero(t, unsourced, "%s: a step without its source", card)
	}
	assert.Contains(t, p.text(), "emergency number")
	p.follow("/tanks/trouble/death", `document.querySelector('#where')`)
	p.look("trouble-death")
	p.choose("#where", "Jar 2")
	p.until(`document.querySelector('[data-way="reading"]').getAttribute('href') === '/tanks/reading/tank/` + ids["Jar 2"] + `'`)

	// A crab moves in with the periwinkle: crabs eat snails.
	p.follow("/tanks/companions", `document.querySelector('#system')`)
	p.until(`document.querySelector('[data-companions="alone"]')`)
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		const id = ids.uuidv7();
		await book.write('specimen', id, {name: 'Pinch', taxon: 'Carcinus maenas', group: 'crabs', source: 'a friend'});
		await book.write('event', ids.uuidv7(), {arrived: {at: '2026-12-10T12:00:00Z', of: 'specimen/' + id, by: null, tank: `+quoted(ids["Jar 1"])+`}});
		return true;
	})()`, new(bool))
	p.until(`document.querySelector('[data-how="eats"]')?.textContent.includes('Pinch may eat Old Tom')`)
	assert.Contains(t, p.textOf(`[data-how="eats"]`), "common practice")
	p.dry("companions")
	p.choose("#who", "Rosie")
	p.choose("#into", "Jar 1")
	p.until(`document.querySelector('.what-if [data-how]')`)
	assert.Contains(t, p.textOf(".what-if"), "Pinch may eat Rosie")
	assert.Contains(t, p.textOf(".what-if"), "Rosie may eat Old Tom")

	p.follow("/tanks/disposal/"+ids["hermit"], `document.querySelector('[data-disposal="may"] [data-do="gone"]')`)
	assert.Contains(t, p.text(), "Nothing from a tank goes back to the sea")
	assert.Contains(t, p.text(), "freeze it for 24 hours or more")
	p.dry("disposal")
	p.press(`input[name="drain"][value="sea"]`)
	p.until(`document.querySelector('[data-drain="sea"] [data-do="ask"]')`)
	assert.Contains(t, p.textOf("[data-drain]"), "no water from a tank goes into it")
	p.dry("disposal-sea")
	p.follow("/tanks/disposal/"+ids["caulerpa"], `document.querySelector('[data-disposal="stopped"]')`)
	assert.Contains(t, p.text(), "must not be disposed of now")
}
