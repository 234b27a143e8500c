package main

import (
	"context"
	"encoding/json"
	"fmt"
	"regexp"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/core"
	"wrackbook/internal/station/embedded"
)

// plan opens a phone with a shore chosen.
func plan(t *testing.T) (*process, *tab) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url)
	chooseShore(p)
	untilKept(p, "changes", "San Francisco")
	return server, p
}

// goTo follows the app to one of its pages by address.
func (p *tab) goTo(server *process, path, ready string) {
	p.t.Helper()
	p.run(chromedp.Navigate(server.url + path))
	p.until(ready)
}

// follow goes to one of the app's pages without leaving the app.
func (p *tab) follow(path, ready string) {
	p.t.Helper()
	var nothing any
	p.eval(`history.pushState(null, '', `+quoted(path)+`); dispatchEvent(new PopStateEvent('popstate')); null`, &nothing)
	p.until(ready)
}

// askCore puts a request to the core in this process.
func askCore(t *testing.T, name, request string, into any) {
	t.Helper()
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	out, err := c.Call(name, []byte(request), time.Now())
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(out, into))
}

// TestFilters: weekends, mornings, least minutes and the order by date do what they say.
func TestFilters(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	list := func() (days []string, minutes []int) {
		var rows []struct{ Day, From, To string }
		p.eval(`[...document.querySelectorAll('.windows li[data-day]')].map((w) => ({Day: w.dataset.day, From: w.dataset.usableFrom, To: w.dataset.usableTo}))`, &rows)
		for _, r := range rows {
			from, err := time.Parse(time.RFC3339, r.From)
			require.NoError(t, err)
			to, err := time.Parse(time.RFC3339, r.To)
			require.NoError(t, err)
			days, minutes = append(days, r.Day), append(minutes, int(to.Sub(from).Minutes()))
		}
		return days, minutes
	}
	all, _ := list()
	require.NotEmpty(t, all)
	var nothing any
	p.eval(`document.querySelector('details.ask').open = true; null`, &nothing)
	p.set(`[name="from"]`, "2027-01-01")
	p.set(`[name="days"]`, "92")
	p.until(answered + `?.dataset.question.includes('"from":"2027-01-01"')`)
	p.set(`[name="least"]`, "120")
	p.until(answered + `?.dataset.question.includes('"least":120')`)
	_, minutes := list()
	require.NotEmpty(t, minutes)
	for _, m := range minutes {
		assert.GreaterOrEqual(t, m, 120)
	}
	p.set(`[name="order"]`, "date")
	p.until(`(() => { const d = [...document.querySelectorAll('.windows li[data-day]')].map((w) => w.dataset.day); return d.length && d.join() === [...d].sort().join(); })()`)
	p.click(`[name="weekends"]`)
	p.until(answered + `?.dataset.question.includes('"sat"')`)
	days, _ := list()
	for _, d := range days {
		at, err := time.Parse(time.DateOnly, d)
		require.NoError(t, err)
		assert.Contains(t, []time.Weekday{time.Saturday, time.Sunday}, at.Weekday(), d)
	}
	// What was asked for is kept between visits.
	untilKept(p, "choices", `"weekends":true`)
	p.run(chromedp.Reload())
	p.until(answered + `?.dataset.question.includes('"least":120')`)
}

