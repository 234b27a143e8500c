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

	"wrackbook/internal/zone"
)

// The tests here ask the rules on file before a take and around it: the page that asks, the
// tally, the slate, Plan, what is to be known of a kind.

// Before anything is touched: one touch from the staff, the verdict, nothing saved; a button
// carries it over to the log.
func TestAskingBeforeTouching(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	p.follow("/shore", `document.querySelector('[data-do="may"]')`)
	p.press(`[data-do="may"]`)
	p.until(kindsHere)
	p.wet("asking: which kind")
	p.press(`.groups > [data-group="greens"]`)
	p.until(`document.querySelector('[data-list="greens"]')`)
	p.press(`[data-list="greens"] [data-taxon="Ulva lactuca"]`)
	p.until(`document.activeElement.id === 'chosen-kind'`)
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(`document.querySelector('[data-panel-verdict="within"]')`)
	for range 5 {
		p.press(`[data-do="more"]`)
	}
	p.until(`document.querySelector('[data-panel-verdict="over"]')?.innerText.includes('0 taken today, 6 with this; limit on file 5')`)
	p.wet("asking: over")
	assert.Empty(t, findsOf(p))
	p.press(`[data-do="log"]`)
	p.until(isVerdict("over") + ` && document.querySelector('#amount')?.value === '6' && location.pathname === '/shore/log'`)
	assert.Equal(t, "Ulva lactuca", p.textOf(".chosen-kind em"))
	assert.Empty(t, findsOf(p))
}

// The tally of the party: of each limit what each took, at the limit and over it.
func TestTheTallyOfTheParty(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	for _, one := range []struct{ who, more int }{{0, 4}, {1, 5}} {
		pick(p, "greens", "Ulva lactuca")
		p.press(`input[name="who"][value="` + []string{ids["Tam"], ids["Ada"]}[one.who] + `"]`)
		for range one.more {
			p.press(`[data-do="more"]`)
		}
		p.until(lineSays("limit on file 5"))
		saveTaken(p, []string{"Save the find", "Record what happened"}[one.who])
	}
	p.follow("/shore/today", `document.querySelector('.tally [data-line="atLimit"]') && document.querySelector('.tally [data-line="over"]')`)
	said := p.textOf(".tally")
	assert.Contains(t, said, "Tam: 5 taken today; limit on file 5")
	assert.Contains(t, said, "Ada: 6 taken today; limit on file 5")
	assert.Contains(t, said, "the party 11 of 10")
	p.wet("the tally")
	p.follow("/shore/slate/"+ids["outing"], `document.querySelector('.slate [data-limits="3"]')`)
	slate := p.textOf(".slate")
	assert.Contains(t, slate, "Seaweed of the bay. Ask the Bay Warden (at the harbour office). Checked on 2026-12-20 by Mara, 4 days before.")
	assert.Contains(t, slate, "5 a person a day")
	p.look("the slate with limits")
	p.inspect("the slate with limits")
}

// What a rule asks of a find is said in place, in the rule's own words, and holds for the outing.
func TestFactsThatRulesAsk(t *testing.T) {
	t.Parallel()
	p, ids := onShoreWithRules(t)
	onFile(p, `{form: 1, name: 'Winkles', layer: 'national', authority: 'the Shore Office', ask: 'by letter', source: 'x', sourceDate: '2026-01-15', area: {`+boxAround+`},
		otherwise: 'others', rules: {winkles: {of: {taxa: ['Littorina littorea']}, take: 'allowed', sizes: [{axis: 'height', leastMm: 16}], gear: {only: ['hand'], never: ['rake']}}}}`, "2026-12-20")
	pick(p, "snails", "Littorina littorea")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("unchecked") + ` && document.querySelector('#sizeMm') && document.querySelector('[data-words="gear"]')`)
	p.wet("facts that are asked for")
	assert.Contains(t, p.textOf(`[data-words="gear"]`), "hand\nrake\nsomething else")
	p.press(`[data-words="gear"] input[value="hand"]`)
	p.set("#axis", "height")
	p.write("#sizeMm", "15")
	p.until(isVerdict("forbidden"))
	var stays bool
	p.eval(`document.activeElement.id === 'sizeMm'`, &stays)
	assert.True(t, stays, "what is typed in loses the focus")
	p.write("#sizeMm", "16")
	p.until(isVerdict("unchecked") + ` && !document.querySelector('[data-fact="size"]') && !document.querySelector('[data-fact="gear"]')`) // the bay's own rules are silent
	p.press(`[data-do="save"]`)
	p.until(savedLine)
	one := findsOf(p)[0]
	assert.Equal(t, map[string]any{"mm": 16.0, "axis": "height"}, one.Fields["size"])
	assert.Equal(t, []any{"hand"}, one.Fields["gear"])
	pick(p, "snails", "Littorina littorea")
	p.until(`document.querySelector('[data-words="gear"] input[value="hand"]')?.checked && document.querySelector('#sizeMm')?.value === ''`)
}

