package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

func rulesetsOf(p *tab) []record {
	p.t.Helper()
	return recordsKept(p, "ruleset")
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
