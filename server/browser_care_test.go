package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// At a dip the page says what the kind bears of fresh water: siphonous and calcareous weeds
// none, and what nobody has named none either.
func TestFreshWaterAtADip(t *testing.T) {
	t.Parallel()
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, `
		made.jar = await tank('Jar 1', 'quarantine');
		made.ulva = await lives('Ulva lactuca', 'greens', made.jar, 24 * 3);
		made.codium = await lives('Codium tomentosum', 'greens', made.jar, 24 * 3);
		made.coral = await lives('Corallina officinalis', 'calcareous', made.jar, 24 * 3);
		made.unsure = await lives('unsure', '', made.jar, 24 * 3);`)
	p.until(reckoned)
	for _, row := range []struct{ which, fresh, says string }{
		{"ulva", "300", "bears 5 minutes at most"},
		{"codium", "0", "Never in fresh water"},
		{"coral", "0", "Never in fresh water"},
		{"unsure", "unknown", "do not dip it in any"},
	} {
		p.follow("/tanks/specimen/"+ids[row.which]+"/treat", `document.querySelector('[data-fresh="`+row.fresh+`"]')`)
		assert.Contains(t, p.textOf("[data-fresh]"), row.says, row.which)
	}
	p.stands("a dip")
	p.press(`input[name="what"][value="treated"]`)
	p.until(`!document.querySelector('[data-fresh]')`)
}

// What was taken is told how to travel, before all are back and after; in the tropics by the
// pool it came from. Climate and coast are the household's to say.
func TestOnTheWayHome(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	ids := party(p)
	p.follow("/shore/back", `document.querySelector('.all-back')`)
	p.eval(`(async () => {
		const one = {at: new Date().toISOString().slice(0, 19) + 'Z', outing: `+quoted(ids["outing"])+`, amount: {value: 1, unit: 'count'}};
		await book.write('find', ids.uuidv7(), {...one, taxon: 'Fucus serratus', group: 'browns', state: 'attached', fate: 'taken'});
		await book.write('find', ids.uuidv7(), {...one, taxon: 'Patella vulgata', group: 'snails', state: 'living', fate: 'seen'});
	})()`, new(any))
	p.until(`document.querySelector('[data-carry="1"] [data-kind="Fucus serratus"]')`)
	assert.Contains(t, p.textOf(".carry"), "damp and dark, 4 to 12 °C, in the tank within 24 hours")
	assert.Contains(t, p.textOf(".carry"), "has not said whether it lives in the tropics")
	p.wet("on the way home")

	p.goTo(server, "/house/household", `document.querySelector('#climate')`)
	p.choose("#climate", "Tropical")
	p.until(`document.querySelector('#climate').value === 'tropical'`)
	untilKept(p, "records", `"climate":"tropical"`)
	p.until(`document.querySelectorAll('#region option').length > 5`)
	p.choose("#region", "Caribbean and tropical west Atlantic")
	untilKept(p, "records", `"region":"CAR"`)
	home := recordsKept(p, "household")[0].Fields["home"].(map[string]any)
	assert.Equal(t, "tropical", home["climate"], "one choice does not undo the other")
	assert.NotEmpty(t, home["zone"])
	p.inspect("the household")
	p.goTo(server, "/shore/back", `document.querySelector('[data-carry="1"] [data-kind]')`)
	p.until(`document.querySelector('.carry').innerText.includes('within 3 °C of the pool it came from')`)
	assert.NotContains(t, p.textOf(".carry"), "4 to 12")
	assert.NotContains(t, p.textOf(".carry"), "has not said")
}
