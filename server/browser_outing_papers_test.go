package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	permission "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here use what goes with an outing: the emergency card, the slate, catching up.

// TestEmergencyCard: without signal and without a position it says what to do; with one it
// reads the position digit by digit, and later says that it is old. First aid names its country.
func TestEmergencyCard(t *testing.T) {
	t.Parallel()
	server, p := onTripMorning(t)
	p.allowed = true // fetches that fail are told in the console
	readyForOffline(p)
	grant := func(setting permission.PermissionSetting) {
		p.run(chromedp.ActionFunc(func(ctx context.Context) error {
			c := chromedp.FromContext(ctx)
			return permission.SetPermission(&permission.PermissionDescriptor{Name: "geolocation"}, setting).WithOrigin(server.url).WithBrowserContextID(c.BrowserContextID).Do(ctx)
		}))
	}
	grant(permission.PermissionSettingDenied)
	p.goTo(server, "/house/household", `document.querySelector('#what')`)
	p.inspect("household, empty")
	targets(t, p, "household")
	p.press(`[data-do="add-number"]`)
	p.until(`document.querySelector('#what-wrong').textContent && document.querySelector('#number-wrong').textContent`)
	server.kill(t)

	// Nothing written down: it says so, and shows 112 only where the Union's law has it.
	p.goTo(server, "/shore/help", `document.querySelector('[data-asking="refused"]')`)
	assert.Contains(t, p.text(), "The household has written down no number")
	assert.Contains(t, p.text(), "This phone may not tell where it is")
	assert.Contains(t, p.text(), "Do not enter the water")
	assert.Contains(t, p.text(), "San Francisco")
	var calls []string
	telephone := func() []string {
		p.eval(`[...document.querySelectorAll('a[href^="tel:"]')].map((a) => a.getAttribute('href'))`, &calls)
		return calls
	}
	assert.Empty(t, telephone())
	assert.Contains(t, p.textOf(".aid"), "has not said in which country")
	p.wet("help-empty")

	p.goTo(server, "/house/household", `document.querySelector('#country')`)
	p.write("#country", "IE")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-says]').textContent === 'Kept.'`)
	p.goTo(server, "/shore/help", `document.querySelector('a[href="tel:112"]')`)
	assert.Contains(t, p.textOf(".aid"), "That of your country differs")
	p.goTo(server, "/house/household", `document.querySelector('#country')`)
	p.write("#country", "NZ")
	p.press(`form[data-form="household"] [data-do="keep"]`)
	p.until(`document.querySelector('[data-says]').textContent === 'Kept.'`)
	p.write("#what", "Coastguard")
	p.write("#number", "+64 111")
	p.press(`[data-do="add-number"]`)
	p.until(`document.querySelector('[data-number="+64 111"]')`)
	p.inspect("household, filled")
	p.look("household")

	grant(permission.PermissionSettingGranted)
	// 48.35575 and -4.25 degrees are 48 degrees 21.345 and 4 degrees 15.000 minutes.
	p.run(emulation.SetGeolocationOverride().WithLatitude(48.35575).WithLongitude(-4.25).WithAccuracy(12.3))
	p.goTo(server, "/shore/help", `document.querySelector('[data-fix]')`)
	assert.Equal(t, []string{"tel:+64111"}, telephone())
	assert.Contains(t, p.textOf(".say"), "48° 21.345′ N")
	assert.Contains(t, p.textOf(".say"), "four eight degrees, two one point three four five minutes north")
	assert.Contains(t, p.textOf(".say"), "four degrees, one five point zero zero zero minutes west")
	assert.Equal(t, "within 13 m, found just now.", p.textOf("[data-fix]"))
	assert.NotContains(t, p.textOf(".say"), "old position")
	assert.Contains(t, p.textOf(`.aid[data-country="NZ"]`), "an adult tests it first")
	assert.Contains(t, p.textOf(".aid"), "Call first")
	p.wet("help-fix")

	// Without a new fix the last one stands, with its age.
	grant(permission.PermissionSettingDenied)
	p.eval(`later(2.5); null`, new(any))
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-fix]') && document.querySelector('[data-asking="refused"]')`)
	assert.Equal(t, "within 13 m, found 2 h 30 ago.", p.textOf("[data-fix]"))
	assert.Contains(t, p.textOf(".say"), "This is an old position")
}