// Plan says what is closed on the row of a window and on the page of its day; without rules it
// says once that nothing was checked.
func TestClosedDaysInPlan(t *testing.T) {
	t.Parallel()
	server, p := onTripMorning(t)
	p.until(`document.querySelector('.windows [data-unchecked="none"] a[href="/house/rules"]')`)
	p.until(`document.querySelector('[data-paper-unchecked="none"]')`) // nor does the printed list say nothing
	var count int
	p.eval(`document.querySelectorAll('[data-unchecked]').length`, &count)
	assert.Equal(t, 1, count)
	onFile(p, `{form: 1, name: 'The bay in winter', layer: 'regional', authority: 'the Bay Warden', ask: 'at the harbour office', source: 'x', sourceDate: '2026-01-15', area: {`+boxAround+`}, rules: {
		new_year: {of: {all: true}, season: {closed: [{from: '12-28', to: '01-03'}]}},
		hours: {of: {all: true}, hours: {from: '15:00', to: '20:00'}},
		crabs: {of: {groups: ['crabs']}, season: {closed: [{months: [12]}]}}}}`, "2026-12-20")
	p.until(`document.querySelector('[data-closed]') && !document.querySelector('[data-unchecked]')`)
	var rows []struct {
		Day, From, To, Closed string
		Some                  bool
	}
	p.eval(`[...document.querySelectorAll('li.window')].map((li) => ({Day: li.dataset.day, From: li.dataset.usableFrom, To: li.dataset.usableTo,
		Closed: [...li.querySelectorAll('[data-closed]')].map((e) => e.dataset.closed).join(' '), Some: Boolean(li.querySelector('[data-some]'))}))`, &rows)
	require.NotEmpty(t, rows)
	here, err := zone.Load("America/Los_Angeles")
	require.NoError(t, err)
	seen := map[string]int{}
	for _, row := range rows {
		from, err := time.Parse(time.RFC3339, row.From)
		require.NoError(t, err)
		to, err := time.Parse(time.RFC3339, row.To)
		require.NoError(t, err)
		day, err := time.ParseInLocation(time.DateOnly, row.Day, here)
		require.NoError(t, err)
		opens := day.Add(15 * time.Hour)
		want := ""
		switch {
		case row.Day >= "2026-12-28" && row.Day <= "2027-01-03", !to.After(opens):
			want = "all"
		case from.Before(opens):
			want = "part"
		}
		assert.Contains(t, row.Closed, want, row.Day)
		assert.Equal(t, want == "", row.Closed == "", row.Day)
		seen[want]++
		assert.Equal(t, row.Day < "2027", row.Some, row.Day) // crabs are closed in December
	}
	assert.Len(t, seen, 3, "each of the three must be among the windows, or nothing was tested")
	p.look("plan with closed days")
	p.inspect("plan with closed days")
	p.follow("/plan/day/2027-01-02", dayShown("2027-01-02"))
	p.until(`document.querySelector('.day-windows [data-closed="all"]')`)
	p.look("a closed day")
	p.inspect("a closed day")
	_ = server
}

