package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here stand on the shore, with a clock that they set.

// clockScript gives a page a clock that starts at an instant and runs on from there, over
// reloads too; clockTo moves it.
const clockScript = `(() => {
	const Real = Date;
	let skew = Number(sessionStorage.getItem('skew') ?? %d - Real.now());
	window.Date = class extends Real {
		constructor(...of) { if (of.length) super(...of); else super(Real.now() + skew); }
		static now() { return Real.now() + skew; }
	};
	window.clockTo = (ms) => {
		skew = ms - Real.now();
		sessionStorage.setItem('skew', String(skew));
		document.dispatchEvent(new Event('visibilitychange'));
	};
})()`

// onNew has every further page of a tab run a script before its own.
func (p *tab) onNew(script string) (remove func()) {
	p.t.Helper()
	var id cdp.ScriptIdentifier
	p.run(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		id, err = cdp.AddScriptToEvaluateOnNewDocument(script).Do(ctx)
		return err
	}))
	return func() {
		p.t.Helper()
		p.run(chromedp.ActionFunc(func(ctx context.Context) error { return cdp.RemoveScriptToEvaluateOnNewDocument(id).Do(ctx) }))
	}
}

// clockTo sets the page's clock and waits until the staff shows that time.
func (p *tab) clockTo(at time.Time) {
	p.t.Helper()
	p.eval(fmt.Sprintf(`clockTo(%d); null`, at.UnixMilli()), new(any))
}

// look keeps a picture of the page where WRACKBOOK_PICTURES names a folder for them, for
// people to look at: as on a phone and as on a desk, light and dark.
func (p *tab) look(name string) {
	p.t.Helper()
	dir := os.Getenv("WRACKBOOK_PICTURES")
	if dir == "" {
		return
	}
	for _, scheme := range []string{"light", "dark"} {
		p.run(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}))
		for _, size := range []struct {
			name          string
			width, height int64
		}{{"phone", 390, 844}, {"desk", 1280, 800}} {
			var picture []byte
			p.run(emulation.SetDeviceMetricsOverride(size.width, size.height, 1, size.width < 900), chromedp.Sleep(100*time.Millisecond), chromedp.CaptureScreenshot(&picture))
			require.NoError(p.t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%s-%s.png", name, size.name, scheme)), picture, 0o600))
		}
	}
	p.run(emulation.SetEmulatedMedia(), emulation.SetDeviceMetricsOverride(390, 844, 2, true))
}

// shoreWindow is what the staff needs of a window.
type shoreWindow struct {
	Day                                    string
	UsableFrom, UsableTo, StartBack, OffBy time.Time
	Low                                    struct {
		Time   time.Time
		Height float64
	}
}

// goldenGate is the shore of atGoldenGate, and goldenWindow its best window of two weeks in
// December 2026, as the core in this test has it.
const goldenGate = `{"station":"noaa/9414290","zone":"America/Los_Angeles","lat":37.806305,"lon":-122.46589,"below":0.3,"wayOff":0.35,"cutOff":false,"margin":20,"walkOut":15,"travel":0,"raise":0.2}`

func goldenWindow(t *testing.T) shoreWindow {
	t.Helper()
	var answer struct{ Windows []shoreWindow }
	askCore(t, "windows", `{"shore":`+goldenGate+`,"from":"2026-12-14","to":"2026-12-28","light":"sun","least":40}`, &answer)
	require.NotEmpty(t, answer.Windows)
	return answer.Windows[0]
}

// atGoldenGate opens a phone whose clock is set, chooses a shore and goes to its staff.
func atGoldenGate(t *testing.T, at time.Time) (*process, *tab) {
	t.Helper()
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	p := startBrowser(t).open(t, "about:blank")
	p.onNew(fmt.Sprintf(clockScript, at.UnixMilli()))
	p.run(chromedp.Navigate(server.url))
	chooseStation(p)
	p.write("#below", "0.3")
	p.write("#wayOff", "0.35")
	p.touchOf(`[name="cutOff"][value="no"]`)
	p.touchOf(`button[type="submit"]`)
	p.until(answered)
	// A rock to look at, which the form may come to ask for.
	appModules(p, "book")
	p.eval(`book.write('shore', `+quoted(keptShores(p)[0]["id"].(string))+`, {marker: {what: 'the split rock', heightM: 0.1}})`, new(bool))
	p.run(chromedp.Reload())
	p.until(answered)
	p.click(`nav a[href="/shore"]`)
	p.until(stands("fresh"))
	return server, p
}

