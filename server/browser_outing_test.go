package main

import (
	"context"
	"fmt"
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

	"wrackbook/internal/store"
)

// The tests here plan an outing, decide on it, and use what goes with it: the emergency card,
// the slate, the message to the one ashore.

// tripMorning is the morning of the outing on the shore's clock, 24 December 2026, 08:00.
var tripMorning = time.Date(2026, 12, 24, 16, 0, 0, 0, time.UTC)

// onTripMorning opens a phone whose clock is set, with a shore and a family of four.
func onTripMorning(t *testing.T) (*process, *tab) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, "about:blank")
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := cdp.AddScriptToEvaluateOnNewDocument(fmt.Sprintf(`(() => {
			const Real = Date;
			let skew = Number(sessionStorage.getItem('skew') ?? %d - Real.now());
			window.Date = class extends Real {
				constructor(...of) { if (of.length) super(...of); else super(Real.now() + skew); }
				static now() { return Real.now() + skew; }
			};
			window.later = (hours) => {
				skew += hours * 3600000;
				sessionStorage.setItem('skew', String(skew));
				document.dispatchEvent(new Event('visibilitychange'));
			};
			// A fix comes with the time of the same clock.
			const watch = Geolocation.prototype.watchPosition;
			Geolocation.prototype.watchPosition = function (found, ...rest) {
				return watch.call(this, ({coords}) => found({coords, timestamp: Date.now()}), ...rest);
			};
		})()`, tripMorning.UnixMilli())).Do(ctx)
		return err
	}), chromedp.Navigate(server.url))
	chooseShore(p)
	untilKept(p, "changes", "San Francisco")
	var done bool
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		for (const [name, age] of [['Mara', 'adult'], ['Jo', 'adult'], ['Ada', 'child'], ['Tam', 'child']]) await book.write('member', ids.uuidv7(), {name, age});
		return true;
	})()`, &done)
	require.True(t, done)
	p.run(chromedp.Reload())
	p.until(answered)
	return server, p
}

// pictured keeps pictures of the page where WRACKBOOK_PICTURES names a folder, for people to
// look at.
func (p *tab) pictured(name string) {
	p.t.Helper()
	dir := os.Getenv("WRACKBOOK_PICTURES")
	if dir == "" {
		return
	}
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int64{390, 1280} {
			var picture []byte
			p.run(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
				emulation.SetDeviceMetricsOverride(width, map[int64]int64{390: 844, 1280: 800}[width], 1, width < 600),
				chromedp.Sleep(80*time.Millisecond), chromedp.FullScreenshot(&picture, 100))
			require.NoError(p.t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d-%s.png", name, width, scheme)), picture, 0o600))
		}
	}
	p.run(emulation.SetEmulatedMedia(), emulation.SetDeviceMetricsOverride(390, 844, 2, true))
}

// wet holds what Shore promises to a wet thumb: targets of 64 px and 8 px apart, text of 20 px
// and more, nothing wider than the screen, and nothing that axe objects to.
func (p *tab) wet(name string) {
	p.t.Helper()
	p.pictured(name)
	p.inspect(name)
	var small, tiny, near []string
	p.eval(`[...document.querySelectorAll('main a, main button, main input, main select, main textarea, main summary')]
		.filter((e) => e.checkVisibility())
		.map((e) => e.matches('input[type="checkbox"], input[type="radio"]') ? e.closest('label') ?? e : e)
		.filter((e) => { const b = e.getBoundingClientRect(); return b.width < 63.5 || b.height < 63.5; })
		.map((e) => e.outerHTML.slice(0, 120))`, &small)
	assert.Empty(p.t, small, "%s: targets under 64 px", name)
	p.eval(`[...document.querySelectorAll('main *')]
		.filter((e) => e.checkVisibility() && !e.closest('.unseen, .slate') && [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()))
		.filter((e) => parseFloat(getComputedStyle(e).fontSize) < 20)
		.map((e) => e.outerHTML.slice(0, 120))`, &tiny)
	assert.Empty(p.t, tiny, "%s: text under 20 px", name)
	p.eval(`(() => {
		const all = [...document.querySelectorAll('main a, main button, main select, main summary, main label.check')].filter((e) => e.checkVisibility() && getComputedStyle(e.closest('.decide') ?? e).position !== 'sticky');
		const boxes = all.map((e) => [e, e.getBoundingClientRect()]);
		const out = [];
		for (const [e, a] of boxes) for (const [f, b] of boxes) {
			if (e === f || e.contains(f) || f.contains(e)) continue;
			const dx = Math.max(0, b.left - a.right, a.left - b.right), dy = Math.max(0, b.top - a.bottom, a.top - b.bottom);
			if (dx < 7.5 && dy < 7.5) out.push(e.outerHTML.slice(0, 80) + ' | ' + f.outerHTML.slice(0, 80));
		}
		return out.slice(0, 4);
	})()`, &near)
	assert.Empty(p.t, near, "%s: targets nearer than 8 px", name)
	for _, width := range []int64{1280, 320, 390} {
		p.run(emulation.SetDeviceMetricsOverride(width, 844, 2, width < 600))
		var wide float64
		p.eval(`document.documentElement.scrollWidth`, &wide)
		assert.LessOrEqual(p.t, wide, float64(width), "%s at %d", name, width)
	}
}

// choose takes an option of a list by its words.
func (p *tab) choose(selector, words string) {
	p.t.Helper()
	p.eval(`(() => {
		const list = document.querySelector(`+quoted(selector)+`);
		list.value = [...list.options].find((o) => o.textContent.trim() === `+quoted(words)+`).value;
		list.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, new(bool))
}

