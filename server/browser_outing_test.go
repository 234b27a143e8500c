package main

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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

// TestOutingFromAWindow: from a window of Plan to a plan with a party; what is written is what
// the core has for that window, and due back follows from it.
func TestOutingFromAWindow(t *testing.T) {
	t.Parallel()
	server, p := onTripMorning(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	p.look("plan-day")
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
	fields := outingRecord(p)
	assert.Equal(t, "2026-12-25T02:15:00Z", fields["ashore"].(map[string]any)["dueBack"])
	p.press(`[data-do="change"]`)
	p.until(`document.querySelector('#due')?.value === '18:15'`)
	p.write("#due", " ")
	p.choose(`[data-comer="Mara"] select`, "only watches")
	p.choose(`[data-comer="Noor"] select`, "Ada")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('.go')`)

	fields = outingRecord(p)
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
	t.Parallel()
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
	p.look("go-open")

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
	decision := outingRecord(p)["checks/decision"].(map[string]any)
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
	p.look("go-nothing")

	// Thirteen hours on the weather is stale, and the window has passed.
	p.eval(`later(13); null`, new(any))
	p.until(checkIs("wind", "stale") + " && " + checkIs("window", "no") + " && " + checkIs("animals", "fine") + " && " + verdictIs("no"))
}

// TestNightWithChildren: in the dark, forbidden and unknown are refused in words, and so are
// children where the household does not take them out.
func TestNightWithChildren(t *testing.T) {
	t.Parallel()
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

// TestOutingByKeyboard: a plan is written, an answer given and the decision made without a
// pointer.
func TestOutingByKeyboard(t *testing.T) {
	t.Parallel()
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