func stands(how string) string { return `document.querySelector('[data-standing="` + how + `"]')` }

func inStage(stage string) string {
	return `document.querySelector('.back-head[data-stage="` + stage + `"]')`
}

// headTimes are the limits that the page shows.
func headTimes(p *tab) (startBack, offBy time.Time) {
	p.t.Helper()
	var ms [2]int64
	p.eval(`(() => { const h = document.querySelector('.back-head'); return [Number(h.dataset.startBack), Number(h.dataset.offBy)]; })()`, &ms)
	return time.UnixMilli(ms[0]), time.UnixMilli(ms[1])
}

// pacificClock is the time on the shore's clock in December, UTC less 8 hours.
func pacificClock(at time.Time) string { return at.Add(-8 * time.Hour).UTC().Format("15:04") }

// The page's water is the core's at every minute from one low water to past the next, and
// it is drawn there; the limits are those of the core's window.
func TestStaffIsTheCoresWater(t *testing.T) {
	w := goldenWindow(t)
	_, p := atGoldenGate(t, w.UsableFrom.Add(-time.Hour))
	startBack, offBy := headTimes(p)
	assert.Equal(t, w.StartBack.Unix(), startBack.Unix())
	assert.Equal(t, w.OffBy.Unix(), offBy.Unix())
	assert.Contains(t, p.textOf(".back-head"), pacificClock(w.StartBack))
	assert.Contains(t, p.textOf(".back-head"), pacificClock(w.OffBy))
	assert.Contains(t, p.textOf(".water-now"), "look at the sea")
	assert.Contains(t, p.textOf(`[data-clock="unchecked"]`), "compare it with a watch")

	const minutes = 13 * 60
	from := w.Low.Time.Truncate(time.Minute)
	var shown []struct{ At, Height, Surface, Cut, Rock float64 }
	p.eval(fmt.Sprintf(`(async () => {
		const shown = [];
		for (let i = 0; i < %d; i++) {
			const ms = %d + i * 60000;
			clockTo(ms + 1000);
			let level;
			while (!(level = document.querySelector('.water-now')) || Number(level.dataset.at) !== ms) await new Promise((resolve) => setTimeout(resolve));
			const mark = (name) => Number(document.querySelector('[data-mark="' + name + '"]').dataset.y);
			shown.push({At: ms, Height: Number(level.dataset.water), Surface: Number(document.querySelector('.staff-drawing svg').dataset.surface), Cut: mark('cut'), Rock: mark('marker')});
		}
		return shown;
	})()`, minutes, from.UnixMilli()), &shown)
	require.Len(t, shown, minutes)
	var core struct {
		Heights []struct {
			Time   time.Time
			Height float64
		}
	}
	askCore(t, "heights", fmt.Sprintf(`{"station":"noaa/9414290","zone":"America/Los_Angeles","from":%q,"to":%q,"every":"1m"}`,
		from.Format(time.RFC3339), from.Add(minutes*time.Minute).Format(time.RFC3339)), &core)
	require.GreaterOrEqual(t, len(core.Heights), minutes)
	// The core rounds its answer to the millimetre: 0.5. The kept ones are rounded too, and
	// weigh 1.25 at most (water.js): 0.625. Interpolation: 0.12 mm.
	const budget = 0.00125
	var worst, sum, drawn float64
	for i, s := range shown {
		require.Equal(t, core.Heights[i].Time.UnixMilli(), int64(s.At))
		off := math.Abs(s.Height - core.Heights[i].Height)
		worst, sum = max(worst, off), sum+off
		// On the staff: between the marks, which stand at 0.35 and 0.1 m.
		level := 0.35 + (s.Surface-s.Cut)/(s.Rock-s.Cut)*(0.1-0.35)
		drawn = max(drawn, math.Abs(level-s.Height))
	}
	t.Logf("water on the staff against the core: mean %.3f mm, worst %.3f mm of %d minutes; drawn within %.4f mm", 1000*sum/minutes, 1000*worst, minutes, 1000*drawn)
	assert.LessOrEqual(t, worst, budget)
	assert.Less(t, drawn, 1e-6)

	// By day it is bright, by night dim; the button is stronger. On that day the sun sets in
	// San Francisco before 17:00 (16:55 on 21 December, USNO).
	dimmed := `document.documentElement.hasAttribute('data-dim')`
	p.clockTo(w.Low.Time)
	p.until(`!` + dimmed)
	p.clockTo(w.Low.Time.Truncate(24 * time.Hour).Add(26 * time.Hour)) // 18:00 there
	p.until(dimmed)
	p.step("night")
	p.touchOf(`[data-do="dim"]`)
	p.until(`!` + dimmed)
}

