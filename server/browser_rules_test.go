package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	paging "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
	"wrackbook/internal/take"
)

// The tests here use the pages of rules in House. The rules are those of an invented
// authority; verdicts are expected by what its notice says in plain words.

const (
	listShown = `document.querySelector('[data-list="law"]')`
	setShown  = `document.querySelector('[data-do="history"]')`
	faultName = `document.querySelector('[data-fault]')`
)

// harbourRules is what the Harbour Board says: at most five winkles for each person in a day,
// of at least 16 mm, closed in January; crabs never.
func harbourRules() map[string]any {
	return map[string]any{
		"form": 1, "name": "Harbour Board, shellfish", "layer": "regional", "authority": "Harbour Board of the Outer Sands", "ask": "by telephone in the mornings",
		"source": "notice at the slip", "sourceDate": "2026-03-01", "area": map[string]any{"place": "the Outer Sands", "everywhere": true}, "otherwise": "unchecked",
		"rules": map[string]any{
			"winkles": map[string]any{"of": map[string]any{"taxa": []any{"Littorina littorea"}}, "take": "allowed",
				"limits": []any{map[string]any{"most": 5, "unit": "count", "base": "person", "per": "day"}},
				"sizes":  []any{map[string]any{"axis": "shell", "leastMm": 16}}, "season": map[string]any{"closed": []any{map[string]any{"months": []any{1}}}}},
			"crabs": map[string]any{"of": map[string]any{"groups": []any{"crabs"}}, "take": "forbidden"},
		},
	}
}

// ruleset is a set as the phone keeps it.
type ruleset struct {
	ID      string
	Fields  map[string]any
	Deleted bool
}

func rulesetsOf(p *tab) (sets []ruleset) {
	p.t.Helper()
	for _, r := range kept[struct {
		ruleset
		Kind string
	}](p, "records") {
		if r.Kind == "ruleset" {
			sets = append(sets, r.ruleset)
		}
	}
	return sets
}

// pasteRules gives the page the text of a file and has it read.
func pasteRules(p *tab, file string) {
	p.t.Helper()
	var nothing any
	p.eval(`(() => { const e = document.querySelector('#pasted'); e.value = `+quoted(file)+`; e.dispatchEvent(new Event('input', {bubbles: true})); return null; })()`, &nothing)
	p.press(`[data-do="read"]`)
}

