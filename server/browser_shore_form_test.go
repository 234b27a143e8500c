package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// emptyPhone opens the app for the first time; before runs in each page ahead of the app.
func emptyPhone(t *testing.T, before string) (*process, *tab) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, "about:blank")
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := cdp.AddScriptToEvaluateOnNewDocument(before).Do(ctx)
		return err
	}), chromedp.Navigate(server.url))
	p.run(chromedp.WaitVisible("#station", chromedp.ByQuery))
	return server, p
}

// press clicks without scrolling, as a finger on what is in view does.
func (p *tab) press(selector string) {
	p.t.Helper()
	var nothing any
	p.eval(`document.querySelector(`+quoted(selector)+`).click(); null`, &nothing)
}

func (p *tab) textOf(selector string) string {
	p.t.Helper()
	var text string
	p.eval(`document.querySelector(`+quoted(selector)+`).innerText`, &text)
	return text
}

// A position written by hand, with commas and a minus of print, lists stations with distance
// and bearing as the core reckons them; the shore keeps the position and the distance.
func TestPositionByHand(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, "")
	var nothing any
	p.eval(`document.querySelector('details.hand').open = true; null`, &nothing)
	p.write("#hand-lat", "97")
	p.write("#hand-lon", "west")
	p.press(`[data-do="position"]`)
	p.until(`document.activeElement.id === 'hand-lat'`)
	assert.Contains(t, p.textOf("#hand-lat-wrong"), "−90 to 90")
	assert.Contains(t, p.textOf("#hand-lon-wrong"), "−180 to 180")

	p.write("#hand-lat", "37,85")
	p.write("#hand-lon", "−122.55")
	p.press(`[data-do="position"]`)
	p.until(`document.querySelector('[data-station="noaa/9414290"]')`)
	var near struct {
		Stations []struct {
			ID                     string
			DistanceKm, BearingDeg float64
		}
	}
	askCore(t, "stations", `{"near":{"lat":37.85,"lon":-122.55},"limit":20}`, &near)
	var listed []string
	p.eval(`[...document.querySelectorAll('[data-station]')].map((b) => b.dataset.station)`, &listed)
	require.Len(t, listed, len(near.Stations))
	points := []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	distance := 0.0
	for i, s := range near.Stations {
		assert.Equal(t, s.ID, listed[i])
		far := fmt.Sprintf("%.1f km", s.DistanceKm)
		if s.DistanceKm >= 10 {
			far = fmt.Sprintf("%.0f km", s.DistanceKm)
		}
		assert.Contains(t, p.textOf(`[data-station="`+s.ID+`"]`), far+" to the "+points[int(s.BearingDeg/45+0.5)%8])
		if s.ID == "noaa/9414290" {
			distance = s.DistanceKm
		}
	}
	p.press(`[data-station="noaa/9414290"]`)
	p.until(focusSettled)
	fillShore(p)
	shores := keptShores(p)
	require.Len(t, shores, 1)
	assert.Equal(t, 37.85, shores[0]["lat"])
	assert.Equal(t, -122.55, shores[0]["lon"])
	assert.InDelta(t, distance, shores[0]["distanceKm"], 0.05)
}

// A phone that does not find out where it is is an answer; the name still works.
func TestPositionThatDoesNotCome(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, `Object.defineProperty(navigator, 'geolocation', {value: {
		getCurrentPosition: (found, failed) => setTimeout(() => failed({code: 3, PERMISSION_DENIED: 1}), 0)}})`)
	p.press(`[data-do="near"]`)
	p.until(`document.querySelector('[data-near-says]').textContent.includes('did not find out where it is')`)
	chooseStation(p)
}

// Where heights count from mean sea level, the nearest stations with a chart datum are
// offered, and one of them can be taken.
func TestInsteadOfMeanSeaLevel(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, "")
	p.write("#station", "stockholm")
	p.until(`document.querySelector('[data-station="ticon/stockholm-2069-swe-smhi"]')`)
	p.press(`[data-station="ticon/stockholm-2069-swe-smhi"]`)
	p.until(`document.querySelector('[data-refused] [data-station]')`)
	assert.Contains(t, p.textOf("[data-refused]"), "mean sea level")
	var offered []string
	p.eval(`[...document.querySelectorAll('[data-refused] [data-station]')].map((b) => b.dataset.station)`, &offered)
	require.Len(t, offered, 5)
	for _, id := range offered {
		var s struct{ Datum string }
		askCore(t, "station", `{"station":`+quoted(id)+`}`, &s)
		assert.NotEqual(t, "MSL", s.Datum, id)
	}
	p.press(`[data-refused] [data-station]`)
	p.until(`document.querySelector('[data-chosen=` + quoted(offered[0]) + `]')`)
}