// Three visits say how late the sea usually is at the marker; it stands on the shore's page
// and changes nothing by itself.
func TestUsuallyLate(t *testing.T) {
	server, p := plan(t)
	shore := keptShores(p)[0]["id"].(string)
	page := "/plan/shore/" + shore
	appModules(p, "book", "ids")
	visit := func(late int) {
		p.eval(fmt.Sprintf(`book.write('outing', ids.uuidv7(), {shore: %q, purpose: 'home', ['higher/' + ids.uuidv7()]: {at: '2026-11-01T10:00:00Z', by: null, seenM: 0.5, predictedM: 0.3, lateMin: %d}})`, shore, late), new(bool))
	}
	visit(18)
	visit(25)
	p.goTo(server, page, `document.querySelector('#below')?.value`)
	assert.NotContains(t, p.text(), "visits, usually")
	appModules(p, "book", "ids")
	visit(3)
	p.goTo(server, page, `document.querySelector('[data-usually="18"]')`)
	assert.Contains(t, p.textOf(".usually"), "3 visits, usually 18 min late.")
	p.click(`.usually a`)
	p.until(`document.activeElement.id === 'lowMinutes' && document.activeElement.value === ''`)
	p.inspect("a shore usually late")
	assert.Nil(t, keptShores(p)[0]["differences"])
}

// Without the core the staff stands from what was kept, and says so; where nothing is kept
// for now it says what to do, and shows no time as if it were known.
func TestStaffWithoutTheCore(t *testing.T) {
	w := goldenWindow(t)
	server, p := atGoldenGate(t, w.UsableFrom.Add(-2*time.Hour))
	p.allowed = true
	startBack, offBy := headTimes(p)
	untilKept(p, "answers", `"lit"`)
	readyForOffline(p)
	server.kill(t)
	same := func() {
		t.Helper()
		back, off := headTimes(p)
		assert.Equal(t, startBack, back)
		assert.Equal(t, offBy, off)
	}
	later := w.UsableFrom.Add(-time.Hour)

	// A worker that is slow to answer: the page says that it reckons.
	quick := p.onNew(`window.Worker = class { postMessage() {} terminate() {} }`)
	p.clockTo(later)
	p.run(chromedp.Navigate(server.url + "/shore"))
	p.until(stands("reckoning"))
	p.until(inStage("calm"))
	assert.Contains(t, p.textOf("[data-standing]"), "Until then you see what was kept from")
	same()
	p.look("reckoning")
	quick()

	// A worker that dies.
	p.onNew(`window.Worker = class { postMessage() { setTimeout(() => this.onerror?.({message: 'killed'})); } terminate() {} }`)
	p.run(chromedp.Navigate(server.url + "/shore"))
	p.until(stands("kept"))
	p.until(inStage("calm"))
	assert.Contains(t, p.textOf("[data-standing]"), "Kept from")
	same()
	var level struct{ At, Water float64 }
	p.eval(`(() => { const l = document.querySelector('.water-now'); return {At: Number(l.dataset.at), Water: Number(l.dataset.water)}; })()`, &level)
	var core struct{ Heights []struct{ Height float64 } }
	at := time.UnixMilli(int64(level.At)).UTC()
	askCore(t, "heights", fmt.Sprintf(`{"station":"noaa/9414290","zone":"UTC","from":%q,"to":%q,"every":"1m"}`, at.Format(time.RFC3339), at.Add(time.Minute).Format(time.RFC3339)), &core)
	assert.InDelta(t, core.Heights[0].Height, level.Water, 0.00125)

	// The days go by, and the core stays dead.
	p.clockTo(later.Add(4 * 24 * time.Hour))
	p.until(`!document.querySelector('.back-head').dataset.startBack`)
	assert.Contains(t, p.textOf(".back-head"), "do not go by this page")
	p.until(`document.querySelector('.staff-drawing')`)
	p.clockTo(later.Add(15 * 24 * time.Hour))
	p.until(stands("none"))
	assert.Contains(t, p.textOf("[data-standing]"), "Do not go by this page")
	var drawn bool
	p.eval(`Boolean(document.querySelector('.staff-drawing'))`, &drawn)
	assert.False(t, drawn)
	p.look("none-kept")
}