// putRules writes a set straight into the phone's book, checked so many days ago.
func putRules(p *tab, document map[string]any, daysAgo int) (id string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		await book.ready('shore');
		const id = ids.uuidv7(), shore = book.records('shore').value.find((one) => !one.deleted).id;
		const on = new Date(Date.now() - `+string(mustJSON(p.t, daysAgo))+` * 86400000).toISOString().slice(0, 10);
		await book.write('ruleset', id, {document: `+string(mustJSON(p.t, document))+`, checked: {on, by: 'Tam'}, ['shores/' + shore]: true});
		return id;
	})()`, &id)
	return id
}

// A file is read and checked before anything is on file: each fault is named with its place,
// and nothing of it is kept; a good one says in plain sentences what it says, and asks when and
// by whom it was checked, and where it holds.
func TestRulesBroughtIn(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	p.goTo(server, "/house/rules/import", `document.querySelector('#pasted')`)
	broken := func(change func(set, winkles map[string]any)) string {
		set := harbourRules()
		change(set, set["rules"].(map[string]any)["winkles"].(map[string]any))
		return string(mustJSON(t, set))
	}
	area := func(ring ...any) func(set, _ map[string]any) {
		return func(set, _ map[string]any) {
			set["area"] = map[string]any{"place": "the Outer Sands", "polygons": []any{ring}}
		}
	}
	at := func(lon, lat float64) []any { return []any{lon, lat} }
	whole := string(mustJSON(t, harbourRules()))
	for _, row := range []struct{ name, file, place, says string }{
		{"of a later form", broken(func(set, _ map[string]any) { set["form"] = 2 }), "form", "Update Wrackbook"},
		{"a field that no form knows", broken(func(_, w map[string]any) { w["colour"] = "blue" }), "rules.winkles.colour", "does not know it"},
		{"a kind of rule that no form knows", broken(func(_, w map[string]any) { w["limits"].([]any)[0].(map[string]any)["base"] = "ship" }), "rules.winkles.limits[0].base", "one of these words"},
		{"sizes that contradict", broken(func(_, w map[string]any) { w["sizes"].([]any)[0].(map[string]any)["mostMm"] = 10 }), "rules.winkles.sizes[0]", "contradict each other"},
		{"a polygon that crosses itself", broken(area(at(10, 60), at(11, 61), at(11, 60), at(10, 61))), "area.polygons[0][", "crosses itself"},
		{"a polygon over the 180th meridian", broken(area(at(179, 60), at(-179, 60), at(-179, 61), at(179, 61))), "area.polygons[0][", "180th meridian"},
		{"the half of a file", whole[:len(whole)/2], "rules", "ends in the middle"},
		{"very deep", `{"form": 1, "rules": ` + strings.Repeat(`{"a":`, 40) + `1` + strings.Repeat(`}`, 40) + `}`, "rules", "nested deeper"},
		{"the same twice", strings.Replace(whole, `"form":1`, `"form":1,"form":1`, 1), "form", "there twice"},
		{"no JSON", "Shellfish: five a day", "the beginning", "no JSON"},
		{"nothing", "   ", "", "Paste the text"},
	} {
		pasteRules(p, row.file)
		p.until(faultName + ` && document.activeElement.id === 'faulty'`)
		shown := p.textOf("[data-fault]")
		assert.Contains(t, shown, row.says, row.name)
		assert.Contains(t, shown, row.place, row.name)
		assert.Contains(t, shown, "Not taken in", row.name)
		assert.Empty(t, rulesetsOf(p), row.name)
		var nothing any
		p.eval(`(() => { document.activeElement.blur(); return null; })()`, &nothing)
	}
	p.inspect("a file with a fault")
	targets(t, p, "a file with a fault")

	// 5 MB are refused by their size alone: the file is not even read, and a paste of 2 MB does
	// not reach the field.
	large := filepath.Join(t.TempDir(), "large.json")
	require.NoError(t, os.WriteFile(large, []byte(strings.Repeat("x", 5<<20)), 0o600))
	p.onNewText()
	p.run(chromedp.SetUploadFiles("#file", []string{large}, chromedp.ByQuery))
	p.until(faultName + `.innerText.includes('5.0 MB')`)
	var reads int
	p.eval(`window.textReads`, &reads)
	assert.Zero(t, reads, "the page read what is too large")
	var pasted struct {
		Stopped bool
		Field   string
	}
	p.eval(`(() => { const data = new DataTransfer(); data.setData('text/plain', 'y'.repeat(2 << 20));
		const event = new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}), e = document.querySelector('#pasted');
		const stopped = !e.dispatchEvent(event); return {Stopped: stopped, Field: e.value.slice(0, 5)}; })()`, &pasted)
	assert.True(t, pasted.Stopped)
	assert.NotContains(t, pasted.Field, "y")
	p.until(faultName + `.innerText.includes('2.0 MB')`)
	assert.Empty(t, rulesetsOf(p))

	// A good one, by file.
	good := filepath.Join(t.TempDir(), "harbour.json")
	require.NoError(t, os.WriteFile(good, mustJSON(t, harbourRules()), 0o600))
	p.run(chromedp.SetUploadFiles("#file", []string{good}, chromedp.ByQuery))
	p.until(`document.querySelector('[data-found]') && document.activeElement.id === 'found-set'`)
	shown := p.text()
	for _, words := range []string{"Harbour Board, shellfish", "by telephone in the mornings", "notice at the slip, of 1 March 2026", "At most 5 for each person in a day.",
		"Must be at least 16 mm along the shell.", "Closed in January.", "crabs\nMay not be taken at all.", "signs on the shore stand above"} {
		assert.Contains(t, shown, words)
	}
	assert.Empty(t, rulesetsOf(p), "it is only shown")
	assert.Empty(t, p.valueOf("#checked-on")+p.valueOf("#checked-by"), "no file says who checked it")
	p.inspect("what a file says")
	targets(t, p, "what a file says")
	p.press(`[data-do="put"]`)
	p.until(`document.activeElement.id === 'checked-on' && document.activeElement.getAttribute('aria-invalid') === 'true'`)
	assert.Contains(t, p.text(), "Say who compared it with the source.")
	assert.Contains(t, p.text(), "Choose the shores, or say that none lies in it.")
	assert.Empty(t, rulesetsOf(p))
	today := time.Now().UTC().Format(time.DateOnly)
	p.set("#checked-on", time.Now().AddDate(0, 0, 3).UTC().Format(time.DateOnly))
	p.inputOf("#checked-on")
	p.write("#checked-by", "Ada")
	p.press(`#for-shores input`)
	p.press(`[data-do="put"]`)
	p.until(`document.querySelector('#checked-on-wrong').innerText.includes('lies ahead')`)
	yesterday := time.Now().AddDate(0, 0, -1).UTC().Format(time.DateOnly)
	p.set("#checked-on", yesterday)
	p.inputOf("#checked-on")
	p.press(`[data-do="put"]`)
	p.until(setShown)
	sets := rulesetsOf(p)
	require.Len(t, sets, 1)
	assert.Equal(t, map[string]any{"on": yesterday, "by": "Ada"}, sets[0].Fields["checked"])
	assert.JSONEq(t, string(mustJSON(t, harbourRules())), string(mustJSON(t, sets[0].Fields["document"])))
	in := 0
	for name, is := range sets[0].Fields {
		if strings.HasPrefix(name, "shores/") {
			assert.Equal(t, true, is, name)
			in++
		}
	}
	assert.Equal(t, 1, in, "the one shore")

	// The same again is there already; it takes its place only knowingly.
	p.goTo(server, "/house/rules/import", `document.querySelector('#pasted')`)
	changed := harbourRules()
	changed["source"] = "new notice at the slip"
	pasteRules(p, string(mustJSON(t, changed)))
	p.until(`document.querySelector('[data-radios="there"]')`)
	p.set("#checked-on", today)
	p.inputOf("#checked-on")
	p.write("#checked-by", "Bo")
	p.press(`#for-shores input`)
	p.press(`[data-do="put"]`)
	p.until(`document.activeElement.name === 'there'`)
	assert.Contains(t, p.text(), "Say what is to become of the one that is there.")
	assert.Equal(t, "notice at the slip", rulesetsOf(p)[0].Fields["document"].(map[string]any)["source"])
	p.press(`#there-replace`)
	p.press(`[data-do="put"]`)
	p.until(setShown + ` && document.body.innerText.includes('new notice at the slip')`)
	require.Len(t, rulesetsOf(p), 1)
	assert.Equal(t, "new notice at the slip", rulesetsOf(p)[0].Fields["document"].(map[string]any)["source"])
	assert.Contains(t, p.text(), "by Bo")
}

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
	p.until(`document.querySelector('[data-try] input[value="true"]')`)
	p.press(`[data-try] input[value="true"]`)
	p.until(`document.querySelector('[data-try="within"], [data-try="unchecked"] [data-missing]')`)
	assert.Len(t, kept[map[string]any](p, "changes"), changes, "a try writes nothing")
	assert.Empty(t, findsOf(p))
}