// Where the browser keeps nothing, a shore still works, and it is said plainly that it is
// not kept.
func TestStorageRefused(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, `indexedDB.open = () => { throw new DOMException('no storage here', 'SecurityError'); }`)
	p.allowed = true // a refused database is a warning on the console
	p.until(`document.querySelector('[data-bar="storage"]')?.textContent.includes('keeps nothing')`)
	chooseShore(p)
	p.until(`document.querySelector('[data-unkept]')?.textContent.includes('refused to keep San Francisco')`)
	p.press(`[data-unkept] button`)
	p.until(`document.querySelector('[data-unkept]')`)
}

// What stands on the screen is kept: a phone that dies the moment the windows are there has
// the shore.
func TestShownIsKept(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, "")
	chooseStation(p)
	p.write("#below", "0.3")
	// The page goes in the same turn in which the head of the shore appears.
	var nothing any
	p.eval(`new MutationObserver(() => { if (document.querySelector('.shore-head')) location.replace('/house'); })
		.observe(document.getElementById('app'), {childList: true, subtree: true}); null`, &nothing)
	p.press(`button[type="submit"]`)
	p.until(`location.pathname === '/house' && document.querySelector('[data-fact="build"]')`)
	shores := keptShores(p)
	require.Len(t, shores, 1)
	assert.Equal(t, 0.3, shores[0]["below"])
	assert.Len(t, kept[map[string]any](p, "changes"), 1)
}

// The one shore of the first version of the database, with the answer kept beside it: it is
// known with which release it was set, so its windows are shown at once.
func TestOldDatabaseWithItsAnswer(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, server.url+"/sw.js")
	var done bool
	p.eval(`new Promise((resolve, reject) => {
		const request = indexedDB.open('wrackbook', 1);
		request.onupgradeneeded = () => {
			const db = request.result;
			for (const name of ['choices', 'answers', 'heights']) db.createObjectStore(name);
			db.createObjectStore('errors', {autoIncrement: true});
			const store = (name) => request.transaction.objectStore(name);
			store('choices').put({station: 'noaa/9414290', name: 'San Francisco', place: 'California', zone: 'America/Los_Angeles',
				lat: 37.806, lon: -122.466, below: 0.3, wayOff: null, cutOff: false, walkOut: 12}, 'shore');
			store('answers').put({build: '0', core: '1', question: JSON.stringify({shore: {station: 'noaa/9414290'}}),
				answer: {release: '2026-09-24', windows: []}, lit: [], at: '2026-11-01T00:00:00Z'}, 'windows');
		};
		request.onsuccess = () => { request.result.close(); resolve(true); };
		request.onerror = () => reject(request.error);
	})`, &done)
	require.True(t, done)
	p.goTo(server, "/plan", answered)
	shores := keptShores(p)
	require.Len(t, shores, 1)
	for field, want := range map[string]any{"release": "2026-09-24", "below": 0.3, "wayOff": nil, "cutOff": false, "walkOut": 12.0, "margin": 20.0} {
		assert.Equal(t, want, shores[0][field], field)
	}
}

// What a height is worth: the table is the core's count over the year to come.
func TestLevelsTable(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, "")
	chooseStation(p)
	p.write("#below", "0,1")
	var nothing any
	p.eval(`document.querySelector('details.find').open = true; null`, &nothing)
	p.until(`document.querySelector('[data-level="0.1"][aria-current]')`)
	var shown []struct{ Level, PerMonth float64 }
	p.eval(`[...document.querySelectorAll('[data-level]')].map((r) => ({Level: +r.dataset.level, PerMonth: +r.dataset.perMonth}))`, &shown)
	var today string
	p.eval(`new Intl.DateTimeFormat('en-CA', {timeZone: 'America/Los_Angeles'}).format(new Date())`, &today)
	var want struct {
		Levels []struct{ Level, PerMonth float64 }
	}
	var to string
	p.eval(`new Date(Date.parse(`+quoted(today)+`) + 365 * 86400000).toISOString().slice(0, 10)`, &to)
	askCore(t, "levels", `{"shore":{"station":"noaa/9414290","zone":"America/Los_Angeles"},"from":`+quoted(today)+`,"to":`+quoted(to)+
		`,"light":"sun","levels":[-0.3,-0.2,-0.1,0,0.1,0.2,0.3,0.4,0.5]}`, &want)
	require.Len(t, shown, 9)
	for i, row := range want.Levels {
		assert.Equal(t, row.Level, shown[i].Level)
		assert.Equal(t, row.PerMonth, shown[i].PerMonth, "at %v m", row.Level)
	}
	p.press(`[data-level="0.3"] button`)
	p.until(`document.querySelector('#below').value === '0.3' && document.activeElement.id === 'below'`)
}