// A phone whose clock is five minutes wrong is told so on the shore, with the amount.
func TestClockOnTheShore(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	p := startBrowser(t).open(t, "about:blank")
	p.onNew(fmt.Sprintf(clockScript, time.Now().Add(5*time.Minute).UnixMilli()))
	p.run(chromedp.Navigate(server.url))
	chooseShore(p)
	p.follow("/shore", `document.querySelector('[data-clock="unchecked"]')`)
	joinBy(p, code, "A")
	p.until(`document.querySelector('[data-bar="clock"]')`)
	assert.Contains(t, p.textOf(`[data-bar="clock"]`), "5 min")
	p.until(`!document.querySelector('[data-clock="unchecked"]')`)
}

// sounds stands in for the loudspeaker, the motor and the screen of a phone, and counts.
const sounds = `(() => {
	window.rung = {tones: 0, shakes: 0, wake: 0};
	navigator.vibrate = () => { rung.shakes++; return true; };
	const start = OscillatorNode.prototype.start;
	OscillatorNode.prototype.start = function (at) { rung.tones++; start.call(this, at); };
	const lock = () => Object.assign(new EventTarget(), {release() { this.dispatchEvent(new Event('release')); return Promise.resolve(); }});
	Object.defineProperty(navigator, 'wakeLock', {configurable: true, value: {request: async () => { rung.wake++; if (window.refuseWake) throw new DOMException('', 'NotAllowedError'); return (window.held = lock()); }}});
	navigator.share = async ({text}) => { window.shared = text; };
})()`

// step looks at a page as a person, a reader of the screen and a wet thumb would: the words
// are 20 px at least, the targets 64 px and 8 px apart, but links within a sentence.
func (p *tab) step(name string) {
	p.t.Helper()
	p.look(name)
	p.inspect(name)
	var wrong []string
	p.eval(`(() => {
		const within = [...document.querySelectorAll('.onshore, .back-head, .back-more, .lock')];
		const all = (selector) => within.flatMap((e) => [...e.querySelectorAll(selector)]).filter((e) => e.checkVisibility());
		const says = (e) => e.outerHTML.slice(0, 90);
		const targets = all('a, button, input, select, textarea').filter((e) => !e.closest('p:not(:has(> a:only-child))'))
			.map((e) => e.matches('[type="checkbox"]') ? e.closest('label') : e);
		const boxes = targets.map((e) => ({e, b: e.getBoundingClientRect()}));
		const small = boxes.filter(({b}) => b.width < 63.5 || b.height < 63.5).map(({e}) => 'small: ' + says(e));
		const close = boxes.flatMap(({e, b}, i) => boxes.slice(i + 1).filter(({e: other, b: c}) => {
			if (e.closest('.under-thumb, .back-head') !== other.closest('.under-thumb, .back-head')) return false; // one stays while the other scrolls
			const [x, y] = [Math.max(b.left, c.left) - Math.min(b.right, c.right), Math.max(b.top, c.top) - Math.min(b.bottom, c.bottom)];
			return Math.max(x, y) < 7.5;
		}).map(({e: other}) => 'close: ' + says(e) + ' and ' + says(other)));
		const fine = all('*').filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(e).fontSize) < 19.9).map((e) => 'fine print: ' + says(e));
		if (!targets.length) return ['no target was found'];
		return [...small, ...close, ...fine, ...(document.documentElement.scrollWidth > innerWidth ? ['wider than the screen'] : [])];
	})()`, &wrong)
	assert.Empty(p.t, wrong, name)
}