// A check that is too old: the set says since when, forbids and permits nothing, until somebody
// has read the source again. A keeper sets for how long a check counts.
func TestRulesGrowOld(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	party(p)
	putRules(p, harbourRules(), 200)
	p.goTo(server, "/house/rules", `document.querySelector('[data-set]')`)
	since := time.Now().UTC().AddDate(0, 0, -200+181).Format("2 January 2006")
	assert.Contains(t, p.textOf(listOf("law")), "Overdue since "+since+": permits nothing, still forbids. Checked 200 days ago on")
	assert.Equal(t, "overdue", p.attribute("[data-age]", "age"))
	assert.Contains(t, p.textOf(listOf("law")), "2 rules")
	p.inspect("a list with an old set")
	targets(t, p, "a list with an old set")

	p.follow("/house/rules/try", `document.querySelector('#try-kind')`)
	day := time.Now().UTC().Format(time.DateOnly)
	said := tryFind(p, "Littorina littorea", "1", "20", day, map[bool]string{true: "forbidden", false: "unchecked"}[time.Now().UTC().Month() == time.January])
	assert.Contains(t, said, "permits nothing")
	tryFind(p, "Carcinus maenas", "1", "", day, "forbidden")

	// A longer time for a check, and it counts again; back, and it does not.
	p.follow("/house/rules", `document.querySelector('[data-days]')`)
	p.press(`[data-days] summary`)
	p.write("#days-text", "731")
	p.press(`[data-do="keep-days"]`)
	p.until(`document.activeElement.id === 'days-text' && document.activeElement.getAttribute('aria-invalid') === 'true'`)
	p.write("#days-text", "300")
	p.press(`[data-do="keep-days"]`)
	p.until(`document.querySelector('[data-age="fresh"]')`)
	p.write("#days-text", "180")
	p.press(`[data-do="keep-days"]`)
	p.until(`document.querySelector('[data-age="overdue"]')`)

	// Checked again: it asks who, and that the source was read.
	p.press(`[data-set]`)
	p.until(setShown)
	p.press(`[data-do="again"]`)
	p.until(`document.activeElement.id === 'again-by'`)
	p.write("#again-by", "Ada")
	p.press(`[data-do="keep-again"]`)
	p.until(`document.activeElement.id === 'again-read'`)
	assert.Contains(t, p.text(), "Read the source first")
	assert.Equal(t, "Tam", rulesetsOf(p)[0].Fields["checked"].(map[string]any)["by"])
	p.inspect("checking again")
	targets(t, p, "checking again")
	p.press(`#again-read`)
	p.press(`[data-do="keep-again"]`)
	p.until(`document.querySelector('[data-age="fresh"]')`)
	assert.Contains(t, p.textOf("[data-age]"), "Checked today on "+time.Now().UTC().Format("2 January 2006")+" by Ada.")
}

