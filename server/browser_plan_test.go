package main

import (
	"context"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

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

const (
	dayShown  = `document.querySelector('.day[data-on="%s"][data-kept="false"]')`
	yearShown = `document.querySelector('.year[data-year="%s"][data-kept="false"][data-moons="true"]')`
)

// askCore puts a request to the core in this process.
func askCore(t *testing.T, name, request string, into any) {
	t.Helper()
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	out, err := c.Call(name, []byte(request), time.Now())
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(out, into))
}

// TestDayAgainstTheOffice: the waters on the page of 24 December 2026 are those that NOAA
// prints for San Francisco that local day (testdata/tides/noaa/9414290, UTC less 8 hours):
// 00:19 5.0 ft, 04:27 3.1 ft, 10:37 7.2 ft, 17:42 -1.8 ft. Printed to the minute and the
// tenth of a foot.
func TestDayAgainstTheOffice(t *testing.T) {
	server, p := plan(t)
	p.goTo(server, "/plan/day/2026-12-24", fmt.Sprintf(dayShown, "2026-12-24"))
	var shown []struct {
		Time   time.Time
		Height float64 `json:",string"`
		Words  string
	}
	p.eval(`[...document.querySelectorAll('[data-table="waters"] tr[data-time]')].map((r) => ({Time: r.dataset.time, Height: r.dataset.height, Words: r.innerText}))`, &shown)
	printed := []struct {
		clock string
		feet  float64
	}{{"00:19", 5.0}, {"04:27", 3.1}, {"10:37", 7.2}, {"17:42", -1.8}}
	require.Len(t, shown, len(printed))
	pst := time.FixedZone("PST", -8*3600)
	for i, w := range printed {
		at, err := time.ParseInLocation("2006-01-02 15:04", "2026-12-24 "+w.clock, pst)
		require.NoError(t, err)
		assert.InDelta(t, at.Unix(), shown[i].Time.Unix(), 36, w.clock)
		assert.InDelta(t, w.feet*0.3048, shown[i].Height, 0.017, w.clock)
		assert.Contains(t, shown[i].Words, shown[i].Time.In(pst).Round(time.Minute).Format("15:04")[:4], "the clock on the page is the shore's")
	}
	assert.Contains(t, p.text(), "astronomical")
}

// TestReadingLine: the keys move the reading line over the day, what it says is the core's
// height to a centimetre, and a finger moves it as well.
func TestReadingLine(t *testing.T) {
	server, p := plan(t)
	p.goTo(server, "/plan/day/2026-12-24", fmt.Sprintf(dayShown, "2026-12-24"))
	var answer struct {
		Heights []struct{ Height float64 }
	}
	askCore(t, "heights", `{"station":"noaa/9414290","zone":"America/Los_Angeles","from":"2026-12-24","to":"2026-12-25","every":"5m"}`, &answer)
	require.Len(t, answer.Heights, 288)
	spoken := regexp.MustCompile(`^(\d\d):(\d\d), (?:([-−]?\d+\.\d+))`)
	read := func() (minute int, height float64) {
		var words string
		p.eval(`document.querySelector('[role="slider"]').getAttribute('aria-valuetext')`, &words)
		found := spoken.FindStringSubmatch(words)
		require.Len(t, found, 4, words)
		_, err := fmt.Sscanf(found[1]+" "+found[2]+" "+strings.ReplaceAll(found[3], "−", "-"), "%d %d %g", new(int), &minute, &height)
		require.NoError(t, err)
		var hour int
		_, err = fmt.Sscanf(found[1], "%d", &hour)
		require.NoError(t, err)
		return hour*60 + minute, height
	}
	p.run(chromedp.Focus(`[role="slider"]`, chromedp.ByQuery), chromedp.KeyEvent(kb.Home))
	minute, _ := read()
	require.Equal(t, 0, minute)
	for i := 1; i <= 24; i++ {
		key := kb.PageDown
		if i%2 == 1 {
			key = kb.ArrowRight
		} else {
			key = kb.PageUp
		}
		p.run(chromedp.KeyEvent(key))
		minute, height := read()
		require.InDelta(t, answer.Heights[minute/5].Height, height, 0.0101, "at minute %d", minute)
	}
	minute, _ = read()
	assert.Equal(t, 12*5+12*60, minute)
	p.run(chromedp.KeyEvent(kb.End))
	minute, _ = read()
	assert.Equal(t, 23*60+59, minute)

	// A touch in the middle of the curve reads about noon.
	var nothing any
	p.eval(`(() => { const s = document.querySelector('[role="slider"]'); const b = s.getBoundingClientRect();
		for (const type of ['pointerdown', 'pointerup']) s.dispatchEvent(new PointerEvent(type, {bubbles: true, pointerId: 1, pointerType: 'touch', buttons: 1, clientX: b.left + b.width / 2, clientY: b.top + 40}));
		return null; })()`, &nothing)
	minute, _ = read()
	assert.InDelta(t, 12*60, minute, 60)
	// Every reading is said as lit or dark, bare or covered.
	var words string
	p.eval(`document.querySelector('[role="slider"]').getAttribute('aria-valuetext')`, &words)
	assert.Regexp(t, `lit|twilight|dark`, words)
	assert.Regexp(t, `bare|covered|under`, words)
}

