package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
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
	t.Parallel()
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
	p.wet("night")
	p.touchOf(`[data-do="dim"]`)
	p.until(`!` + dimmed)
}

// Three visits say how late the sea usually is at the marker; it stands on the shore's page
// and changes nothing by itself.
func TestUsuallyLate(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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
	t.Parallel()
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