func checkIs(word, state string) string {
	return `document.querySelector('[data-check="` + word + `"]')?.dataset.state === '` + state + `'`
}

func verdictIs(word string) string {
	return `document.querySelector('[data-verdict="` + word + `"]')`
}

// plannedTrip plans the outing of the family with a guest's child from the window in Plan, and
// is then on its page.
func plannedTrip(server *process, p *tab) {
	p.t.Helper()
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	p.press(`[data-do="outing"]`)
	p.until(`document.querySelector('.window-pick:has(:checked)[data-window]')`)
	p.press(`.guest-form summary`)
	p.write("#guest", "Noor")
	p.press(`[data-do="guest"]`)
	p.until(`document.querySelector('[data-comer="Noor"] select')`)
	p.choose(`[data-comer="Mara"] select`, "only watches")
	p.choose(`[data-comer="Ada"] select`, "Jo")
	p.choose(`[data-comer="Tam"] select`, "Mara")
	p.choose(`[data-comer="Noor"] select`, "Ada")
	p.write("#who", "Gran")
	p.write("#call", "+1 415 555 0100")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('.go')`)
}

// outingFields are the fields of the one outing that the phone keeps.
func outingFields(p *tab) map[string]any {
	p.t.Helper()
	for _, r := range kept[struct {
		Kind   string
		Fields map[string]any
	}](p, "records") {
		if r.Kind == "outing" {
			return r.Fields
		}
	}
	require.Fail(p.t, "no outing is kept")
	return nil
}

// TestOutingFromAWindow: from a window of Plan to a plan with a party; what is written is what
// the core has for that window, and due back follows from it.
func TestOutingFromAWindow(t *testing.T) {
	server, p := onTripMorning(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	p.pictured("plan-day")
	p.press(`[data-do="outing"]`)
	p.until(`document.querySelector('.window-pick:has(:checked)[data-window]')`)
	p.wet("outing-form")

	// A reload loses nothing of the draft.
	p.write("#who", "Gran")
	p.press(`.guest-form summary`)
	p.press(`[data-do="guest"]`)
	assert.Contains(t, p.textOf("#guest-wrong"), "Write a name")
	p.write("#guest", "Noor")
	p.press(`[data-do="guest"]`)
	p.until(`document.querySelector('[data-comer="Noor"] [name="number"]')?.value === '3'`)
	untilKept(p, "drafts", "Noor")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-draft]') && document.querySelector('#who').value === 'Gran' && document.querySelector('[data-comer="Noor"]')`)

	// Mistakes are said beside the field.
	p.write("#due", "noon")
	p.write(`[data-comer="Ada"] [name="number"]`, "0")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('#due-wrong').textContent && document.querySelector('[id$="-wrong"][id^="number-"]').textContent`)
	p.inspect("an outing with mistakes")
	p.write("#due", "12:00") // which would be the day after
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('#due-wrong').textContent.includes('more than twelve hours')`)
	p.until(`document.activeElement.name === 'number'`) // the first mistake of the page has the focus
	p.write("#due", "18:15")
	p.write(`[data-comer="Ada"] [name="number"]`, "7")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('.go')`)
	fields := outingFields(p)
	assert.Equal(t, "2026-12-25T02:15:00Z", fields["ashore"].(map[string]any)["dueBack"])
	p.press(`[data-do="change"]`)
	p.until(`document.querySelector('#due')?.value === '18:15'`)
	p.write("#due", " ")
	p.choose(`[data-comer="Mara"] select`, "only watches")
	p.choose(`[data-comer="Noor"] select`, "Ada")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('.go')`)

	fields = outingFields(p)
	var answer struct {
		Windows []struct{ Day, UsableFrom, UsableTo, StartBack, OffBy string }
	}
	askCore(t, "windows", `{"shore":{"station":"noaa/9414290","zone":"America/Los_Angeles","lat":37.806305,"lon":-122.46589,"below":0.3,"wayOff":0.9,"cutOff":true,"margin":20,"walkOut":15,"travel":0,"raise":0.2},"from":"2026-12-23","to":"2026-12-26","light":"sun","least":40}`, &answer)
	found := 0
	for _, w := range answer.Windows {
		if w.Day == "2026-12-24" {
			found++
			assert.Equal(t, map[string]any{"from": w.UsableFrom, "to": w.UsableTo, "startBack": w.StartBack, "offBy": w.OffBy}, fields["planned"])
			offBy, err := time.Parse(time.RFC3339, w.OffBy)
			require.NoError(t, err)
			assert.Equal(t, offBy.Add(30*time.Minute).Format(time.RFC3339), fields["ashore"].(map[string]any)["dueBack"], "no way home, half an hour to pack up")
		}
	}
	assert.Equal(t, 1, found)
	byName := map[string]map[string]any{}
	ids := map[string]string{}
	for name, value := range fields {
		if id, ok := strings.CutPrefix(name, "party/"); ok && value != nil {
			one := value.(map[string]any)
			byName[one["name"].(string)], ids[one["name"].(string)] = one, id
		}
	}
	assert.Len(t, byName, 5)
	assert.Equal(t, "watches", byName["Mara"]["does"])
	assert.Equal(t, ids["Ada"], byName["Noor"]["with"])
	assert.InDelta(t, 7, byName["Ada"]["number"], 0)
	assert.NotContains(t, byName["Jo"], "number", "adults wear none")
	assert.Equal(t, map[string]any{"what": "Boots that grip", "packed": false}, fields["gear/boots"])

	// The next plan starts from this one.
	p.goTo(server, "/shore/outing/new", `document.querySelector('#who')?.value === 'Gran'`)
	assert.Equal(t, "7", func() (n string) {
		p.eval(`document.querySelector('[data-comer="Ada"] [name="number"]').value`, &n)
		return
	}())
}

