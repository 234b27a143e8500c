package main

import (
	"context"
	"testing"

	paging "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here log finds, as a party does on the shore.

// party writes two members and an outing that is under way with them, on the shore that the
// phone has, through the app's own book. It gives their ids by name.
func party(p *tab) (ids map[string]string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		await book.ready('shore');
		const shore = book.records('shore').value.find((one) => !one.deleted).id;
		const made = {outing: ids.uuidv7(), Tam: ids.uuidv7(), Ada: ids.uuidv7()};
		await book.write('member', made.Tam, {name: 'Tam', age: 'adult'});
		await book.write('member', made.Ada, {name: 'Ada', age: 'child'});
		const at = new Date(Date.now() - 60000).toISOString().slice(0, 19) + 'Z';
		await book.write('outing', made.outing, {shore, purpose: 'home', started: {at, by: made.Tam},
			['party/' + made.Tam]: {as: 'adult', name: 'Tam', does: 'gathers'}, ['party/' + made.Ada]: {as: 'child', name: 'Ada', number: 1, with: made.Tam, does: 'gathers'}});
		return made;
	})()`, &ids)
	require.Len(p.t, ids, 3)
	return ids
}

// findsOf gives the finds that a phone keeps, the latest last.
func findsOf(p *tab) []record {
	p.t.Helper()
	return recordsKept(p, "find")
}

const (
	savedLine = `document.querySelector('[data-saved]')`
	kindsHere = `document.querySelector('.groups [data-group="fish"]')`
)

// pick chooses a kind by its group.
func pick(p *tab, group, taxon string) {
	p.t.Helper()
	p.until(kindsHere)
	p.press(`.groups > [data-group="` + group + `"]`)
	p.until(`document.querySelector('[data-list="` + group + `"]')`)
	p.press(`[data-list="` + group + `"] [data-taxon="` + taxon + `"]`)
	p.until(`document.querySelector('[data-do="save"]') && document.activeElement.id === 'chosen-kind'`)
}

// Three touches log a find, without signal: what it is, that it was taken, save. It can be
// undone, and one touch is enough to come back to something at home.
func TestAFindInThreeTouches(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	readyForOffline(p)
	ids := party(p)
	server.kill(t)
	p.allowed = true // fetches that fail are told in the console
	p.follow("/shore/log", kindsHere)
	assert.Contains(t, p.text(), "Something here")
	pick(p, "greens", "Ulva lactuca")
	p.until(`document.activeElement.id === 'chosen-kind'`)
	p.until(`document.querySelector('.verdict-line[data-verdict="unchecked"]')`)
	p.until(`document.querySelector('main').innerText.includes('No current rules known for this shore: do not take. Ask the authority first.')`) // in a file that comes later
	p.press(`input[name="who"][value="` + ids["Ada"] + `"]`)
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	assert.Contains(t, p.textOf("[data-saved]"), "1 Sea lettuce, seen, Ada")
	one := findsOf(p)
	require.Len(t, one, 1)
	assert.Equal(t, "Ulva lactuca", one[0].Fields["taxon"])
	assert.Equal(t, "greens", one[0].Fields["group"])
	assert.Equal(t, "attached", one[0].Fields["state"])
	assert.Equal(t, "seen", one[0].Fields["fate"])
	assert.Equal(t, ids["Ada"], one[0].Fields["by"])
	assert.Equal(t, ids["outing"], one[0].Fields["outing"])
	assert.Equal(t, map[string]any{"value": 1.0, "unit": "count"}, one[0].Fields["amount"])
	assert.NotContains(t, one[0].Fields, "position", "nobody asked for it")

	// It is on top now: three touches.
	p.run(chromedp.Click(`[data-list="recent"] [data-taxon="Ulva lactuca"]`, chromedp.ByQuery))
	p.until(`document.querySelector('input[name="who"]:checked')?.value === ` + quoted(ids["Ada"])) // who stays
	p.run(chromedp.Click(`input[name="fate"][value="taken"]`, chromedp.ByQuery))
	p.run(chromedp.Click(`[data-do="save"]`, chromedp.ByQuery))
	p.until(savedLine + `?.innerText.includes('taken')`)
	finds := findsOf(p)
	require.Len(t, finds, 2)
	assert.Equal(t, "taken", finds[1].Fields["fate"])

	p.press(`[data-do="undo"]`)
	p.until(`document.querySelector('[data-undone]')`)
	assert.True(t, findsOf(p)[1].Deleted)

	// Two touches in a row are one, also where the first was on Save.
	twice := `(() => { for (let i = 0; i < 2; i++) document.querySelector('[data-do="something"]').click(); return null; })()`
	p.until(`performance.now() - performance.getEntriesByName('find-saved').slice(-1)[0].startTime > 1000`)
	p.eval(twice, new(any))
	p.until(savedLine + `?.innerText.includes('something here')`)
	p.eval(twice, new(any))
	finds = findsOf(p)
	require.Len(t, finds, 3)
	assert.Equal(t, "unsure", finds[2].Fields["taxon"])
	assert.Equal(t, true, finds[2].Fields["unfinished"])
	assert.Equal(t, "seen", finds[2].Fields["fate"])

	// A kind of the household's own, larger amounts, another unit, by keys alone.
	p.run(chromedp.Focus("#other", chromedp.ByQuery), chromedp.KeyEvent("Shore bramble"))
	p.until(`document.querySelector('[data-do="typed"]')`)
	p.tabTo(`[data-do="typed"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.activeElement.id === 'chosen-kind'`)
	p.set("#group", "reds")
	p.tabTo(`[data-do="more"]`)
	p.run(chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent(" "))
	p.until(`document.querySelector('#amount').value === '3'`)
	p.set("#unit", "g")
	p.tabTo(`input[name="fate"]`)
	p.run(chromedp.KeyEvent(kb.ArrowRight))
	p.until(`document.querySelector('input[name="fate"][value="taken"]').checked`)
	p.tabTo(`[data-do="save"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(savedLine + `?.innerText.includes('3 g Shore bramble, taken, Ada')`)
	var own []record
	for _, one := range findsOf(p) {
		if one.Fields["taxon"] == "Shore bramble" {
			own = append(own, one)
		}
	}
	require.Len(t, own, 1)
	assert.Equal(t, map[string]any{"value": 3.0, "unit": "g"}, own[0].Fields["amount"])

	// A mistake is told where it is.
	pick(p, "reds", "Chondrus crispus")
	p.write("#amount", "half")
	p.press(`[data-do="save"]`)
	p.until(`document.activeElement.id === 'amount' && document.querySelector('#amount-wrong').textContent.includes('as a number')`)
	// The form is kept at every touch.
	p.write("#amount", "7")
	untilKept(p, "drafts", `"value":"7"`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#amount')?.value === '7' && document.querySelector('[data-draft="begun"]')`)
	assert.Len(t, findsOf(p), 4)
}

// What is alive, unknown or grave is seen only; an adult's second act takes it, and a child's
// phone does not offer that.
func TestWhatIsLeftWhereItIs(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	rows := []struct{ group, taxon, heed, words string }{
		{"snails", "Patella vulgata", "alive", "It may be alive"},
		{"greens", "unsure", "unsure", "Nobody knows yet what it is"},
		{"greens", "Caulerpa taxifolia", "controlled", "Ask the authority first; unchecked is no permission."},
		{"greens", "Codium fragile", "invasive", "Ask the authority first; unchecked is no permission."},
		{"anemones", "Anemonia viridis", "alive", "Do not touch it bare-handed."},
	}
	for _, row := range rows {
		pick(p, row.group, row.taxon)
		p.until(`document.querySelector('[data-heed="` + row.heed + `"]')`)
		assert.Contains(t, p.text(), row.words, row.taxon)
		p.until(`document.querySelector('.verdict-line[data-verdict="unchecked"]')`) // no rule is on file
		var taken bool
		p.eval(`document.querySelector('input[name="fate"][value="taken"]') !== null`, &taken)
		assert.False(t, taken, "%s is offered for the taking", row.taxon)
		p.press(`[data-do="change"]`)
	}
	p.until(kindsHere)
	p.press(`.groups > [data-group="bivalves"]`)
	p.wet("choosing a kind")
	p.press(`.groups > [data-group="bivalves"]`)
	pick(p, "greens", "unsure")
	p.wet("an unknown")
	p.press(`[data-do="change"]`)
	pick(p, "snails", "Patella vulgata")
	p.press(`[data-do="anyway"]`)
	p.until(`document.activeElement.id === 'anyway'`)
	p.wet("taking it all the same")
	p.run(chromedp.KeyEvent(kb.Escape))
	p.until(`!document.querySelector('#anyway') && document.activeElement.dataset.do === 'anyway'`)
	p.press(`[data-do="anyway"]`)
	p.press(`[data-do="decided"]`)
	p.until(`document.querySelector('input[name="fate"][value="taken"]').checked`)
	// Its state changed, it is a new question.
	p.press(`input[name="state"][value="drift"]`)
	p.until(`document.querySelector('[data-do="anyway"]') && !document.querySelector('input[name="fate"][value="taken"]')`)
	p.press(`input[name="state"][value="empty"]`)
	p.until(`document.querySelector('input[name="fate"][value="taken"]')`)
	p.press(`[data-do="change"]`)

	// A guest's phone reads; a child's phone does not take what is alive.
	as := func(role string) {
		t.Helper()
		putChoice(p, "me", `{device: {id: 'x', name: 'Ada’s', role: '`+role+`', createdMs: 0}, household: 'x'}`)
		p.run(chromedp.Reload())
	}
	server.kill(t)
	p.allowed = true
	as("guest")
	p.until(`document.querySelector('.finds')?.innerText.includes('This phone reads only')`)
	as("child")
	pick(p, "snails", "Patella vulgata")
	p.until(`document.querySelector('[data-fate="seen"]')`)
	assert.Contains(t, p.text(), "Taking this one is for an adult")
	var offered int
	p.eval(`document.querySelectorAll('[data-do="anyway"], input[name="fate"]').length`, &offered)
	assert.Zero(t, offered)
}

// attribute reads a data attribute.
func (p *tab) attribute(selector, name string) (value string) {
	p.t.Helper()
	p.eval(`document.querySelector(`+quoted(selector)+`).dataset[`+quoted(name)+`]`, &value)
	return value
}

// The list kept on the phone is enough where the core is dead, and a find is saved all the same.
func TestLoggingWithoutTheCore(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	untilKept(p, "choices", `"kinds"`)
	p.allowed = true
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := paging.AddScriptToEvaluateOnNewDocument(`window.Worker = class { postMessage() {} terminate() {} set onerror(f) { setTimeout(() => f({message: 'no core'})); } };`).Do(ctx)
		return err
	}), chromedp.Reload())
	p.until(`document.querySelector('[data-bar="core"]')`)
	pick(p, "browns", "Fucus vesiculosus")
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	assert.Len(t, findsOf(p), 1)
	p.follow("/shore/today", `document.querySelector('[data-find]')`)
	assert.Contains(t, p.text(), "Bladder wrack")
}