func listOf(name string) string { return `[data-list="` + name + `"]` }

// A set goes out as a file that comes in as the same set, and off file after a question.
func TestRulesOutAndIn(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	id := putRules(p, harbourRules(), 3)
	p.goTo(server, "/house/rules/set/"+id, setShown)
	dir := downloads(p)
	p.press(`[data-do="export"]`)
	path := arrived(t, dir, "rules-harbour-board-shellfish.json")
	file, err := os.ReadFile(path)
	require.NoError(t, err)
	set, err := take.Decode(file)
	require.NoError(t, err, "what went out can come in")
	whole, err := json.Marshal(set)
	require.NoError(t, err)
	assert.JSONEq(t, string(mustJSON(t, harbourRules())), string(whole))
	assert.NotContains(t, string(file), "Tam", "who checked it stays here")

	p.press(`[data-do="history"]`)
	p.until(`document.querySelector('[data-past="document"]') && document.querySelector('[data-past="checked"]')`)
	assert.Contains(t, p.textOf(`[data-past="checked"]`), "by Tam")
	p.press(`[data-past="document"] summary`)
	assert.Contains(t, p.textOf(`[data-past="document"]`), "At most 5 for each person in a day.")
	p.inspect("the history of a set")
	targets(t, p, "the history of a set")
	p.follow("/house/rules/set/"+id, setShown)

	p.press(`[data-do="remove"]`)
	p.until(`document.activeElement.id === 'confirm'`)
	p.press(`[data-do="confirm"]`)
	p.until(listShown + ` && !document.querySelector('[data-set]')`)
	require.True(t, rulesetsOf(p)[0].Deleted)

	p.goTo(server, "/house/rules/import", `document.querySelector('#pasted')`)
	p.run(chromedp.SetUploadFiles("#file", []string{path}, chromedp.ByQuery))
	p.until(`document.querySelector('[data-found]')`)
	assert.NotContains(t, p.text(), "is on file already")
	p.set("#checked-on", time.Now().UTC().AddDate(0, 0, -1).Format(time.DateOnly))
	p.inputOf("#checked-on")
	p.write("#checked-by", "Bo")
	p.press(`input[name="shore-none"]`)
	p.press(`[data-do="put"]`)
	p.until(setShown)
	assert.Contains(t, p.textOf("[data-shores]"), "None of your shores.")
	for _, one := range rulesetsOf(p) {
		if !one.Deleted {
			assert.JSONEq(t, string(mustJSON(t, harbourRules())), string(mustJSON(t, one.Fields["document"])))
		}
	}
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

// A rule that needs a licence is answered by what the book says of who takes it; until a keeper
// has said it, the find stays unchecked and the fact is named.
func TestRulesAskForPapers(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	ids := party(p)
	set := harbourRules()
	set["rules"].(map[string]any)["licence"] = map[string]any{"of": map[string]any{"taxa": []any{"Littorina littorea"}}, "person": map[string]any{"licence": "shore licence", "ageFrom": 16}}
	putRules(p, set, 3)
	p.goTo(server, "/house/rules/try", `document.querySelector('#try-kind')`)
	p.set("#try-who", ids["Tam"])
	day := openDay()
	tryFind(p, "Littorina littorea", "1", "20", day, "unchecked")
	p.until(`document.querySelector('[data-fact="licence"]')`)
	p.press(`[data-try] a[href="/house/rules/papers"]`)
	p.until(`document.querySelector('[data-papers="Tam"]')`)
	p.press(`[data-papers="Tam"] input[name="licences-0"]`)
	p.write(`#born-`+ids["Tam"], "1984")
	p.inspect("papers")
	targets(t, p, "papers")
	p.press(`[data-papers="Tam"] [data-do="keep-papers"]`)
	untilKept(p, "records", `"what":"shore licence"`)
	p.follow("/house/rules/try", `document.querySelector('#try-kind')`)
	p.set("#try-who", ids["Tam"])
	tryFind(p, "Littorina littorea", "1", "20", day, "within")
	p.set("#try-who", ids["Ada"]) // a child, whose licence nobody has named
	p.until(`document.querySelector('[data-try="unchecked"] [data-fact="licence"]')`)
}

// Rules come in, hold and are tried without any signal.
func TestRulesOffline(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	readyForOffline(p)
	server.kill(t)
	p.allowed = true // fetches that fail are told in the console
	p.follow("/house/rules/import", `document.querySelector('#pasted')`)
	pasteRules(p, string(mustJSON(t, harbourRules())))
	p.until(`document.querySelector('[data-found]')`)
	p.set("#checked-on", time.Now().UTC().Format(time.DateOnly))
	p.inputOf("#checked-on")
	p.write("#checked-by", "Tam")
	p.press(`#for-shores input`)
	p.press(`[data-do="put"]`)
	p.until(setShown)
	require.Len(t, rulesetsOf(p), 1)
	p.follow("/house/rules/try", `document.querySelector('#try-kind')`)
	tryFind(p, "Carcinus maenas", "1", "", openDay(), "forbidden")
}

// Where the core does not run nothing is taken in, and nothing is permitted.
func TestRulesWithoutTheCore(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.until(answered)
	putRules(p, harbourRules(), 1)
	p.goTo(server, "/house/rules/import", `document.querySelector('#pasted')`)
	p.allowed = true
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := paging.AddScriptToEvaluateOnNewDocument(`window.Worker = class { postMessage() {} terminate() {} set onerror(f) { setTimeout(() => f({message: 'no core'})); } };`).Do(ctx)
		return err
	}), chromedp.Reload())
	p.until(`document.querySelector('[data-bar="core"]')`)
	changed := harbourRules()
	changed["name"] = "Another"
	pasteRules(p, string(mustJSON(t, changed)))
	p.until(faultName)
	assert.Contains(t, p.textOf("[data-fault]"), "is not running. Nothing was taken in")
	assert.Len(t, rulesetsOf(p), 1)
	p.follow("/house/rules/try", `document.querySelector('#try-kind')`)
	said := tryFind(p, "Littorina littorea", "1", "20", openDay(), "none")
	assert.Contains(t, said, "Not reckoned: no permission")
	p.follow("/house/rules", `document.querySelector('[data-set]')`) // what is on file can be read all the same
	p.press("[data-set]")
	p.until(setShown)
	assert.Contains(t, p.text(), "At most 5 for each person in a day.")
}