// TestGoOrNoGo: nothing is fine before it is answered; a no says do not go and the decision is
// kept with its reasons; answers about the weather go stale; what is packed counts.
func TestGoOrNoGo(t *testing.T) {
	server, p := onTripMorning(t)
	plannedTrip(server, p)
	p.until(verdictIs("open") + ` && document.querySelectorAll('[data-check]').length === 10`)
	for _, word := range []string{"swell", "wind", "storms", "rain", "temperature", "animals", "kit"} {
		p.until(checkIs(word, "open"))
	}
	for _, word := range []string{"party", "ashore", "light"} {
		p.until(checkIs(word, "fine"))
	}
	assert.Contains(t, p.text(), "What is not checked is not fine")
	assert.NotContains(t, strings.ToLower(p.text()), "safe to")
	p.pictured("go-open")

	// Swell with no limit: the person says; then one is set, and the same answer is a no.
	p.press(`[data-check="swell"] [data-do="yes"]`)
	p.until(`document.querySelector('#value-swell-wrong').textContent`)
	p.write("#value-swell", "1,4")
	p.press(`[data-check="swell"] [data-do="yes"]`)
	p.until(checkIs("swell", "fine"))
	appModules(p, "book")
	shore := keptShores(p)[0]["id"].(string)
	p.eval(`book.write('shore', `+quoted(shore)+`, {swellLimit: 1})`, new(bool))
	p.until(checkIs("swell", "no") + " && " + verdictIs("no"))
	assert.Contains(t, p.textOf(".verdict"), "Do not go")
	assert.Contains(t, p.textOf(".verdict"), "Swell of 1.4 m; your limit for this shore is 1.0 m.")
	p.press(`[data-check="swell"] [data-do="again"]`)
	p.write("#value-swell", "0.6")
	p.press(`[data-check="swell"] [data-do="yes"]`)
	p.until(checkIs("swell", "fine"))

	// A no with a word, and the decision to go all the same.
	p.press(`[data-check="storms"] [data-do="no"]`)
	p.write("#value-storms-words", "thunder after noon")
	p.press(`[data-check="storms"] [data-do="keep-no"]`)
	p.until(verdictIs("no"))
	assert.Contains(t, p.textOf(".verdict"), "thunder after noon")
	p.wet("go-no")
	p.press(`[data-do="go-anyway"]`)
	p.until(`document.querySelector('.confirm')?.innerText.includes('thunder after noon')`)
	p.until(`document.activeElement.id === 'go-anyway'`)
	p.wet("go-anyway")
	p.press(`.confirm [data-do="leave"]`)
	p.press(`[data-do="stay"]`)
	p.until(`document.querySelector('[data-decided="false"]')`)
	p.press(`[data-do="go-anyway"]`)
	p.press(`.confirm [data-do="confirm"]`)
	p.until(`location.pathname.startsWith('/shore/start/')`)
	decision := outingFields(p)["checks/decision"].(map[string]any)
	assert.Equal(t, true, decision["fine"])
	assert.Contains(t, decision["words"], "Storms and thunder (speaks against it)")
	assert.Contains(t, decision["words"], "Gear (not checked)")

	// All answered and packed: nothing speaks against it, and that is all it says.
	p.run(chromedp.NavigateBack())
	p.until(checkIs("storms", "no"))
	p.press(`[data-check="storms"] [data-do="again"]`)
	for _, word := range []string{"wind", "storms", "rain", "temperature", "animals"} {
		p.press(`[data-check="` + word + `"] [data-do="yes"]`)
		p.until(checkIs(word, "fine"))
	}
	p.eval(`(async () => { for (const box of document.querySelectorAll('.kit-list input')) { box.click(); await new Promise((r) => setTimeout(r, 40)); } return true; })()`, new(bool))
	p.until(checkIs("kit", "fine") + " && " + verdictIs("nothing"))
	assert.Contains(t, p.textOf(".verdict"), "Nothing on this list speaks against it")
	assert.Contains(t, p.textOf(".verdict"), "Look at the sea when you are there")
	p.pictured("go-nothing")

	// Thirteen hours on the weather is stale, and the window has passed.
	p.eval(`later(13); null`, new(any))
	p.until(checkIs("wind", "stale") + " && " + checkIs("window", "no") + " && " + checkIs("animals", "fine") + " && " + verdictIs("no"))
}