// TestShareMornings: two mornings are chosen and leave the phone as a text that friends can
// answer; without a sharing of the phone's own the text is copied.
func TestShareMornings(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	var nothing any
	p.eval(`navigator.share = async (data) => { window.sharedText = data.text; }; null`, &nothing)
	pick := func(nth int) {
		box := p.box(fmt.Sprintf(`.windows > ol > li:nth-child(%d) .pick`, nth))
		p.run(chromedp.MouseClickXY(box.X+box.Width/2, box.Y+box.Height/2))
	}
	pick(1)
	p.until(`document.querySelectorAll('.windows .pick input:checked').length === 1`)
	pick(2)
	p.until(`document.querySelectorAll('.windows .pick input:checked').length === 2`)
	p.click(`[data-do="share"]`)
	p.until(`window.sharedText`)
	var text string
	var first shownWindow
	p.eval(`window.sharedText`, &text)
	p.eval(`(() => { const w = document.querySelector('.windows li[data-day]'); return {Day: w.dataset.day, UsableFrom: w.dataset.usableFrom, UsableTo: w.dataset.usableTo, StartBack: w.dataset.startBack, OffBy: w.dataset.offBy}; })()`, &first)
	pacific := func(instant string) string {
		at, err := time.Parse(time.RFC3339, instant)
		require.NoError(t, err)
		// November to February is standard time there: UTC less 8 hours.
		return at.Add(-8 * time.Hour).Format("15:04")
	}
	for _, words := range []string{pacific(first.StartBack), pacific(first.OffBy), "America/Los_Angeles", "from sun and moon only", "San Francisco"} {
		assert.Contains(t, text, words)
	}
	assert.Regexp(t, `\?`, text, "it asks")

	p.eval(`delete navigator.share; Object.defineProperty(navigator, 'share', {value: undefined, configurable: true});
		Object.defineProperty(navigator, 'clipboard', {value: {writeText: async (t) => { window.copiedText = t; }}, configurable: true}); null`, &nothing)
	p.click(`[data-do="share"]`)
	p.until(`window.copiedText === window.sharedText`)

	// A fourth morning is refused in words, and the choice is kept between visits.
	pick(3)
	p.until(`document.querySelectorAll('.windows .pick input:checked').length === 3`)
	pick(4)
	p.until(`document.querySelector('.taken-off')`)
	var third string
	p.eval(`document.querySelectorAll('.windows li[data-day]')[2].dataset.day`, &third)
	untilKept(p, "choices", `"day":"`+third+`"`)
	p.run(chromedp.Reload())
	p.until(answered)
	p.until(`document.querySelectorAll('.windows .pick input:checked').length === 3`)

	// Where nothing can be copied, the words stand there to be copied by hand; who thinks
	// better of it while sharing is asked nothing more.
	p.eval(`Object.defineProperty(navigator, 'share', {value: undefined, configurable: true});
		Object.defineProperty(navigator, 'clipboard', {value: {writeText: async () => { throw new Error('refused'); }}, configurable: true}); null`, &nothing)
	p.click(`[data-do="share"]`)
	p.until(`document.querySelector('.chosen-bar textarea')?.value.includes('San Francisco')`)
	p.eval(`navigator.clipboard.writeText = async (t) => { window.copiedText = t; };
		Object.defineProperty(navigator, 'share', {value: async () => { throw new DOMException('', 'AbortError'); }, configurable: true}); delete window.copiedText; null`, &nothing)
	p.click(`[data-do="share"]`)
	p.until(`!document.querySelector('.chosen-bar textarea')`)
	var copied bool
	p.eval(`'copiedText' in window`, &copied)
	assert.False(t, copied)
}

// TestStaleMornings: a chosen morning that has passed, or whose shore has changed, is taken
// off with a word.
func TestStaleMornings(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	var nothing any
	p.click(`.windows > ol > li .pick`)
	p.until(`document.querySelector('[data-chosen-days]')`)
	untilKept(p, "choices", `"offBy"`)
	// Another one beside it, of yesterday.
	p.eval(`new Promise((resolve, reject) => {
		const request = indexedDB.open('wrackbook');
		request.onerror = () => reject(request.error);
		request.onsuccess = () => {
			const tx = request.result.transaction('choices', 'readwrite');
			const store = tx.objectStore('choices');
			store.get('mornings').onsuccess = (event) => {
				const [one] = event.target.result;
				const past = new Date(Date.now() - 86_400_000).toISOString();
				store.put([one, {...one, lowTime: past, usableFrom: past, usableTo: past}], 'mornings');
			};
			tx.oncomplete = () => { request.result.close(); resolve(null); };
		};
	})`, &nothing)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('.taken-off')?.textContent.includes('has passed')`)
	p.until(`document.querySelector('[data-chosen-days]')?.textContent.startsWith('1 ')`)

	shores := keptShores(p)
	require.Len(t, shores, 1)
	p.goTo(server, "/plan/shore/"+shores[0]["id"].(string), `document.querySelector('#below')?.value`)
	p.write("#below", "0.35")
	p.run(chromedp.Focus(`button[type="submit"]`, chromedp.ByQuery), chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('.taken-off')?.textContent.includes('has changed')`)
	p.until(`!document.querySelector('[data-chosen-days]')`)
}