// minutesByDay sums the usable minutes of a year's windows by the day of the low.
func minutesByDay(t *testing.T, year int) map[string]int {
	t.Helper()
	var answer struct {
		Windows []struct {
			Day           string
			UsableMinutes int
		}
	}
	askCore(t, "windows", fmt.Sprintf(`{"shore":{"station":"noaa/9414290","below":0.3,"wayOff":0.9,"cutOff":true,"margin":20,"walkOut":15,"raise":0.2},"from":"%d-01-01","to":"%d-01-01","light":"sun","least":40}`, year, year+1), &answer)
	sums := map[string]int{}
	for _, w := range answer.Windows {
		sums[w.Day] += w.UsableMinutes
	}
	require.Greater(t, len(sums), 50)
	return sums
}

// TestYearWithoutSignal: the year's cells are the sums of the windows by local day; the
// server dies; another year, a day of it and the list still come out right.
func TestYearWithoutSignal(t *testing.T) {
	server, p := plan(t)
	readyForOffline(p)
	server.kill(t)
	for _, year := range []int{2027, 2044, 1969} {
		p.goTo(server, fmt.Sprintf("/plan/year/%d", year), fmt.Sprintf(yearShown, fmt.Sprint(year)))
		var cells map[string]string
		p.eval(`Object.fromEntries([...document.querySelectorAll('.year-slide .year-grid [data-day]')].map((c) => [c.dataset.day, c.dataset.minutes]))`, &cells)
		require.GreaterOrEqual(t, len(cells), 365)
		want := minutesByDay(t, year)
		for day, minutes := range cells {
			assert.Equal(t, fmt.Sprint(want[day]), minutes, day)
		}
	}
	// The months as figures: a table a month, with as many rows as days with a window.
	var rows int
	p.eval(`[...document.querySelectorAll('.months details')].forEach((d) => d.open = true); document.querySelectorAll('.months tbody tr').length`, &rows)
	assert.GreaterOrEqual(t, rows, len(minutesByDay(t, 1969)))
	p.goTo(server, "/plan/day/1969-07-20", fmt.Sprintf(dayShown, "1969-07-20"))
}

// TestPrintedYear: the year prints on one page, a name and the datum on it.
func TestPrintedYear(t *testing.T) {
	server, p := plan(t)
	p.goTo(server, "/plan/year/2027", fmt.Sprintf(yearShown, "2027"))
	var sheet string
	p.eval(`document.querySelector('.sheet').textContent`, &sheet)
	for _, words := range []string{"San Francisco", "MLLW", "2027", "stronomical", "tart back"} {
		assert.Contains(t, sheet, words)
	}
	var pdf []byte
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		var err error
		pdf, _, err = cdp.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	}))
	assert.Len(t, regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(pdf, -1), 1, "pages")
}

// TestFilters: weekends, mornings, least minutes and the order by date do what they say.
func TestFilters(t *testing.T) {
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
	p.run(chromedp.Reload())
	p.until(answered + `?.dataset.question.includes('"least":120')`)
}

