package main

import (
	"context"
	"strings"
	"testing"
	"time"

	paging "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// The tests here ask what the rules on file say, on the shore and in Plan. The rules are those
// of an invented authority; what a verdict must be follows from their words.

// The area of every set here: a box around the shore of the tests, which lies near San Francisco.
const boxAround = `polygons: [[[-123.5, 37], [-121.5, 37], [-121.5, 38.5], [-123.5, 38.5]]], place: 'the bay'`

// seaweedRules: five pieces of seaweed a person a day, cut above the holdfast; sea palms never;
// what was taken may go back at once.
const seaweedRules = `{
	form: 1, name: 'Seaweed of the bay', layer: 'regional', authority: 'the Bay Warden', ask: 'at the harbour office',
	source: 'notice on the harbour wall', sourceDate: '2026-01-15', area: {` + boxAround + `},
	rules: {
		seaweed: {of: {groups: ['algae']}, take: 'allowed', limits: [{most: 5, unit: 'count', base: 'person', per: 'day'}], return: 'allowed'},
		wrack: {of: {taxa: ['Fucus vesiculosus']}, take: 'forbidden'},
		laver: {of: {groups: ['reds']}, cut: {above: 'holdfast'}},
	},
}`

// onOuting is the same for each outing: tests on the real clock may pass midnight.
var onOuting = strings.Replace(seaweedRules, "per: 'day'", "per: 'outing'", 1)

// onFile puts rules on file, checked on a day.
func onFile(p *tab, document, checked string) (id string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		const id = ids.uuidv7();
		await book.write('ruleset', id, {document: `+document+`, checked: {on: '`+checked+`', by: 'Mara'}});
		return id;
	})()`, &id)
	require.NotEmpty(p.t, id)
	return id
}

// isVerdict: the line beside the button says so.
func isVerdict(word string) string {
	return `document.querySelector('.verdict-line[data-verdict="` + word + `"]')`
}

// verdictSays waits until the panel has the words; it comes in a file of its own, behind the line.
func verdictSays(p *tab, words string) {
	p.t.Helper()
	p.until(`document.querySelector('.verdict')?.innerText.includes(` + quoted(words) + `)`)
}

// lineSays: the line beside the button has the words.
func lineSays(words string) string {
	return `document.querySelector('.verdict-line')?.innerText.includes(` + quoted(words) + `)`
}

// onShoreWithRules is a phone on the morning of an outing, without signal, with a party under way
// and the rules on file.
func onShoreWithRules(t *testing.T) (p *tab, ids map[string]string) {
	t.Helper()
	server, p := onTripMorning(t)
	readyForOffline(p)
	ids = party(p)
	onFile(p, seaweedRules, "2026-12-20")
	server.kill(t)
	p.allowed = true // fetches that fail are told in the console
	p.follow("/shore/log", kindsHere)
	return p, ids
}

// saveTaken saves what stands in the form as taken.
func saveTaken(p *tab, button string) {
	p.t.Helper()
	p.press(`input[name="fate"][value="taken"]`)
	p.until(`document.querySelector('[data-do="save"]').textContent === ` + quoted(button))
	p.press(`[data-do="save"]`)
	p.until(kindsHere + ` && ` + savedLine)
}

// Up to the limit and past it, without signal: the line follows the amount, says at the limit,
// then over; what is over can be recorded, and is marked in the list.
func TestUpToTheLimitAndPastIt(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "greens", "Ulva lactuca")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("within"))
	p.until(lineSays("0 taken + 1; limit on file 5"))
	p.until(`document.querySelector('.verdict [data-says]')`)
	verdictSays(p, "Within the rules on file, checked on 2026-12-20 by Mara. The word of the Bay Warden (at the harbour office) and the signs on the shore stand above this.")
	verdictSays(p, "the party 1 of 10") // two gather
	p.wet("within")
	p.press(`[data-do="more"]`)
	p.press(`[data-do="more"]`)
	p.until(lineSays("0 taken + 3; limit on file 5"))
	saveTaken(p, "Save the find")

	pick(p, "greens", "Ulva intestinalis")
	p.until(isVerdict("within") + ` && ` + lineSays("3 taken + 1; limit on file 5"))
	p.press(`[data-do="more"]`)
	p.until(isVerdict("atLimit") + ` && ` + lineSays("At a limit on file"))
	p.wet("at the limit")
	p.press(`[data-do="more"]`)
	p.until(isVerdict("over"))
	p.press(`[data-do="less"]`)
	p.until(isVerdict("atLimit"))
	saveTaken(p, "Save the find")

	pick(p, "greens", "Ulva lactuca")
	p.until(isVerdict("over") + ` && ` + lineSays("5 taken + 1; limit on file 5"))
	assert.Equal(t, "Save the find", p.textOf(`[data-do="save"]`), "it is only seen")
	// Another person has a share of their own.
	p.press(`input[name="who"][value="` + ids["Ada"] + `"]`)
	p.until(isVerdict("within") + ` && ` + lineSays("0 taken + 1"))
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("over"))
	p.press(`input[name="fate"][value="taken"]`)
	p.until(lineSays("Recording it does not make it lawful."))
	p.wet("over")
	saveTaken(p, "Record what happened")

	// One that is forbidden, seen only.
	pick(p, "browns", "Fucus vesiculosus")
	p.until(isVerdict("forbidden"))
	verdictSays(p, "The rules on file forbid taking this.")
	p.wet("forbidden")
	p.press(`[data-do="save"]`)
	p.until(savedLine)

	// An animal of which the rules are silent.
	pick(p, "snails", "Patella vulgata")
	p.until(isVerdict("unchecked"))
	verdictSays(p, "silence is no permission")
	verdictSays(p, "Ask the Bay Warden (at the harbour office).")
	p.wet("unchecked")
	p.press(`[data-do="change"]`)
	p.until(kindsHere)

	// The list marks what was over: all that was taken of that limit.
	p.follow("/shore/today", `document.querySelectorAll('[data-against="over"]').length === 3`)
	p.wet("the list with what is over")
	over := findsOf(p)[2]
	p.press(`[data-find="` + over.ID + `"] a`)
	p.until(`document.querySelector('[data-panel-verdict="over"]') && document.querySelector('[data-put-back="may"]')`)
	assert.Contains(t, p.text(), "The rules on file allow putting it back: here and now")
	p.wet("a find that is over")
	// Named anew, it is another question.
	p.press(`[data-do="name"]`)
	p.until(kindsHere)
	p.press(`.groups > [data-group="browns"]`)
	p.until(`document.querySelector('[data-list="browns"]')`)
	p.press(`[data-list="browns"] [data-taxon="Fucus vesiculosus"]`)
	p.until(`document.activeElement.id === 'chosen-kind'`)
	p.press(`[data-do="identify"]`)
	p.until(`document.querySelector('[data-panel-verdict="forbidden"]')`)
}

// Two phones, without signal, each take the last that was permitted. With signal both find that
// it is over, and name both finds.
func TestTwoPhonesTakeTheLast(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	server, a, b := joinedPhones(t, dir, store.Collector)
	phones := []*tab{a, b}
	ids := party(a)
	yesterday := time.Now().UTC().AddDate(0, 0, -1).Format(time.DateOnly)
	onFile(a, onOuting, yesterday)
	exchanged(a)
	exchanged(b)
	for _, p := range phones {
		readyForOffline(p)
		p.follow("/shore/log", kindsHere)
		untilKept(p, "choices", `"kinds"`)
	}
	addr := strings.TrimPrefix(server.url, "http://")
	server.kill(t)
	for _, p := range phones {
		p.allowed = true
		pick(p, "greens", "Ulva lactuca")
		p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
		for range 4 {
			p.press(`[data-do="more"]`)
		}
		p.until(isVerdict("atLimit") + ` && ` + lineSays("0 taken + 5; limit on file 5"))
		saveTaken(p, "Save the find")
	}
	binary, err := builtBinary()
	require.NoError(t, err)
	_, code := startHousehold(t, binary, addr, dir)
	require.Empty(t, code)
	exchanged(a)
	exchanged(b)
	exchanged(a)
	for _, p := range phones {
		p.follow("/shore/today", `document.querySelectorAll('[data-against="over"]').length === 2`)
		for _, one := range findsOf(p) {
			p.follow("/shore/find/"+one.ID, `document.querySelector('[data-panel-verdict="over"] [data-counted]')`)
			verdictSays(p, "10 taken this outing; limit on file 5")
			for _, other := range findsOf(p) {
				var named bool
				p.eval(`document.querySelector('[data-counted] a[href="/shore/find/`+other.ID+`"]') !== null`, &named)
				assert.True(t, named, "%s is not named beside %s", other.ID, one.ID)
			}
		}
	}
}

// What the rules ask is answered in place, once for the outing.
func TestTheRulesAsk(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "reds", "Palmaria palmata")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("unchecked") + ` && document.querySelector('[data-choices^="ask-"]')`)
	assert.Contains(t, p.textOf(`[data-choices^="ask-"]`), "Cut above the holdfast and leave it.")
	p.wet("a question")
	p.press(`[data-choices^="ask-"] input[value="true"]`)
	p.until(isVerdict("within"))
	p.press(`[data-choices^="ask-"] input[value="false"]`)
	p.until(isVerdict("forbidden"))
	p.press(`[data-choices^="ask-"] input[value="true"]`)
	p.until(isVerdict("within"))
	untilKept(p, "choices", `"answers"`)
	p.run(chromedp.Reload())
	p.until(isVerdict("within"))
	p.press(`[data-do="change"]`)
	pick(p, "reds", "Chondrus crispus")
	p.until(isVerdict("within") + ` && document.querySelector('[data-choices^="ask-"] input[value="true"]').checked`)
}

// A check that is too old forbids on and permits nothing.
func TestAStaleRuleSet(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "greens", "Ulva lactuca")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("within"))
	p.eval(`later(24 * 170); null`, new(any)) // the check counts for 180 days, of which four were over
	p.until(`document.querySelector('.verdict-line')?.dataset.verdict === 'within'`)
	p.eval(`later(24 * 10); null`, new(any))
	p.until(isVerdict("unchecked"))
	p.until(`document.querySelector('.verdict')?.innerText.includes('a check counts for 180')`)
	verdictSays(p, "What they forbid holds; they permit nothing. Ask the Bay Warden (at the harbour office).")
	p.wet("stale")
	p.press(`[data-do="change"]`)
	pick(p, "browns", "Fucus vesiculosus")
	p.until(isVerdict("forbidden"))
}

// Without any rule: unchecked in words that nobody takes for permission, and whom to ask what.
func TestAShoreWithoutRules(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	pick(p, "greens", "Ulva lactuca")
	p.until(isVerdict("unchecked") + ` && document.querySelector('.verdict')`)
	assert.Contains(t, p.textOf(".verdict-line"), "Not checked: do not take")
	said := p.textOf(".verdict")
	assert.Contains(t, said, "No current rules known for this shore: do not take. Ask the authority first.")
	assert.Contains(t, said, "May Sea lettuce be taken on this shore")
	p.wet("without rules")
	// Rules of another coast are none of this one.
	onFile(p, `{form: 1, name: 'Far away', layer: 'national', authority: 'the Far Office', ask: 'by post', source: 'x', sourceDate: '2026-01-15',
		area: {polygons: [[[10, 50], [11, 50], [11, 51]]], place: 'far away'}, rules: {all: {of: {all: true}, take: 'allowed'}}}`, "2026-11-01")
	// That these were weighed is seen by the household's own, which come after them and are no law.
	onFile(p, `{form: 1, name: 'Ours', layer: 'household', authority: 'us', ask: 'us', source: 'x', sourceDate: '2026-01-15', area: {`+boxAround+`},
		rules: {leave: {of: {all: true}, take: 'forbidden'}}}`, "2026-11-01")
	p.until(`document.querySelector('.verdict [data-ours="forbidden"]')`)
	p.until(isVerdict("unchecked"))
	verdictSays(p, "No current rules known for this shore: do not take.")
}

// Where the core has failed nothing is claimed, and saving works.
func TestNoVerdictWithoutTheCore(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	untilKept(p, "choices", `"kinds"`)
	onFile(p, seaweedRules, "2026-12-20")
	p.allowed = true
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := paging.AddScriptToEvaluateOnNewDocument(`window.Worker = class { postMessage() {} terminate() {} set onerror(f) { setTimeout(() => f({message: 'no core'})); } };`).Do(ctx)
		return err
	}), chromedp.Reload())
	p.until(`document.querySelector('[data-bar="core"]')`)
	pick(p, "greens", "Ulva lactuca")
	p.until(isVerdict("none"))
	assert.Contains(t, p.textOf(".verdict-line"), "Not reckoned: no permission")
	p.until(`document.querySelector('[data-panel-verdict="none"]')`)
	p.wet("not reckoned")
	p.press(`input[name="fate"][value="taken"]`)
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	require.Len(t, findsOf(p), 1)
	p.follow("/shore/today", `document.querySelector('[data-find]')`)
	assert.NotContains(t, p.textOf("[data-find]"), "limit")
}