// TestMornings: only windows whose low water falls before noon on the shore's clock; where
// there is none, that is said, and the next one is a tap away. At San Francisco the low
// waters of December's days fall after noon (NOAA's table).
func TestMornings(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	var nothing any
	p.eval(`document.querySelector('details.ask').open = true; null`, &nothing)
	p.set(`[name="from"]`, "2026-12-01")
	p.set(`[name="days"]`, "14")
	p.until(answered + `?.dataset.question.includes('"from":"2026-12-01","to":"2026-12-15"')`)
	p.box(`[name="mornings"]`)
	p.click(`[name="mornings"]`)
	p.until(`document.querySelector('.windows .none')?.textContent.includes('after noon')`)
	p.until(`document.querySelectorAll('.windows li.window').length === 1`)
	var next string
	p.eval(`document.querySelector('.windows li.window').dataset.day`, &next)
	require.Greater(t, next, "2026-12-14")

	var answer struct {
		Windows []struct {
			Day string
			Low struct{ Time time.Time }
		}
	}
	askCore(t, "windows", `{"shore":`+sanFrancisco+`,"from":"2026-12-15","to":"2027-03-01","light":"sun","least":40}`, &answer)
	pst := time.FixedZone("PST", -8*3600) // until 14 March
	first := ""
	for _, w := range answer.Windows {
		if w.Low.Time.In(pst).Hour() < 12 && (first == "" || w.Day < first) {
			first = w.Day
		}
	}
	assert.Equal(t, first, next)

	p.box(`[data-do="next"]`)
	p.click(`[data-do="next"]`)
	p.until(answered + `?.dataset.question.includes('"from":"` + next + `"')`)
	p.until(`!document.querySelector('.windows .none')`)
	var lows []string
	p.eval(`[...document.querySelectorAll('.windows li.window p')].map((e) => e.textContent.match(/^low .* at (\d\d:\d\d)/)?.[1]).filter(Boolean)`, &lows)
	require.NotEmpty(t, lows)
	for _, low := range lows {
		assert.Less(t, low, "12:00")
	}
	// What was asked for is kept between visits.
	untilKept(p, "choices", `"mornings":true`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[name="mornings"]')?.checked`)
}

// TestPrintedList: a fortnight prints on one page, with what it stands on.
func TestPrintedList(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	p.set(`[name="days"]`, "14")
	p.until(`document.querySelector('.sheet-list footer')?.textContent.includes('NOAA')`)
	var sheet string
	var rows, windows int
	p.eval(`document.querySelector('.sheet-list').textContent`, &sheet)
	for _, words := range []string{"San Francisco", "MLLW", "bare below 0.3 m", "way back cut at 0.9 m", "Astronomical predictions only", "Start back", "America/Los_Angeles"} {
		assert.Contains(t, sheet, words)
	}
	p.eval(`document.querySelectorAll('.sheet-list tbody tr').length`, &rows)
	p.eval(`document.querySelectorAll('.windows > ol > li').length`, &windows)
	assert.Equal(t, windows, rows)
	assert.Equal(t, 1, p.pages())
}

// pages is how many pages of paper the page takes.
func (p *tab) pages() int {
	p.t.Helper()
	var pdf []byte
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		var err error
		pdf, _, err = cdp.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	}))
	return len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(pdf, -1))
}