// TestShareMornings: two mornings are chosen and leave the phone as a text that friends can
// answer; without a sharing of the phone's own the text is copied.
func TestShareMornings(t *testing.T) {
	_, p := plan(t)
	var nothing any
	p.eval(`navigator.share = async (data) => { window.sharedText = data.text; }; null`, &nothing)
	// The bar of what is chosen stands over the foot of the list, so rows are pressed by
	// script where a person would scroll.
	pick := func(nth int) {
		p.eval(fmt.Sprintf(`document.querySelectorAll('.windows .pick input')[%d].click(); null`, nth-1), &nothing)
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
}

// TestByKeyboardAlone: from the list to a day, to the year, and to a day of it.
func TestByKeyboardAlone(t *testing.T) {
	_, p := plan(t)
	tabTo := func(what string) {
		t.Helper()
		for range 60 {
			var there bool
			p.eval(`document.activeElement.matches(`+quoted(what)+`)`, &there)
			if there {
				return
			}
			p.run(chromedp.KeyEvent(kb.Tab))
		}
		require.Fail(t, "the keyboard does not reach "+what)
	}
	var nothing any
	p.eval(`document.activeElement.blur(); null`, &nothing)
	tabTo(`.windows h3 a`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('.day[data-kept="false"]')`)
	tabTo(`[role="slider"]`)
	p.run(chromedp.KeyEvent(kb.ArrowRight))
	p.eval(`document.querySelector('.views a').focus(); null`, &nothing)
	tabTo(`.views a[href^="/plan/year/"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('.year[data-kept="false"]')`)
	tabTo(`.year-slide`)
	p.run(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`location.pathname.startsWith('/plan/day/') && document.querySelector('.day[data-kept="false"]')`)
}

// TestTargets: everything that can be pressed on Plan's pages is at least 48 px high and
// wide, but links within a sentence.
func TestTargets(t *testing.T) {
	server, p := plan(t)
	for _, at := range []struct{ path, ready string }{
		{"/plan", answered},
		{"/plan/day/2026-12-24", fmt.Sprintf(dayShown, "2026-12-24")},
		{"/plan/year/2027", fmt.Sprintf(yearShown, "2027")},
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
	}
}

// TestShoresOfEveryKind: the day and the year of shores with a small range, one tide a day,
// double waters, the polar night, and on the 180th meridian, as the core has them.
func TestShoresOfEveryKind(t *testing.T) {
	_, p := plan(t)
	for _, shore := range []struct {
		name, station, zone, day string
		below                    float64
	}{
		{"tropical, small range", "noaa/1612340", "Pacific/Honolulu", "2026-06-15", 0.2},
		{"one tide a day", "noaa/8729840", "America/Chicago", "2026-06-13", 0.1},
		{"double waters", "ticon/southampton-sou-gbr-da_idh", "Europe/London", "2026-06-16", 1.0},
		{"polar night", "kartverket/HFT", "Europe/Oslo", "2026-12-20", 1.2},
		{"polar day", "kartverket/HFT", "Europe/Oslo", "2026-06-20", 1.2},
		{"by the 180th meridian", "noaa/1910000", "Pacific/Fiji", "2026-06-20", 0.6},
		{"clocks go back", "noaa/8518750", "America/New_York", "2026-11-01", 0.3},
	} {
		t.Run(shore.name, func(t *testing.T) {
			p.follow("/plan/shore/new", `document.querySelector('#hand-id')`)
			var nothing any
			p.eval(`document.querySelector('details.hand').open = true; null`, &nothing)
			p.write("#hand-id", shore.station)
			p.click(`[data-do="id"]`)
			p.until(`document.querySelector('[data-chosen="` + shore.station + `"]')`)
			p.until(focusSettled)
			p.write("#name", shore.name)
			p.write("#below", fmt.Sprint(shore.below))
			p.click(`button[type="submit"]`)
			p.until(`document.querySelector('.shore-head h2')?.textContent === ` + quoted(shore.name))
			p.follow("/plan/day/"+shore.day, fmt.Sprintf(dayShown, shore.day))
			day, err := time.Parse(time.DateOnly, shore.day)
			require.NoError(t, err)
			var want struct {
				Waters []struct{ Height float64 }
			}
			askCore(t, "tides", fmt.Sprintf(`{"station":%q,"zone":%q,"from":%q,"to":%q}`, shore.station, shore.zone, shore.day, day.AddDate(0, 0, 1).Format(time.DateOnly)), &want)
			var shown []float64
			p.eval(`[...document.querySelectorAll('[data-table="waters"] tr[data-height]')].map((r) => Number(r.dataset.height))`, &shown)
			require.Len(t, shown, len(want.Waters))
			for i, w := range want.Waters {
				assert.InDelta(t, w.Height, shown[i], 0.0006)
			}
			var path string
			p.eval(`document.querySelector('.day-chart .sea').getAttribute('d')`, &path)
			assert.NotContains(t, path, "NaN")
			assert.Greater(t, len(path), 200)
			p.follow("/plan/year/2027", fmt.Sprintf(yearShown, "2027"))
			var bad bool
			p.eval(`[...document.querySelectorAll('.year-grid *')].some((e) => [...e.attributes].some((a) => a.value.includes('NaN')))`, &bad)
			assert.False(t, bad)
		})
	}
}
