package main

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/take"
)

// onNewText counts how often the page reads a file.
func (p *tab) onNewText() {
	p.t.Helper()
	var nothing any
	p.eval(`(() => { window.textReads = 0; const text = Blob.prototype.text; Blob.prototype.text = function () { window.textReads++; return text.call(this); }; return null; })()`, &nothing)
}

func (p *tab) valueOf(selector string) (value string) {
	p.t.Helper()
	p.eval(`document.querySelector(`+quoted(selector)+`).value`, &value)
	return value
}

// inputOf tells the page that a picker has changed its value, as it does while it is open.
func (p *tab) inputOf(selector string) {
	p.t.Helper()
	var nothing any
	p.eval(`(() => { document.querySelector(`+quoted(selector)+`).dispatchEvent(new Event('input', {bubbles: true})); return null; })()`, &nothing)
}

// openDay is a day on which the Harbour Board's winkles are open, soon after a check of today.
func openDay() string {
	day := time.Now().UTC()
	if day.Month() == time.January {
		day = day.AddDate(0, 0, 40)
	}
	return day.Format(time.DateOnly)
}

// tryFind imagines a find on the try-it page and waits for its verdict.
func tryFind(p *tab, taxon, amount, sizeMM, day, verdict string) string {
	p.t.Helper()
	p.write("#try-kind", taxon)
	p.until(`document.querySelector('[data-hits="try-kind"] [data-taxon=` + quoted(taxon) + `], [data-hits="try-kind"] [data-do="as-typed"]')`)
	p.press(`[data-hits="try-kind"] :is([data-taxon="` + taxon + `"], [data-do="as-typed"])`)
	p.until(`document.querySelector('[data-chosen=` + quoted(taxon) + `]')`)
	p.write("#try-amount", amount)
	p.set("#try-day", day)
	p.inputOf("#try-day")
	p.set("#try-time", "10:00")
	p.inputOf("#try-time")
	p.set("#try-state", "living")
	var nothing any
	p.eval(`(() => { document.querySelector('[data-form="try"] details').open = true; return null; })()`, &nothing)
	if sizeMM == "" {
		sizeMM = " "
	}
	p.write("#try-sizeMm", sizeMM)
	p.until(`document.querySelector('[data-try=` + quoted(verdict) + `]')`)
	return p.textOf("[data-try]")
}