// A child's phone reads the rules and tries finds. It has no way to write them.
func TestRulesForChildren(t *testing.T) {
	t.Parallel()
	server, a, b := joinedPhones(t, t.TempDir(), store.Child)
	putRules(a, harbourRules(), 12)
	a.goTo(server, "/house", rested)
	b.goTo(server, "/house", rested)
	exchanged(a)
	exchanged(b)
	b.goTo(server, "/house/rules", `document.querySelector('[data-set]')`)
	assert.Contains(t, b.textOf(listOf("law")), "Checked 12 days ago")
	b.until(`document.querySelector('[data-reads]')`)
	assert.Contains(t, b.text(), "This phone reads them.")
	var acts []string
	does := `[...document.querySelectorAll('main [data-do]')].map((e) => e.dataset.do)`
	b.eval(does, &acts)
	assert.Equal(t, []string{"try"}, acts)
	b.press(`[data-set]`)
	b.until(setShown)
	b.eval(does, &acts)
	assert.Equal(t, []string{"try", "history"}, acts, "not checked, changed, exported or taken off by a child")
	for _, path := range []string{"import", "write", "own"} {
		b.goTo(server, "/house/rules/"+path, `document.querySelector('main h1')`)
		b.until(`document.querySelector('main').innerText.includes('This phone reads them.')`)
		var forms int
		b.eval(`document.querySelectorAll('main form, main input, main textarea, main button').length`, &forms)
		assert.Zero(t, forms, path)
	}
	b.follow("/house/rules/try", `document.querySelector('#try-kind')`)
	tryFind(b, "Carcinus maenas", "1", "", time.Now().UTC().Format(time.DateOnly), "forbidden")
}