// TestSlateAndCatchUp: the slate prints on one page with what counts on it; what was pencilled
// is entered row by row and kept as noted on the slate; the message says whom to call and when.
func TestSlateAndCatchUp(t *testing.T) {
	t.Parallel()
	server, p := onTripMorning(t)
	plannedTrip(server, p)
	appModules(p, "book", "household")
	p.eval(`household.setHousehold({graceMin: 45, 'emergency/01990000-0000-7000-8000-000000000001': {what: 'Coastguard', number: '911'}})`, new(bool))
	p.run(chromedp.Reload())
	p.until(`document.querySelector('.go')`)
	appModules(p, "book")
	id := strings.TrimPrefix(func() (path string) { p.eval(`location.pathname`, &path); return }(), "/shore/outing/")

	// The message. Off by 16:40 is the core's; due back half an hour later; the grace is 45 min.
	p.eval(`window.sent = ''; navigator.share = undefined; delete navigator.share; Object.defineProperty(navigator, 'clipboard', {value: {writeText: async (words) => { window.sent = words; }}}); true`, new(bool))
	p.until(`document.querySelector('.tell')`)
	p.press(`[data-do="tell"]`)
	p.until(`window.sent`)
	var sent string
	p.eval(`window.sent`, &sent)
	planned := outingRecord(p)["planned"].(map[string]any)
	due, err := time.Parse(time.RFC3339, outingRecord(p)["ashore"].(map[string]any)["dueBack"].(string))
	require.NoError(t, err)
	local := func(at time.Time) string { return at.Add(-8 * time.Hour).UTC().Format("15:04") } // PST
	offBy, err := time.Parse(time.RFC3339, planned["offBy"].(string))
	require.NoError(t, err)
	for _, words := range []string{"San Francisco", "Thu 24 Dec 2026", "2 adults and 3 children: Jo, Mara and the children", "off the rocks by " + local(offBy),
		"Due back 24 Dec, " + local(due), "by " + local(due.Add(45*time.Minute)), "(45 minutes later)", "Coastguard: 911", "No program alerts anybody"} {
		assert.Contains(t, sent, words)
	}
	for _, child := range []string{"Ada", "Tam", "Noor"} {
		assert.NotContains(t, sent, child, "children are counted, not named")
	}

	p.press(`[data-do="slate"]`)
	p.until(`document.querySelector('.slate')?.innerText.includes('17:42')`) // NOAA's low water of that day
	slate := p.textOf(".slate")
	for _, words := range []string{"START BACK", local(offBy), local(due), "Gran", "911", "Noor, child, with Ada", "only watches", "Heads, every 15 minutes"} {
		assert.Contains(t, slate, words)
	}
	p.wet("slate")
	assert.Equal(t, 1, p.pages())
	// A class, a long stay, a long way of escape: still one sheet.
	p.eval(`(async () => {
		const party = {};
		for (let i = 1; i <= 12; i++) party['party/01990000-0000-7000-8000-0000000001' + String(i).padStart(2, '0')] = {as: 'child', name: 'A child of the class ' + i, number: i + 10, does: 'comes along'};
		await book.write('outing', `+quoted(id)+`, {...party, planned: {from: '2026-12-24T18:00:00Z', to: '2026-12-25T00:26:00Z', startBack: '2026-12-25T00:26:00Z', offBy: '2026-12-25T00:41:00Z'}});
		await book.write('shore', `+quoted(keptShores(p)[0]["id"].(string))+`, {escape: 'up the steps west of the slip '.repeat(30)});
		return true;
	})()`, new(bool))
	p.until(`document.querySelectorAll('.slate-party li').length === 17 && document.querySelectorAll('.slate-heads li').length === 27`)
	assert.Equal(t, 1, p.pages())
	if dir := os.Getenv("WRACKBOOK_PICTURES"); dir != "" {
		p.run(chromedp.ActionFunc(func(ctx context.Context) error {
			pdf, _, err := cdp.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
			if err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(dir, "slate.pdf"), pdf, 0o600)
		}))
	}

	p.eval(`book.write('outing', `+quoted(id)+`, {planned: {from: '2026-12-24T23:00:00Z', to: '2026-12-25T00:26:00Z', startBack: '2026-12-25T00:26:00Z', offBy: '2026-12-25T00:41:00Z'}})`, new(bool))
	p.eval(`later(11); null`, new(any)) // at the car, 19:00
	p.press(`[data-do="catch-up"]`)
	p.until(`document.querySelector('form')`)
	p.press(`form [data-do="keep"]`)
	p.until(`document.querySelector('#time-wrong').textContent`)
	p.wet("catch-up")
	p.write("#time", "1510")
	p.write("#kind", "Pagurus samuelis")
	p.write("#amount", "3")
	p.choose("#who", "Ada")
	p.press(`form [data-do="keep"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 1`)
	p.until(`document.activeElement.id === 'kind'`)
	// The next row by keys alone: the same minute and person stand.
	p.run(chromedp.KeyEvent(kb.Tab))
	p.press(`input[name="fate"][value="taken"]`)
	p.press(`form [data-do="keep"]`)
	p.until(`document.querySelectorAll('[data-find]').length === 2`)
	p.wet("catch-up-rows")
	rows := map[string]map[string]any{}
	for _, r := range kept[struct {
		Kind   string
		Fields map[string]any
	}](p, "records") {
		if r.Kind == "find" {
			rows[r.Fields["taxon"].(string)] = r.Fields
		}
	}
	require.Len(t, rows, 2)
	hermit := rows["Pagurus samuelis"]
	assert.Equal(t, "2026-12-24T23:10:00Z", hermit["at"])
	assert.Equal(t, "slate", hermit["noted"])
	assert.Equal(t, "seen", hermit["fate"])
	assert.Equal(t, id, hermit["outing"])
	assert.Equal(t, map[string]any{"value": 3.0, "unit": "count"}, hermit["amount"])
	assert.Equal(t, "taken", rows["unsure"]["fate"])
	assert.Equal(t, hermit["by"], rows["unsure"]["by"])
	p.press(`[data-find] button`)
	p.until(`document.querySelectorAll('[data-find]').length === 1`)
	_ = server
}