// heard touches the warning away.
func (p *tab) heard() {
	p.t.Helper()
	p.until(`document.querySelector('[data-do="heard"]')`)
	p.click(`[data-do="heard"]`)
	p.until(`!document.querySelector('.warning')`)
}

// outingRecord is the fields of the one outing on the phone.
func outingRecord(p *tab) map[string]any {
	p.t.Helper()
	for key, fields := range recordsOf(p) {
		if strings.HasPrefix(key, "outing/") {
			var out map[string]any
			require.NoError(p.t, json.Unmarshal([]byte(fields), &out))
			return out
		}
	}
	return nil
}

// touchOf presses what a selector names, wherever it stands on the page.
func (p *tab) touchOf(selector string) {
	p.t.Helper()
	p.until(`document.querySelector(` + quoted(selector) + `)`)
	// After a page is opened its scroll is set two frames later.
	p.eval(`new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => {
		document.querySelector(`+quoted(selector)+`)?.scrollIntoView({block: 'center'});
		resolve(null);
	}))))`, new(any))
	p.click(selector)
}

// From the start to all back, without signal, every step in its time.
func TestOutingWalked(t *testing.T) {
	w := goldenWindow(t)
	server, p := atGoldenGate(t, w.UsableFrom.Add(-30*time.Minute))
	p.allowed = true
	readyForOffline(p)
	server.kill(t)
	p.onNew(sounds)
	p.run(chromedp.Navigate(server.url + "/shore"))
	p.until(stands("fresh"))
	p.step("before")

	// The least that safety needs is asked for.
	p.touchOf(`[data-do="go"]`)
	p.until(`document.querySelector('[data-panel="go"] form')`)
	p.touchOf(`[data-do="start"]`)
	p.until(`document.querySelector('#who-wrong').textContent && document.querySelector('#due-wrong').textContent && document.querySelector('#alarms-wrong').textContent`)
	p.step("go-mistakes")
	p.touchOf(`[data-do="adults-more"]`)
	for range 3 {
		p.touchOf(`[data-do="children-more"]`)
	}
	p.write("#who", "Grandmother")
	p.write("#call", "555 0100")
	p.set("#due", "")
	p.eval(fmt.Sprintf(`(() => { const e = document.querySelector('#due'); e.value = %q; e.dispatchEvent(new Event('input', {bubbles: true})); })()`, pacificClock(w.OffBy.Add(time.Hour))), new(any))
	untilKept(p, "drafts", "Grandmother")
	p.run(chromedp.Reload()) // a phone in a wet hand
	p.until(`document.querySelector('#who')?.value === 'Grandmother' && document.querySelector('#children').textContent === '3'`)
	assert.Contains(t, p.textOf(`[data-alarm="gather"]`), pacificClock(w.StartBack.Add(-10*time.Minute)))
	assert.Contains(t, p.textOf(`[data-alarm="back"]`), pacificClock(w.StartBack))
	p.look("go")
	p.touchOf(`[data-do="start"]`)
	p.until(`document.querySelector('#alarms-wrong').textContent.includes('Set both alarms')`)
	assert.Nil(t, outingRecord(p), "nothing starts without two alarms")
	p.touchOf(`#alarms`)
	p.touchOf(`[data-do="start"]`)
	p.until(`document.querySelector('.under-way')`)
	record := outingRecord(p)
	assert.NotNil(t, record["alarms"])
	assert.Equal(t, w.StartBack.Format(time.RFC3339), record["planned"].(map[string]any)["startBack"])
	assert.Equal(t, "Grandmother", record["ashore"].(map[string]any)["who"])
	p.step("under-way")

	// Awake, and what the phone says of it.
	p.touchOf(`[data-do="awake"]`)
	p.until(`document.querySelector('[data-wake="on"]')`)
	p.eval(`held.dispatchEvent(new Event('release')); null`, new(any))
	p.until(`document.querySelector('[data-wake="let-go"]')`)
	p.eval(`document.dispatchEvent(new Event('visibilitychange')); null`, new(any))
	p.until(`document.querySelector('[data-wake="on"]')`)
	p.eval(`window.refuseWake = true; held.dispatchEvent(new Event('release')); document.dispatchEvent(new Event('visibilitychange')); null`, new(any))
	p.until(`document.querySelector('[data-wake="refused"]')`)
	p.touchOf(`[data-do="awake"]`)
	p.until(`document.querySelector('[data-wake="off"]')`)
	assert.Contains(t, p.text(), "A phone that sleeps cannot warn you. Set two alarms.")

	// A quarter of an hour on, heads are due; one is missing, then all are there.
	p.clockTo(w.UsableFrom.Add(-14 * time.Minute))
	p.touchOf(`[data-heads="due"]`)
	p.until(`document.querySelectorAll('.head').length === 5`)
	for i := 1; i <= 4; i++ {
		p.touchOf(fmt.Sprintf(`.heads li:nth-child(%d) button`, i))
	}
	p.until(`document.querySelector('[data-sum]').textContent === '4 of 5'`)
	p.step("heads")
	p.touchOf(`[data-do="count"]`)
	p.until(`document.querySelector('[data-missing="1"]')`)
	assert.Contains(t, p.textOf(".missing"), "Nobody searches alone")
	p.step("missing")
	p.touchOf(`[data-do="again"]`)
	p.until(`document.querySelectorAll('.head').length === 5`)
	p.eval(`document.querySelectorAll('.head').forEach((b) => b.click()); null`, new(any))
	p.until(`document.querySelector('[data-sum]').textContent === '5 of 5'`)
	p.touchOf(`[data-do="count"]`)
	p.until(`document.querySelector('.outcome')`)
	p.follow("/shore", `document.querySelector('[data-heads]')?.dataset.heads !== 'due'`)

	// Thunder: at once, thirty minutes, again at each clap; then the plan holds again.
	clap := w.UsableFrom.Add(-10 * time.Minute)
	p.clockTo(clap)
	p.touchOf(`[data-do="thunder"]`)
	p.until(inStage("back"))
	p.until(`document.querySelector('[data-warning="back"]')`)
	p.until(`rung.shakes > 0 && rung.tones > 0`)
	p.look("thunder")
	p.heard()
	p.step("thunder-heard")
	p.clockTo(clap.Add(20 * time.Minute))
	p.until(`Number(document.querySelector('[data-thunder]')?.dataset.thunder) <= 600`)
	p.until(inStage("off"))
	p.heard()
	p.touchOf(`[data-do="thunder"]`)
	p.until(`Number(document.querySelector('[data-thunder]').dataset.thunder) > 1790`)
	p.clockTo(clap.Add(45 * time.Minute))
	p.until(inStage("off"))
	p.clockTo(clap.Add(51 * time.Minute))
	p.until(`document.querySelector('[data-thunder="over"]')`)
	assert.Contains(t, p.textOf(`[data-thunder]`), "Look at the sky first")
	back, off := headTimes(p)
	assert.Equal(t, w.StartBack.Unix(), back.Unix())
	assert.Equal(t, w.OffBy.Unix(), off.Unix())

	// Locked: nothing but its two steps answers, also after a reload.
	p.touchOf(`[data-do="lock"]`)
	p.until(`document.querySelector('[data-locked]') && document.querySelector('.frame').inert`)
	p.step("locked")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-locked]') && document.querySelector('.back-head')?.dataset.startBack`)
	p.touchOf(`[data-do="unlock"]`)
	p.touchOf(`[data-do="unlock-sure"]`)
	p.until(`!document.querySelector('[data-locked]') && !document.querySelector('.frame').inert`)

	// The sea stands to the knee above what is shown: earlier, never later.
	p.clockTo(w.Low.Time.Add(-20 * time.Minute))
	p.follow("/shore/higher", `document.querySelector('[data-do="higher-knee"]')`)
	p.until(stageKnown)
	p.step("higher")
	p.touchOf(`[data-do="higher-hand"]`)
	p.until(`document.querySelector('[data-said]')`)
	first, firstOff := headTimes(p)
	assert.False(t, first.After(back) || firstOff.After(off), "never later")
	p.follow("/shore", `document.querySelector('.under-way')`)
	p.follow("/shore/higher", `document.querySelector('[data-do="higher-knee"]')`)
	p.touchOf(`[data-do="higher-knee"]`)
	p.until(`document.querySelector('[data-said]')`)
	p.until(`document.querySelector('.back-head[data-why="higher"]')`)
	higher, higherOff := headTimes(p)
	assert.True(t, higher.Before(first) && higherOff.Before(firstOff))
	// By the core: the water half a metre under the way back, less the margin of 20 minutes.
	assert.WithinDuration(t, crossing(t, w.Low.Time, 0.35-0.5).Add(-20*time.Minute), higherOff, time.Minute)

	// The split rock is reached twelve minutes before the prediction.
	reaches := crossing(t, w.Low.Time, 0.1)
	p.clockTo(reaches.Add(-12 * time.Minute))
	p.follow("/shore", `document.querySelector('[data-do="at-marker"]')?.textContent.includes('the split rock')`)
	p.touchOf(`[data-do="at-marker"]`)
	p.until(`document.querySelector('[data-at-marker]')`)
	rock, rockOff := headTimes(p)
	assert.False(t, rock.After(higher) || rockOff.After(higherOff), "never later")
	seen, late := 0, 0
	for name, value := range outingRecord(p) {
		if strings.HasPrefix(name, "higher/") {
			seen++
			assert.NotNil(t, value.(map[string]any)["predictedM"])
			if minutes, ok := value.(map[string]any)["lateMin"].(float64); ok {
				late++
				assert.InDelta(t, -12, minutes, 1)
			}
		}
	}
	assert.Equal(t, 3, seen)
	assert.Equal(t, 1, late)

	// As the time comes.
	p.clockTo(higher.Add(-25 * time.Minute))
	p.follow("/shore", `document.querySelector('.under-way')`)
	p.until(inStage("soon"))
	p.look("soon")
	p.clockTo(higher.Add(-9 * time.Minute))
	p.until(inStage("near"))
	p.until(`document.querySelector('[data-warning="near"]')`)
	p.look("near")
	p.until(`rung.shakes > 1`) // again, until it is touched
	p.heard()
	p.clockTo(higher.Add(time.Minute))
	p.until(inStage("back"))
	p.until(`document.querySelector('[data-heads="due"]')`) // at start back
	assert.Contains(t, strings.ToLower(p.textOf(".back-head")), "start back now")
	p.step("start-back")
	p.heard()
	p.follow("/plan", `document.querySelector('.back-head[data-large="false"]')`)
	p.look("elsewhere")
	p.inspect("/plan while an outing is under way")
	p.clockTo(higherOff.Add(time.Minute))
	p.until(inStage("off"))
	p.follow("/shore", `document.querySelector('.under-way')`)
	p.look("off-by")
	p.heard()

	// On the way, then all back: a short count does not end it.
	p.touchOf(`[data-do="back"]`)
	p.touchOf(`[data-do="tell-out"]`)
	p.until(`window.shared?.includes('on our way out')`)
	p.step("back")
	assert.Contains(t, p.text(), "alerts nobody")
	p.touchOf(`.heads li:nth-child(1) button`)
	p.touchOf(`[data-do="count"]`)
	p.until(`document.querySelector('[data-missing="4"]')`)
	assert.Nil(t, outingRecord(p)["ended"])
	p.touchOf(`[data-do="again"]`)
	p.until(`document.querySelectorAll('.head').length === 5`)
	p.eval(`document.querySelectorAll('.head').forEach((b) => b.click()); null`, new(any))
	p.until(`document.querySelector('[data-sum]').textContent === '5 of 5'`)
	p.touchOf(`[data-do="count"]`)
	p.touchOf(`[data-do="tell-back"]`)
	p.until(`window.shared.includes('all back')`)
	p.step("all-back")
	var shared string
	p.eval(`window.shared`, &shared)
	assert.Contains(t, shared, "5 of us")
	assert.NotNil(t, outingRecord(p)["ended"])
	p.until(`!document.querySelector('.back-head').dataset.startBack`)
	assert.Contains(t, strings.ToLower(p.textOf(".back-head")), "the outing is ended")
	p.follow("/shore", `!document.querySelector('.under-way') && document.querySelector('[data-do="go"]')`)
}