// What hurts, is controlled or spreads says so where it is chosen, with what to do; a species that
// is not on the list has the flags of its genus.
func TestKindsThatHurtOrSpread(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/shore/log", kindsHere)
	note := func(of string) string { return `document.querySelector('[data-note="` + of + `"]')` }
	pick(p, "browns", "Sargassum muticum")
	p.until(note("invasive"))
	said := p.textOf(`[data-note="invasive"]`)
	assert.Contains(t, said, "It spreads where it was brought: north-east Atlantic, Mediterranean, north-east Pacific. At home in: north-west Pacific.")
	assert.Contains(t, said, "leave it, photograph it, report it. Bin only what clings to gear.")
	p.wet("a kind that spreads")
	p.press(`[data-do="change"]`)
	p.until(kindsHere)
	p.run(chromedp.Focus("#other", chromedp.ByQuery), chromedp.KeyEvent("Conus textile"))
	p.until(`document.querySelector('[data-do="typed"]')`)
	p.press(`[data-do="typed"]`)
	p.until(note("harm"))
	said = p.textOf(`[data-note="harm"]`)
	assert.Contains(t, said, "is venomous")
	assert.Contains(t, said, "It can kill: leave it, keep children away, call for help first.")
	assert.Contains(t, said, "On the shore: no bare hands")
	assert.Contains(t, said, "Keep open wounds out of warm sea and tank water.")
	p.wet("a kind that hurts")
	p.press(`[data-do="aid"]`)
	p.until(`location.pathname === '/shore/help'`)
	p.follow("/shore/log", `document.querySelector('[data-do="change"]')`)
	p.press(`[data-do="change"]`)
	p.until(kindsHere)
	p.run(chromedp.Focus("#other", chromedp.ByQuery), chromedp.KeyEvent("Hippocampus"))
	p.until(`document.querySelector('[data-list="hits"] [data-taxon^="Hippocampus"]')`)
	p.press(`[data-list="hits"] [data-taxon^="Hippocampus"]`)
	p.until(note("trade"))
	assert.Contains(t, p.textOf(`[data-note="trade"]`), "CITES, appendix II")
	p.wet("a controlled kind")
}

// With ten thousand finds on the phone and rules on file, opening what is counted holds up
// nothing: finds are saved at once meanwhile, and the verdict comes. Budgets are held by
// scripts/measure; here five times theirs may pass, on a machine that does other things.
func TestTenThousandFindsAndRules(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	fill(p, 10_000)
	onFile(p, strings.Replace(seaweedRules, "base: 'person', per: 'day'", "base: 'household', per: 'year'", 1), time.Now().AddDate(0, 0, -1).Format(time.DateOnly))
	p.goTo(server, "/shore/log", kindsHere)
	p.eval(`performance.mark('asked'); null`, new(any))
	var worst, verdict float64
	for i := range 5 {
		pick(p, "reds", "Palmaria palmata")
		p.press(`[data-do="save"]`)
		p.until(savedLine + ` && performance.getEntriesByName('find-saved').length`)
		var ms float64
		p.eval(`(() => { const [a] = performance.getEntriesByName('find-tap').slice(-1), [b] = performance.getEntriesByName('find-saved').slice(-1); performance.clearMarks('find-saved'); return b.startTime - a.startTime; })()`, &ms)
		worst = max(worst, ms)
		if i == 0 {
			pick(p, "reds", "Palmaria palmata")
			p.until(`(window.sinceAsked ??= document.querySelector('.verdict-line[data-verdict="over"]') && performance.now() - performance.getEntriesByName('asked')[0].startTime)`)
			p.eval(`sinceAsked`, &verdict)
			p.press(`[data-do="change"]`)
			p.until(kindsHere)
		}
	}
	t.Logf("tap to saved, worst of five: %.0f ms; the first verdict %.0f ms after the page was open", worst, verdict)
	assert.Greater(t, worst, 0.0)
	assert.Less(t, worst, 500.0)
}

// A core that starts anew is given again what is counted.
func TestTheCoreStartsAnew(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := paging.AddScriptToEvaluateOnNewDocument(`{ const Real = window.Worker; window.cores = [];
			window.Worker = class extends Real { constructor(...of) { super(...of); window.cores.push(this); } }; }`).Do(ctx)
		return err
	}))
	p.goTo(server, "/shore/log", kindsHere)
	ids := party(p)
	onFile(p, onOuting, time.Now().AddDate(0, 0, -1).Format(time.DateOnly))
	pick(p, "greens", "Ulva lactuca")
	p.press(`input[name="who"][value="` + ids["Tam"] + `"]`)
	p.until(isVerdict("within"))
	saveTaken(p, "Save the find")
	pick(p, "greens", "Ulva lactuca")
	p.until(isVerdict("within") + ` && ` + lineSays("1 taken + 1; limit on file 5"))
	p.eval(`cores[0].onerror(new ErrorEvent('error', {message: 'the battery dipped'})); null`, new(any))
	p.until(`cores.length === 2`)
	p.until(isVerdict("within") + ` && ` + lineSays("1 taken + 1; limit on file 5"))
	p.press(`[data-do="more"]`)
	p.until(isVerdict("within") + ` && ` + lineSays("1 taken + 2; limit on file 5"))
}
