package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here are of what must neither be passed off as permission nor hold up a find.

// A number that is none says so where it stands; once no rule asks for it, it holds up nothing.
func TestAWrongFactHoldsUpNoOtherFind(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	onFile(p, `{form: 1, name: 'Winkles', layer: 'national', authority: 'the Shore Office', ask: 'by letter', source: 'x', sourceDate: '2026-01-15', area: {`+boxAround+`},
		otherwise: 'others', rules: {winkles: {of: {taxa: ['Littorina littorea']}, sizes: [{axis: 'height', leastMm: 16}], gear: {only: ['hand']}}}}`, "2026-12-20")
	pick(p, "snails", "Littorina littorea")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(`document.querySelector('#sizeMm') && document.querySelector('[data-words="gear"]')`)
	// A word that is ticked and taken back is not said.
	p.press(`[data-words="gear"] input[value="hand"]`)
	p.until(`!document.querySelector('[data-fact="gear"]') && document.querySelector('[data-missing]')`)
	p.press(`[data-words="gear"] input[value="hand"]`)
	p.until(`document.querySelector('[data-fact="gear"]')`)
	p.write("#sizeMm", "1o")
	p.until(`document.querySelector('#sizeMm-wrong').textContent !== '' && document.querySelector('#sizeMm').getAttribute('aria-invalid') === 'true'`)
	p.press(`[data-do="save"]`)
	p.until(`document.activeElement.id === 'sizeMm'`)
	require.Empty(t, findsOf(p))
	p.wet("a size that is none")
	// The set goes off file: nobody asks for a size any more.
	p.eval(`(async () => { const {ready, records, write} = book; await ready('ruleset'); for (const {id, fields} of records('ruleset').value) if (fields.document.name === 'Winkles') await write('ruleset', id, {deleted: true}); })()`, new(any))
	p.run(chromedp.Reload())
	p.until(`document.querySelector('.verdict-line:not([data-verdict="none"])') && !document.querySelector('#sizeMm')`)
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	require.Len(t, findsOf(p), 1)
}

// An answer is to the question that was asked: a rule that is changed asks anew.
func TestAChangedRuleAsksAnew(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "reds", "Palmaria palmata")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(`document.querySelector('[data-choices^="ask-"]')`)
	p.press(`[data-choices^="ask-"] input[value="true"]`)
	p.until(isVerdict("within"))
	changed := strings.Replace(seaweedRules, "cut: {above: 'holdfast'}", "cut: {above: 'holdfast', leavePart: 0.5}", 1)
	require.NotEqual(t, seaweedRules, changed)
	p.eval(`(async () => { await book.ready('ruleset'); await book.write('ruleset', book.records('ruleset').value[0].id, {document: `+changed+`}); })()`, new(any))
	p.until(isVerdict("unchecked") + ` && document.querySelector('[data-choices^="ask-"]')?.innerText.includes('50 %')`)
	assert.False(t, strings.Contains(p.textOf(".verdict-line"), "Within"))
	p.press(`[data-choices^="ask-"] input[value="true"]`)
	p.until(isVerdict("within"))
}

// An outing that nobody ended is not one tide: putting back is offered for some hours only.
func TestPuttingBackIsOfOneTide(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "greens", "Ulva lactuca")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("within"))
	saveTaken(p, "Save the find")
	p.follow("/shore/find/"+findsOf(p)[0].ID, `document.querySelector('[data-put-back="may"]')`)
	p.eval(`later(5); null`, new(any))
	p.until(`document.querySelector('[data-put-back="may"]')`)
	p.eval(`later(2); null`, new(any))
	p.until(`document.querySelector('[data-put-back="late"]')`)
}

// Answers to what the rules ask hold on their day, though nobody ends the outing.
func TestAnswersHoldForADay(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "reds", "Palmaria palmata")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(`document.querySelector('[data-choices^="ask-"]')`)
	p.press(`[data-choices^="ask-"] input[value="true"]`)
	p.until(isVerdict("within"))
	p.eval(`later(24); null`, new(any))
	p.until(isVerdict("unchecked") + ` && !document.querySelector('[data-choices^="ask-"] input:checked')`)
}

// A rule set that cannot be read here is not passed over in silence: not by the verdict, and not
// by the day's tally.
func TestASetThatCannotBeRead(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	pick(p, "greens", "Ulva lactuca")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("within"))
	saveTaken(p, "Save the find")
	onFile(p, `{form: 2, name: 'Of a later form', area: {}, authority: 'x', source: 'x', rules: {}}`, "2026-12-20")
	pick(p, "greens", "Ulva lactuca")
	p.until(isVerdict("unchecked") + ` && document.querySelector('.verdict')?.innerText.includes('cannot be read here')`)
	p.follow("/shore/today", `document.querySelector('.tally [data-unread]') && document.querySelector('.tally [data-line]')`)
	assert.Contains(t, p.textOf(".tally"), "its limits are not known")
	p.wet("a set that cannot be read")
}
