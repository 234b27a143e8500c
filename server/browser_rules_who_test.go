package main

import (
	"context"
	"testing"
	"time"

	paging "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

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