// TestByKeyboardAlone: from the list to a day, to the year, and to a day of it, by the
// keys that a keyboard has.
func TestByKeyboardAlone(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	press := func(key string, modifiers ...input.Modifier) {
		p.run(chromedp.KeyEvent(key, chromedp.KeyModifiers(modifiers...)))
	}
	tabTo := func(what string, modifiers ...input.Modifier) {
		t.Helper()
		for range 60 {
			var there bool
			p.eval(`document.activeElement.matches(`+quoted(what)+`)`, &there)
			if there {
				return
			}
			press(kb.Tab, modifiers...)
		}
		require.Fail(t, "the keyboard does not reach "+what)
	}
	tabTo(`.windows h3 a`)
	press(kb.Enter)
	p.until(`document.querySelector('.day[data-kept="false"]')`)
	tabTo(`.pick input`)
	press(" ")
	p.until(`document.querySelector('[data-chosen-days]')`)
	tabTo(`[role="slider"]`)
	before := p.reading().minute
	press(kb.ArrowRight)
	assert.Equal(t, before+5, p.reading().minute)
	tabTo(`.views a[href^="/plan/year/"]`, input.ModifierShift)
	press(kb.Enter)
	p.until(`document.querySelector('.year[data-kept="false"]')`)
	tabTo(`.year-slide`)
	press(kb.ArrowRight)
	press(kb.Enter)
	p.until(`location.pathname.startsWith('/plan/day/') && document.querySelector('.day[data-kept="false"]')`)
	tabTo(`.views a[href="/plan"]`)
	press(kb.Enter)
	p.until(answered)
	tabTo(`[data-do="share"]`)
}

// TestTargets: everything that can be pressed on Plan's pages is at least 48 px high and
// wide, but links within a sentence.
func TestTargets(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	for _, at := range []struct{ path, ready string }{
		{"/plan", answered},
		{"/plan/day/2026-12-24", dayShown("2026-12-24")},
		{"/plan/year/2027", yearShown("2027")},
		{"/plan/shores", `document.querySelector('.my-shores')`},
		{"/plan/shore/new", `document.querySelector('#station')`},
		{"/plan/numbers", `document.querySelector('main').innerText.includes('MLLW')`},
		{"/house", `document.querySelector('[data-fact="offline"]')`},
	} {
		p.goTo(server, at.path, at.ready)
		var small []string
		p.eval(`[...document.querySelectorAll('details')].forEach((d) => d.open = true);
			[...document.querySelectorAll('a, button, input, select, textarea, summary, [role="slider"]')]
			.filter((e) => e.checkVisibility() && !e.closest('p, .sheet') && !e.matches('.picture, .skip'))
			.map((e) => e.matches('input[type="checkbox"], input[type="radio"]') ? e.closest('label') ?? e : e)
			.filter((e) => { const b = e.getBoundingClientRect(); return b.width < 47.5 || b.height < 47.5; })
			.map((e) => e.outerHTML.slice(0, 120))`, &small)
		assert.Empty(t, small, at.path)

		// Nothing is wider than the screen, down to the width that WCAG 2.2 asks for (1.4.10).
		for _, width := range []int64{390, 320} {
			p.run(emulation.SetDeviceMetricsOverride(width, 844, 2, true))
			var wide float64
			p.eval(`document.documentElement.scrollWidth`, &wide)
			assert.LessOrEqual(t, wide, float64(width), "%s at %d", at.path, width)
		}
		p.run(emulation.SetDeviceMetricsOverride(390, 844, 2, true))
	}
}

// TestRowsFit: two rows and a half of the list fit a phone's screen.
func TestRowsFit(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	var free float64
	var rows []float64
	p.eval(`innerHeight - document.querySelector('.places').offsetHeight`, &free)
	p.eval(`[...document.querySelectorAll('.windows > ol > li')].map((e) => e.offsetHeight + 12)`, &rows)
	require.NotEmpty(t, rows)
	for _, height := range rows {
		assert.LessOrEqual(t, height, free/2.5)
	}
}