// TestNightWithChildren: in the dark, forbidden and unknown are refused in words, and so are
// children where the household does not take them out.
func TestNightWithChildren(t *testing.T) {
	server, p := onTripMorning(t)
	plannedTrip(server, p)
	appModules(p, "book")
	id := strings.TrimPrefix(func() (path string) { p.eval(`location.pathname`, &path); return }(), "/shore/outing/")
	shore := keptShores(p)[0]["id"].(string)
	// The sun sets at 16:56 that day at San Francisco (testdata/sky has it within a minute).
	p.eval(`book.write('outing', `+quoted(id)+`, {planned: {from: '2026-12-25T01:30:00Z', to: '2026-12-25T03:00:00Z', startBack: '2026-12-25T02:30:00Z', offBy: '2026-12-25T02:45:00Z'}})`, new(bool))
	p.until(checkIs("light", "no"))
	assert.Contains(t, p.textOf(`[data-check="light"]`), "is not known. Ask the authority")
	p.until(checkIs("nightChildren", "open") + " && " + checkIs("lamps", "open"))
	p.eval(`book.write('shore', `+quoted(shore)+`, {night: 'forbidden'})`, new(bool))
	p.until(`document.querySelector('[data-check="light"]').innerText.includes('forbidden here')`)
	p.eval(`book.write('shore', `+quoted(shore)+`, {night: 'allowed'})`, new(bool))
	p.until(checkIs("light", "fine"))
	assert.Contains(t, p.textOf(`[data-check="light"]`), "nobody sees a wave come")

	// The keeper says in House that children stay at home in the dark.
	p.goTo(server, "/house/household", `document.querySelector('#country')`)
	p.press(`input[name="night"][value="no"]`)
	p.write("#country", "nz")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-says]').textContent === 'Kept.'`)
	p.goTo(server, "/shore/outing/"+id, checkIs("nightChildren", "no")+" && "+verdictIs("no"))
	assert.Contains(t, p.textOf(".verdict"), "does not take children out in the dark")
	p.wet("go-night")
}