// Somebody copies a notice with three rules by the form, is interrupted by a reload, and the
// try-it panel then says what the notice says. Nothing of a try is written.
func TestNoticeWrittenAndTried(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	party(p)
	p.goTo(server, "/house/rules", listShown)
	assert.Contains(t, p.text(), "What is not on file is not allowed by anything here")
	p.press(`[data-do="write"]`)
	p.until(`document.querySelector('[data-start="notice"]')`)
	p.inspect("what somebody has before them")
	p.press(`[data-start="notice"]`)
	p.until(`document.querySelector('#set-authority') && document.activeElement.id === 'step-title'`)
	p.press(`[data-do="next"]`)
	p.until(`document.activeElement.id === 'set-authority'`)
	p.write("#set-authority", "Harbour Board of the Outer Sands")
	p.write("#set-ask", "by telephone in the mornings")
	p.write("#set-name", "Harbour Board, shellfish")
	p.inspect("who makes the rules")
	targets(t, p, "who makes the rules")
	p.press(`[data-do="next"]`)
	p.until(`document.querySelector('#set-source')`)
	p.write("#set-source", "notice at the slip")
	p.set("#set-sourceDate", "2026-03-01")
	p.inputOf("#set-sourceDate")
	p.press(`[data-do="next"]`)
	p.until(`document.querySelector('#set-place')`)
	p.write("#set-place", "the Outer Sands")
	p.press(`[data-do="next"]`)

	// Winkles: five for each person in a day, at least 16 mm, closed in January.
	p.until(`document.querySelector('[data-edit="0"]')`)
	p.press(`[data-edit="0"]`)
	p.until(`document.querySelector('#limits0-most')`)
	p.write("#kind-search", "Littorina littorea")
	p.until(`document.querySelector('[data-hits="kind-search"] [data-taxon="Littorina littorea"]')`)
	p.press(`[data-hits="kind-search"] [data-taxon="Littorina littorea"]`)
	assert.Contains(t, p.textOf("[data-left]"), "How many, or how much, may be taken?", "what is not filled in is named")
	assert.NotContains(t, p.textOf("[data-preview]"), "At most", "half a sentence is no rule")
	p.write("#limits0-most", "5")
	p.until(`document.querySelector('[data-preview]').innerText.includes('At most 5 for each person in a day.')`)
	p.write("#sizes0-least", "16")
	p.press(`input[name="season0-1"]`)
	p.press(`#return-demanded`)
	p.until(`document.querySelector('[data-preview]').innerText.includes('Closed in January.')`)
	p.inspect("one rule")
	targets(t, p, "one rule")
	p.until(`!document.querySelector('[data-left]')`)

	// A reload in the middle loses nothing.
	untilKept(p, "drafts", `"months":[1]`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#limits0-most')?.value === '5' && document.querySelector('#sizes0-least').value === '16'`)
	p.press(`[data-do="keep-rule"]`)
	p.until(`document.querySelector('#add-rule')`)

	// Crabs: never. By keys alone.
	p.press(`#add-rule`)
	p.until(`document.querySelector('#kind-search')`)
	p.run(chromedp.Focus(`[data-groups] summary`, chromedp.ByQuery), chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('[data-groups]').open`)
	p.tabTo(`input[name="group-crabs"]`)
	p.run(chromedp.KeyEvent(" "))
	p.until(`document.querySelector('[data-preview]').innerText.includes('Crabs')`)
	p.run(chromedp.Focus(`#take-allowed`, chromedp.ByQuery), chromedp.KeyEvent(" "), chromedp.KeyEvent(kb.ArrowDown))
	p.until(`document.querySelector('#take-forbidden').checked`)
	p.run(chromedp.Focus(`#rule-name`, chromedp.ByQuery), chromedp.KeyEvent("crabs"), chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('[data-rule="crabs"]')`)

	// Sea lettuce: two kilograms wet for the whole party on one tide, a part left standing.
	p.press(`#add-rule`)
	p.until(`document.querySelector('#kind-search')`)
	p.write("#kind-search", "Ulva lactuca")
	p.until(`document.querySelector('[data-hits="kind-search"] [data-taxon="Ulva lactuca"]')`)
	p.press(`[data-hits="kind-search"] [data-taxon="Ulva lactuca"]`)
	p.press(`#take-allowed`)
	p.press(`input[name="asks-limits"]`)
	p.until(`document.querySelector('#limits0-unit')`)
	p.set("#limits0-unit", "g")
	p.until(`document.querySelector('#limits0-as')`)
	p.set("#limits0-as", "kg")
	p.write("#limits0-most", "2")
	p.set("#limits0-base", "party")
	p.set("#limits0-per", "day")
	p.press(`input[name="asks-cut"]`)
	p.until(`document.querySelector('#cut-part')`)
	p.press(`[data-do="keep-rule"]`)
	p.until(`document.querySelector('#add-rule')`)
	assert.Contains(t, p.text(), "At most 2 kg (weighed wet) for the whole party in a day.")
	assert.Contains(t, p.text(), "It is cut above the holdfast, which is left.")
	p.press(`[data-do="next"]`)
	p.until(`document.activeElement.name === 'set-otherwise'`)
	p.press(`#set-otherwise-unchecked`)
	p.inspect("the rules of a notice")
	targets(t, p, "the rules of a notice")
	p.press(`[data-do="next"]`)
	p.until(`document.querySelector('#checked-on')`)
	assert.Empty(t, rulesetsOf(p), "nothing is on file before the end")
	p.press(`[data-do="put"]`)
	p.until(`document.activeElement.id === 'checked-on'`)
	assert.Empty(t, rulesetsOf(p))
	p.set("#checked-on", time.Now().UTC().AddDate(0, 0, -1).Format(time.DateOnly))
	p.inputOf("#checked-on")
	p.write("#checked-by", "Tam")
	p.press(`#for-shores input`)
	p.inspect("the last step")
	targets(t, p, "the last step")
	p.press(`[data-do="put"]`)
	p.until(setShown)
	sets := rulesetsOf(p)
	require.Len(t, sets, 1)
	file := mustJSON(t, sets[0].Fields["document"])
	set, err := take.Decode(file)
	require.NoError(t, err)
	require.Len(t, set.Rules, 3)
	assert.Equal(t, []take.Limit{{Most: 2000, Unit: "g", Weighed: "wet", Base: "party", Per: "day"}}, set.Rules["Sea lettuce"].Limits)
	p.inspect("a set")
	targets(t, p, "a set")

	// What the notice says, asked of finds that nobody has made.
	changes := len(kept[map[string]any](p, "changes"))
	p.press(`[data-do="try"]`)
	p.until(`document.querySelector('#try-kind')`)
	assert.Contains(t, p.text(), "Imagined. Nothing is saved.")
	var tam string
	p.eval(`[...document.querySelector('#try-who').options].find((one) => one.text === 'Tam').value`, &tam)
	p.set("#try-who", tam)
	day := openDay()
	said := tryFind(p, "Littorina littorea", "4", "20", day, "within")
	assert.Contains(t, said, "Within the rules on file")
	assert.Contains(t, said, "4 with this; limit on file 5")
	assert.Contains(t, said, "by Tam")
	assert.Contains(t, said, "signs on the shore stand above")
	tryFind(p, "Littorina littorea", "5", "20", day, "atLimit")
	assert.Contains(t, tryFind(p, "Littorina littorea", "6", "20", day, "over"), "6 with this; limit on file 5")
	assert.Contains(t, tryFind(p, "Littorina littorea", "1", "15", day, "forbidden"), "this is 15 mm")
	unmeasured := tryFind(p, "Littorina littorea", "1", "", day, "unchecked")
	assert.Contains(t, unmeasured, "Not checked: do not take")
	assert.Contains(t, unmeasured, "Not known")
	tryFind(p, "Carcinus maenas", "1", "", day, "forbidden")
	tryFind(p, "Patella vulgata", "1", "30", day, "unchecked") // the notice is silent
	p.inspect("a try")
	targets(t, p, "a try")

	// What a rule asks is asked, and answered for this try alone.
	p.set("#try-unit", "g")
	tryFind(p, "Ulva lactuca", "500", "", day, "unchecked")
	p.write("#try-massG", "500") // of the two kilograms wet
	p.until(`document.querySelector('[data-try="unchecked"] input[value="true"]') && !document.querySelector('[data-fact="mass"]')`)
	p.press(`[data-try] input[value="true"]`)
	p.until(`document.querySelector('[data-try="within"]')`)
	assert.Len(t, kept[map[string]any](p, "changes"), changes, "a try writes nothing")
	assert.Empty(t, findsOf(p))
}

// What the form has no question for stays in a set that is changed, and is shown.
func TestRulesKeepWhatTheFormCannotSay(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	set := harbourRules()
	winkles := set["rules"].(map[string]any)["winkles"].(map[string]any)
	winkles["unless"] = map[string]any{"rights": []any{"an inherited right"}}
	winkles["season"] = map[string]any{"open": []any{map[string]any{"moon": map[string]any{"of": "new", "first": 0, "last": 3}}}}
	id := putRules(p, set, 3)
	p.goTo(server, "/house/rules/write/"+id+"/rules/1", `document.querySelector('[data-kept]')`)
	kept := p.textOf("[data-kept]")
	assert.Contains(t, kept, "holds the right “an inherited right”")
	assert.Contains(t, kept, "the 3 days after it")
	p.write("#limits0-most", "4")
	p.press(`[data-do="keep-rule"]`)
	p.until(`document.querySelector('#add-rule')`)
	p.press(`[data-do="next"]`)
	p.until(`document.querySelector('#checked-on')`)
	assert.Empty(t, p.valueOf("#checked-by"), "what has changed is checked anew")

	// What was begun is thrown away, and begun anew from what is on file; likewise where the set
	// has changed since.
	p.press(`[data-do="drop"]`)
	p.until(`document.activeElement.id === 'confirm'`)
	p.press(`[data-do="confirm"]`)
	p.until(setShown)
	p.follow("/house/rules/write/"+id+"/rules/1", `document.querySelector('#limits0-most')?.value === '5'`)
	p.write("#limits0-most", "3")
	untilKept(p, "drafts", `"most":"3"`)
	set["note"] = "from another phone"
	appModules(p, "book")
	var nothing any
	p.eval(`book.write('ruleset', `+quoted(id)+`, {document: `+string(mustJSON(t, set))+`}).then(() => null)`, &nothing)
	p.goTo(server, "/house/rules/write/"+id+"/rules/1", `document.querySelector('#limits0-most')?.value === '5'`)
	p.write("#limits0-most", "4")
	p.press(`[data-do="keep-rule"]`)
	p.until(`document.querySelector('#add-rule')`)
	assert.Equal(t, "from another phone", p.valueOf("#set-note"))
	p.press(`[data-do="next"]`)
	p.until(`document.querySelector('#checked-on')`)
	p.set("#checked-on", time.Now().UTC().AddDate(0, 0, -1).Format(time.DateOnly))
	p.inputOf("#checked-on")
	p.write("#checked-by", "Ada")
	p.press(`[data-do="put"]`)
	p.until(setShown)
	winkles["limits"].([]any)[0].(map[string]any)["most"] = 4
	sets := rulesetsOf(p)
	require.Len(t, sets, 1)
	assert.Equal(t, id, sets[0].ID)
	assert.JSONEq(t, string(mustJSON(t, set)), string(mustJSON(t, sets[0].Fields["document"])))
}

// The household's own rules have their own form and place; they are shown apart from the law
// and permit nothing.
func TestRulesOfOnesOwn(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	party(p)
	p.goTo(server, "/house/rules", listShown)
	p.press(`[data-do="own"]`)
	p.until(`document.querySelector('#own-kind-care')`)
	p.press(`#own-kind-share`)
	p.until(`document.querySelector('#own-n')`)
	p.press(`[data-share-help] summary`)
	p.write("#share-counted", "120")
	p.press(`[data-do="share"]`)
	p.until(`document.querySelector('[data-share-wrong]').innerText !== ''`)
	p.write("#share-taking", "6")
	p.press(`[data-do="share"]`)
	p.until(`document.querySelector('[data-share]').innerText.includes('5 %')`) // 6 of 120
	p.inspect("a rule of one's own")
	targets(t, p, "a rule of one's own")

	p.press(`#own-kind-number`)
	p.until(`document.querySelector('#own-n').value === ''`)
	p.write("#kind-search", "Littorina littorea")
	p.until(`document.querySelector('[data-hits="kind-search"] [data-taxon="Littorina littorea"]')`)
	p.press(`[data-hits="kind-search"] [data-taxon="Littorina littorea"]`)
	p.write("#own-n", "2")
	untilKept(p, "drafts", `"n":"2"`)
	p.run(chromedp.Reload()) // a draft is kept
	p.until(`document.querySelector('#own-n')?.value === '2'`)
	p.press(`#for-shores input`)
	p.press(`[data-do="put"]`)
	p.until(setShown)
	sets := rulesetsOf(p)
	require.Len(t, sets, 1)
	_, err := take.Decode(mustJSON(t, sets[0].Fields["document"]))
	require.NoError(t, err)
	p.follow("/house/rules", `document.querySelector('[data-list="own"] [data-set]')`)
	assert.Contains(t, p.textOf(listOf("own")), "No more than 2 in a day")
	assert.NotContains(t, p.textOf(listOf("law")), "No more than 2 in a day")

	p.follow("/house/rules/try", `document.querySelector('#try-kind')`)
	said := tryFind(p, "Littorina littorea", "3", "20", time.Now().UTC().Format(time.DateOnly), "unchecked")
	assert.Contains(t, p.textOf("[data-household]"), "3 with this; limit on file 2")
	assert.Equal(t, "over", p.attribute("[data-household]", "household"))
	assert.Contains(t, said, "Not checked: do not take", "one's own rules permit nothing")
}