// After one visit everything about shores works without signal: a second one is chosen,
// its height found, the first one changed, and what the numbers mean is there.
func TestShoresWithoutSignal(t *testing.T) {
	t.Parallel()
	server, p := emptyPhone(t, "")
	chooseShore(p)
	readyForOffline(p)
	server.kill(t)
	p.run(chromedp.Reload())
	p.until(answered)

	p.goTo(server, "/plan/shore/new", `document.querySelector('#station')`)
	p.write("#station", "hilo")
	p.until(`document.querySelector('[data-station="noaa/1617760"]')`)
	p.press(`[data-station="noaa/1617760"]`)
	p.until(focusSettled)
	p.write("#name", "Palm Flat")
	p.write("#below", "−0,05")
	var nothing any
	p.eval(`document.querySelector('details.more').open = true; null`, &nothing)
	p.write("#highMinutes", "-5")
	p.write("#lowMinutes", "25")
	p.write("#travel", "40")
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('.shore-head h2')?.textContent === 'Palm Flat'`)
	p.until(answered + `?.dataset.question.includes('"below":-0.05')`)
	var question string
	p.eval(`document.querySelector('.windows').dataset.question`, &question)
	var asked struct{ Shore map[string]any }
	require.NoError(t, json.Unmarshal([]byte(question), &asked))
	assert.Equal(t, map[string]any{"minutes": []any{-5.0, 25.0}, "heights": []any{0.0, 0.0}, "heightsAre": "metres"}, asked.Shore["differences"])
	assert.Equal(t, 40.0, asked.Shore["travel"])

	p.goTo(server, "/plan/numbers", `document.querySelector('[data-number="where"]') && document.querySelector('[data-credit]')`)
	page := p.textOf("main")
	for _, said := range []string{"noaa/1617760", "MLLW", "5 min earlier", "25 min later", "NOAA", "Kartverket", "CC-BY-4.0", "2026-09-24", "astronomical", "start back at low water"} {
		assert.Contains(t, page, said)
	}
}

// Every screen about shores in the state that people meet it in, in both colour schemes.
func TestShoreScreensAreAccessible(t *testing.T) {
	t.Parallel()
	server, p := emptyPhone(t, "")
	var nothing any
	p.eval(`document.querySelector('details.hand').open = true; null`, &nothing)
	p.write("#station", "stockholm")
	p.until(`document.querySelector('[data-station="ticon/stockholm-2069-swe-smhi"]')`)
	p.press(`[data-station="ticon/stockholm-2069-swe-smhi"]`)
	p.until(`document.querySelector('[data-refused] [data-station]')`)
	p.inspect("stations found, one refused")

	chooseStation(p)
	p.eval(`for (const d of document.querySelectorAll('details')) d.open = true; null`, &nothing)
	p.set(`[name="good-day"]`, "2026-12-24")
	p.set(`[name="good-time"]`, "17:42")
	p.until(`document.querySelector('[data-then]') && document.querySelector('[data-level]')`)
	p.write("#margin", "999")
	p.write("#zone", "Nowhere/Reef")
	p.press(`button[type="submit"]`)
	p.until(`document.querySelector('#margin-wrong').textContent && document.querySelector('#zone-wrong').textContent`)
	p.inspect("the form, all of it, with mistakes")

	p.write("#margin", "20")
	p.write("#zone", "America/Los_Angeles")
	fillShore(p)
	setBasis(p, `{release: '2020-01-01', datum: 'LAT'}`)
	p.goTo(server, "/plan", `document.querySelector('[data-doubt="datum"] [data-do="holds"]')`)
	assert.Contains(t, p.textOf("[data-doubt]"), "counted its heights from LAT; now it counts from MLLW")
	p.inspect("a height in doubt")
	p.press(`[data-do="again"]`)
	p.until(`document.querySelector('[data-changed]') && document.querySelector('#below').value === '0.3'`)
	p.inspect("a height set again")
	p.press(`[data-do="remove"]`)
	p.until(`document.activeElement.matches('[data-undo]')`)
	p.inspect("a shore deleted")
}

// With the keyboard alone the focus is never hidden under the places at the bottom.
func TestFocusIsNotHidden(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, "")
	chooseStation(p)
	var nothing any
	p.eval(`for (const d of document.querySelectorAll('details')) d.open = true; null`, &nothing)
	p.until(`document.querySelector('[data-level]')`)
	seen := []string{}
	for range 60 {
		p.run(chromedp.KeyEvent(kb.Tab))
		var at struct {
			Name   string
			Hidden bool
		}
		p.eval(`(() => {
			const e = document.activeElement, r = e.getBoundingClientRect(), bar = document.querySelector('.places');
			return {Name: e.id || e.textContent.slice(0, 30) || e.tagName, Hidden: !bar.contains(e) && (r.top >= bar.getBoundingClientRect().top || r.bottom <= 0)};
		})()`, &at)
		assert.False(t, at.Hidden, "the focus on %q is out of sight", at.Name)
		seen = append(seen, at.Name)
		if strings.HasPrefix(at.Name, "House") {
			break
		}
	}
	assert.Contains(t, seen, "zone")
	assert.Contains(t, seen, "House", "the keyboard reaches the end of the page")
}
