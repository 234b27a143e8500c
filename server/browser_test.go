package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/core"
	"wrackbook/internal/station/embedded"
	"wrackbook/internal/zone"
)

const (
	answered = `document.querySelector('.windows[data-kept="false"][data-question]')`
	// focusSettled: the form has taken the focus after a station was chosen. What is typed
	// before goes where the focus was.
	focusSettled = `document.activeElement.id === 'chosen'`
	// stationsHere: the list of stations is on the phone too.
	stationsHere = `document.querySelector('[data-fact="list"][data-ready="true"]')`
	offline      = `navigator.serviceWorker.controller && document.querySelector('[data-fact="offline"][data-ready="true"]')`
)

// chooseShore goes through the form as a person does.
func chooseShore(p *tab) {
	p.t.Helper()
	chooseStation(p)
	fillShore(p)
}

func chooseStation(p *tab) {
	p.t.Helper()
	p.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	p.write("#station", "san francisco")
	p.click(`[data-station="noaa/9414290"]`)
	p.until(`document.querySelector('[data-chosen="noaa/9414290"]')`)
	p.until(focusSettled)
}

func fillShore(p *tab) {
	p.t.Helper()
	p.write("#below", "0,3") // with a comma, as half of Europe writes it
	p.write("#wayOff", "0.9")
	p.click(`button[type="submit"]`)
	p.until(answered)
}

// readyForOffline waits until House says that the app works without signal.
func readyForOffline(p *tab) {
	p.t.Helper()
	p.click(`nav a[href="/house"]`)
	p.until(offline)
	p.until(stationsHere)
	p.click(`nav a[href="/plan"]`)
	p.until(answered)
}

// shownWindow is a window as the page shows it.
type shownWindow struct {
	Day, UsableFrom, UsableTo, StartBack, OffBy string
	Usable                                      string // the words
}

// shownWindows reads the list and the question that it answers.
func shownWindows(p *tab) (question map[string]any, list []shownWindow) {
	p.t.Helper()
	var shown struct {
		Question string
		Windows  []shownWindow
	}
	p.eval(`(() => {
		const section = document.querySelector('.windows');
		const one = (li) => ({Day: li.dataset.day, UsableFrom: li.dataset.usableFrom, UsableTo: li.dataset.usableTo,
			StartBack: li.dataset.startBack, OffBy: li.dataset.offBy, Usable: li.querySelector('.usable').textContent});
		return {Question: section.dataset.question, Windows: [...section.querySelectorAll('ol:last-child > li.window')].map(one)};
	})()`, &shown)
	require.NoError(p.t, json.Unmarshal([]byte(shown.Question), &question))
	return question, shown.Windows
}

// sameAsNative asks the core that is compiled into this test what the page was asked, and
// compares every window and its words on the shore's clock.
func sameAsNative(t *testing.T, question map[string]any, shown []shownWindow) {
	t.Helper()
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	request, err := json.Marshal(question)
	require.NoError(t, err)
	answer, err := c.Call("windows", request, time.Now())
	require.NoError(t, err)
	var native struct {
		Zone    string
		Windows []struct{ Day, UsableFrom, UsableTo, StartBack, OffBy string }
	}
	require.NoError(t, json.Unmarshal(answer, &native))
	require.NotEmpty(t, native.Windows, "the span must have windows, or nothing is compared")
	require.Len(t, shown, len(native.Windows))
	location, err := zone.Load(native.Zone)
	require.NoError(t, err)
	clock := func(instant string) string {
		at, err := time.Parse(time.RFC3339, instant)
		require.NoError(t, err)
		return at.In(location).Format("15:04")
	}
	for i, w := range native.Windows {
		want := shownWindow{w.Day, w.UsableFrom, w.UsableTo, w.StartBack, w.OffBy, clock(w.UsableFrom) + " – " + clock(w.UsableTo)}
		assert.Equal(t, want, shown[i], "window %d", i)
	}
}

// One visit with signal, then none for ever: any date, still right.
func TestWithoutSignalAfterOneVisit(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	page := startBrowser(t).open(t, server.url)
	chooseShore(page)

	question, list := shownWindows(page)
	assert.Equal(t, "noaa/9414290", question["shore"].(map[string]any)["station"])
	assert.Equal(t, 0.3, question["shore"].(map[string]any)["below"])
	assert.Equal(t, 0.9, question["shore"].(map[string]any)["wayOff"])
	sameAsNative(t, question, list)
	readyForOffline(page)

	server.kill(t)
	page.run(chromedp.Reload())
	page.until(answered)
	again, list := shownWindows(page)
	assert.Equal(t, question, again)
	sameAsNative(t, again, list)
	page.until(`document.querySelector('[data-now]')`)

	for _, from := range []string{"2031-03-01", "1907-06-15", "2098-12-20"} {
		page.set(`input[name="from"]`, from)
		page.until(answered + `?.dataset.question.includes('"from":"` + from + `"')`)
		question, list = shownWindows(page)
		assert.Equal(t, from, question["from"])
		sameAsNative(t, question, list)
	}

	// A place that was never opened comes from the phone as well.
	page.run(chromedp.Navigate(server.url + "/house"))
	page.until(`document.querySelector('[data-fact="catalogue"]')?.textContent.includes('stations')`)
}