// TestEmergencyCard: without signal and without a position it says what to do; with one it
// reads the position digit by digit, and later says that it is old. First aid names its country.
func TestEmergencyCard(t *testing.T) {
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
	p.pictured("household")

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
	planned := outingFields(p)["planned"].(map[string]any)
	due, err := time.Parse(time.RFC3339, outingFields(p)["ashore"].(map[string]any)["dueBack"].(string))
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

// TestOutingByKeyboard: a plan is written, an answer given and the decision made without a
// pointer.
func TestOutingByKeyboard(t *testing.T) {
	server, p := onTripMorning(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	p.tabTo(`[data-do="outing"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('.window-pick:has(:checked)[data-window]')`)
	p.tabTo(`#purpose`)
	p.tabTo(`#who`)
	p.run(chromedp.KeyEvent("Gran"), chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('.go')`)
	p.tabTo(`[data-check="wind"] [data-do="yes"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(checkIs("wind", "fine"))
	spoken := p.spoken()
	for _, name := range []string{"heading Go or no-go", "heading Wind from the sea", "button Swell: Fine", "button Swell: Speaks against it", "link Emergency"} {
		assert.Contains(t, spoken, name)
	}
	p.tabTo(`[data-do="stay"]`)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector('[data-decided="false"]')`)
}

// TestHouseholdIsAKeepers: a keeper writes the household's page, a collector reads it, and the
// collector's emergency card has the number.
func TestHouseholdIsAKeepers(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	keeper := startBrowser(t).open(t, server.url)
	joinBy(keeper, code, "K")
	keeper.goTo(server, "/house/household", `document.querySelector('#country')`)
	keeper.write("#country", "gb")
	keeper.press(`form[data-form="household"] [data-do="keep"]`)
	keeper.until(`document.querySelector('[data-says]').textContent === 'Kept.'`)
	keeper.write("#what", "Coastguard")
	keeper.write("#number", "999")
	keeper.press(`[data-do="add-number"]`)
	keeper.until(`document.querySelector('[data-number="999"]')`)
	exchanged(keeper)
	other := startBrowser(t).open(t, server.url)
	joinBy(other, invited(keeper, store.Collector), "C")
	exchanged(other)
	other.goTo(server, "/house/household", `document.querySelector('[data-number="999"]')`)
	other.until(`document.querySelector('main').innerText.includes('A keeper writes this')`)
	assert.Contains(t, other.text(), "GB")
	var forms int
	other.eval(`document.querySelectorAll('main form, main button').length`, &forms)
	assert.Zero(t, forms)
	other.goTo(server, "/shore/help", `document.querySelector('a[href="tel:999"]')`)
}

// TestMarkerRock: the form of a shore takes a marker rock with its height, and whether gathering
// in the dark is allowed; another station leaves the rock without a height.
func TestMarkerRock(t *testing.T) {
	server, p := onTripMorning(t)
	id := keptShores(p)[0]["id"].(string)
	form := func() {
		p.goTo(server, "/plan/shore/"+id, `document.querySelector('#below')?.value`)
		p.eval(`for (const d of document.querySelectorAll('details')) d.open = true; null`, new(any))
	}
	form()
	p.write("#markerWhat", "the split rock")
	p.press(`button[type="submit"]`)
	p.until(`document.querySelector('#markerHeight-wrong').textContent`)
	p.until(`document.activeElement.id === 'markerHeight'`)
	p.write("#markerHeight", "0,55")
	p.press(`input[name="night"][value="forbidden"]`)
	p.pictured("shore-form")
	p.inspect("the form of a shore with a marker rock")
	p.press(`button[type="submit"]`)
	p.until(`location.pathname === '/plan'`)
	untilKept(p, "changes", "the split rock")
	shore := keptShores(p)[0]
	assert.Equal(t, map[string]any{"what": "the split rock", "heightM": 0.55}, shore["marker"])
	assert.Equal(t, "forbidden", shore["night"])
	form()
	var height, night string
	p.eval(`document.querySelector('#markerHeight').value`, &height)
	p.eval(`document.querySelector('[name="night"]:checked').value`, &night)
	assert.Equal(t, "0.55", height)
	assert.Equal(t, "forbidden", night)
	p.press(`[data-do="other"]`)
	p.until(`document.querySelector('#station')`)
	p.write("#station", "monterey")
	p.until(`document.querySelector('[data-station="noaa/9413450"]')`)
	p.press(`[data-station="noaa/9413450"]`)
	p.until(`document.querySelector('[data-chosen="noaa/9413450"]')`)
	p.eval(`document.querySelector('#markerHeight').value`, &height)
	assert.Empty(t, height, "it counted from the other station's datum")
}

// TestImperial: in feet Plan and the checks show what NOAA prints in feet, and the book stays
// in metres.
func TestImperial(t *testing.T) {
	server, p := onTripMorning(t)
	p.goTo(server, "/house/measures", `document.querySelector('[name="units"]')`)
	p.inspect("units")
	targets(t, p, "units")
	p.press(`[name="units"][value="imperial"]`)
	untilKept(p, "choices", "imperial")
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	// NOAA prints 5.0, 3.1, 7.2 and -1.8 ft for that day (testdata/tides/noaa/9414290).
	waters := p.textOf(`[data-table="waters"]`)
	for _, feet := range []string{"5.0 ft", "3.1 ft", "7.2 ft", "−1.8 ft"} {
		assert.Contains(t, waters, feet)
	}
	assert.Contains(t, p.text(), "bare below 1.0 ft") // 0.3 m
	assert.NotContains(t, p.text(), "0.3 m")
	assert.InDelta(t, 0.3, keptShores(p)[0]["below"], 0)
}