// An outing that is planned for today is started from its page; its own times hold as they
// were planned, also where the shore's would now be others.
func TestPlannedOuting(t *testing.T) {
	w := goldenWindow(t)
	_, p := atGoldenGate(t, w.UsableFrom.Add(-10*time.Minute))
	shore := keptShores(p)[0]["id"].(string)
	back, off := w.StartBack.Add(-25*time.Minute), w.OffBy.Add(-20*time.Minute)
	at := func(t time.Time) string { return t.UTC().Format(time.RFC3339) }
	const id = "0199f0c3-a2b4-7c1e-9d3f-2b6f1c5d8e91"
	appModules(p, "book")
	p.eval(fmt.Sprintf(`book.write('outing', %q, {shore: %q, purpose: 'home', planned: {from: %q, to: %q, startBack: %q, offBy: %q},
		'party/0199f0c3-a2b4-7c1e-9d3f-2b6f1c5d8e92': {as: 'adult', name: 'Jo'}, ashore: {who: 'Kim', dueBack: %q}})`,
		id, shore, at(w.UsableFrom), at(w.UsableTo), at(back), at(off), at(off.Add(time.Hour))), new(bool))
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-do="go"]')?.getAttribute('href') === '/shore/outing/` + id + `'`)
	p.follow("/shore/start/"+id, `document.querySelector('[data-alarm="back"]')`)
	assert.Contains(t, p.textOf(`[data-alarm="back"]`), pacificClock(back))
	p.step("start")
	p.touchOf(`[data-do="start"]`)
	p.until(`document.querySelector('#alarms-wrong').textContent`)
	p.touchOf(`#alarms`)
	p.touchOf(`[data-do="start"]`)
	p.until(`document.querySelector('.under-way')`)
	shownBack, shownOff := headTimes(p)
	assert.Equal(t, back.Unix(), shownBack.Unix())
	assert.Equal(t, off.Unix(), shownOff.Unix())

	// Past due back, somebody ashore may be calling for help.
	p.clockTo(off.Add(61 * time.Minute))
	p.until(`document.querySelector('[data-late]')?.textContent.includes('Kim')`)
	p.heard()
	p.run(chromedp.Reload())
	p.until(inStage("off"))
	p.until(`document.querySelector('[data-late]')`)
	var again bool
	p.eval(`Boolean(document.querySelector('.warning'))`, &again)
	assert.False(t, again, "what was heard is not warned of again after a reload")
}

const stageKnown = `document.querySelector('.back-head')?.dataset.startBack`

// crossing is the first minute after a low water at which the core's water stands at a level.
func crossing(t *testing.T, low time.Time, level float64) time.Time {
	t.Helper()
	var core struct {
		Heights []struct {
			Time   time.Time
			Height float64
		}
	}
	askCore(t, "heights", fmt.Sprintf(`{"station":"noaa/9414290","zone":"UTC","from":%q,"to":%q,"every":"1m"}`, low.Format(time.RFC3339), low.Add(12*time.Hour).Format(time.RFC3339)), &core)
	for _, h := range core.Heights {
		if h.Height >= level {
			return h.Time
		}
	}
	require.Fail(t, "the water does not rise to it")
	return time.Time{}
}