// With a core that cannot start, the last answers stand, marked as kept, and the failure
// is said and recorded.
func TestKeptAnswersStandWithoutTheCore(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	page := startBrowser(t).open(t, server.url)
	page.allowed = true // the fetch that fails is an error on the console
	chooseShore(page)
	_, before := shownWindows(page)
	require.NotEmpty(t, before)
	page.until(`document.querySelector('[data-now]')`)
	readyForOffline(page)

	server.kill(t)
	var deleted int
	page.eval(`(async () => {
		let n = 0;
		for (const name of await caches.keys()) {
			const cache = await caches.open(name);
			for (const request of await cache.keys()) if (request.url.endsWith('.wasm') && await cache.delete(request)) n++;
		}
		return n;
	})()`, &deleted)
	require.Equal(t, 1, deleted)
	page.run(network.ClearBrowserCache(), chromedp.Reload())
	page.until(`document.querySelector('[data-bar="core"] button')`)
	page.until(`document.querySelector('.windows[data-kept="true"]')`)
	_, after := shownWindows(page)
	assert.Equal(t, before, after)
	page.until(`document.querySelector('[data-now]')`)
	page.click(`nav a[href="/house"]`)
	page.until(`document.querySelectorAll('.errors li').length >= 2`) // once, and once restarted

	// With signal again, the person can ask for another try.
	startServer(t, binary, strings.TrimPrefix(server.url, "http://"))
	page.click(`nav a[href="/plan"]`)
	page.click(`[data-bar="core"] button`)
	page.until(answered)
	page.until(`!document.querySelector('[data-bar="core"]')`)
}

// Parts of two versions, however they came together, refuse to work as one.
func TestVersionsDoNotMix(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	for name, swap := range map[string]string{
		"a worker of another version": `document.documentElement.dataset.build`,
		"a core of another version":   `text.match(/"([0-9a-f]{12})"/g).map(JSON.parse).find((id) => id !== document.documentElement.dataset.build)`,
	} {
		t.Run(name, func(t *testing.T) {
			server := startServer(t, binary, "127.0.0.1:0")
			page := startBrowser(t).open(t, server.url+"/house")
			page.until(offline)
			var swapped int
			page.eval(`(async () => {
				const cache = await caches.open((await caches.keys())[0]);
				const request = (await cache.keys()).find((r) => new URL(r.url).pathname.startsWith('/worker.'));
				const text = await (await cache.match(request)).text();
				const id = `+swap+`;
				await cache.put(request, new Response(text.replaceAll(id, '000000000000'), {headers: {'Content-Type': 'text/javascript'}}));
				return text.split(id).length - 1;
			})()`, &swapped)
			require.Positive(t, swapped, "the id stands in the worker")
			page.run(chromedp.Reload())
			page.until(`document.querySelector('[data-bar="core"]')?.textContent.includes('two versions')`)
			assert.Contains(t, page.text(), "Please reload")
		})
	}
}

// A new version is offered, never forced: an old tab goes on with what it has.
func TestUpdateIsOffered(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	next := buildVariant(t, "text/en.js", "title: 'Shore'", "title: 'Shore, second edition'")

	server := startServer(t, binary, "127.0.0.1:0")
	b := startBrowser(t)
	old := b.open(t, server.url+"/house")
	old.until(offline)
	old.until(stationsHere)
	first := buildOf(old)
	server.kill(t)
	startServer(t, next, strings.TrimPrefix(server.url, "http://"))

	// A second tab still gets the version that is on the phone, and the offer.
	other := b.open(t, server.url+"/shore")
	other.until(`document.querySelector('[data-bar="update"] button')`)
	assert.Equal(t, first, buildOf(other))
	old.until(`document.querySelector('[data-bar="update"] button')`)
	other.run(chromedp.Reload())
	other.until(`document.querySelector('[data-bar="update"] button')`)
	assert.Equal(t, first, buildOf(other), "a reload is no consent")
	var heading string
	other.eval(`document.querySelector('h1').textContent`, &heading)
	assert.Equal(t, "Shore", heading)

	// Consent in one tab changes that tab alone.
	other.click(`[data-bar="update"] button`)
	other.until(`document.querySelector('h1')?.textContent === 'Shore, second edition'`)
	second := buildOf(other)
	assert.NotEqual(t, first, second)
	assert.Equal(t, first, buildOf(old))
	old.until(`document.querySelector('[data-bar="update"]')?.textContent.includes('Another tab')`)
	old.click(`nav a[href="/plan"]`)
	old.write("#station", "san francisco")
	old.until(`document.querySelector('[data-station="noaa/9414290"]')`) // its core still answers
	var versions int
	old.eval(`caches.keys().then((names) => names.length)`, &versions)
	assert.Equal(t, 2, versions, "the version before is kept for tabs that still run it")

	old.click(`[data-bar="update"] button`)
	old.until(`document.documentElement.dataset.build === ` + quoted(second))
}

func buildOf(p *tab) string {
	p.t.Helper()
	var build string
	p.eval(`document.documentElement.dataset.build`, &build)
	require.NotEmpty(p.t, build)
	return build
}

// inspect asks axe about the page in both colour schemes.
func (p *tab) inspect(name string) {
	p.t.Helper()
	axe, err := os.ReadFile("../testdata/axe/axe.min.js")
	require.NoError(p.t, err)
	var nothing any
	p.eval(string(axe)+"; null", &nothing)
	for _, scheme := range []string{"light", "dark"} {
		p.run(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}))
		var result struct {
			Violations []struct {
				ID, Help string
				Nodes    []struct{ HTML, FailureSummary string }
			}
			Passes []struct{ ID string }
		}
		p.until(`document.getAnimations().every((a) => a.playState !== 'running')`) // what fades in has no contrast yet
		p.eval(`axe.run(document)`, &result)
		assert.NotEmpty(p.t, result.Passes, "%s, %s: axe looked at nothing", name, scheme)
		for _, v := range result.Violations {
			assert.Fail(p.t, fmt.Sprintf("%s, %s: %s: %s", name, scheme, v.ID, v.Help), "%+v", v.Nodes)
		}
	}
}

// Every place, empty and filled, in both colour schemes, has nothing that axe objects to.
func TestAccessibility(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	page := startBrowser(t).open(t, server.url)
	inspect := page.inspect
	page.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	inspect("Plan, no shore")
	chooseStation(page)
	page.click(`button[type="submit"]`)
	page.until(`document.querySelector('#below-wrong').textContent`)
	inspect("Plan, a form with mistakes")
	fillShore(page)
	inspect("Plan, windows")
	for _, at := range []struct{ path, ready string }{
		{"/plan/day/2026-12-24", `document.querySelector('.day[data-on="2026-12-24"][data-kept="false"]')`},
		{"/plan/year/2027", `document.querySelector('.year[data-year="2027"][data-kept="false"][data-moons="true"]')`},
		{"/plan/shores", `document.querySelector('main h1, main h2') && location.pathname === '/plan/shores'`},
		{"/plan/shore/new", `document.querySelector('#station')`},
		{"/plan/numbers", `document.querySelector('main').innerText.includes('MLLW')`},
	} {
		page.run(chromedp.Navigate(server.url + at.path))
		page.until(at.ready)
		inspect(at.path)
	}
	for _, place := range []string{"shore", "tanks", "house"} {
		page.click(`nav a[href="/` + place + `"]`)
		page.until(`document.querySelector('nav a[aria-current="page"]').getAttribute('href') === '/` + place + `' && document.querySelector('main h1') && !document.querySelector('[data-later]')`)
		inspect(place)
	}
}

// A tab that holds the database open makes way for one that needs a newer form of it, and
// says so.
func TestDatabaseMakesWay(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	b := startBrowser(t)
	old := b.open(t, server.url)
	chooseShore(old)
	newer := b.open(t, server.url+"/sw.js") // a page of the same origin that runs nothing
	var opened string
	newer.eval(`new Promise((resolve) => {
		const request = indexedDB.open('wrackbook', 99);
		request.onblocked = () => resolve('blocked');
		request.onerror = () => resolve('failed');
		request.onsuccess = () => resolve('opened');
	})`, &opened)
	assert.Equal(t, "opened", opened)
	old.until(`document.querySelector('[data-bar="storage"]')?.textContent.includes('newer')`)

	// It goes on without: another span is still reckoned.
	old.set(`input[name="from"]`, "2031-03-01")
	old.until(answered + `?.dataset.question.includes('"from":"2031-03-01"')`)
}
