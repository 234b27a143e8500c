package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests here walk an outing from its start to all back.

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
	t.Parallel()
	w := goldenWindow(t)
	server, p := atGoldenGate(t, w.UsableFrom.Add(-30*time.Minute))
	p.allowed = true
	readyForOffline(p)
	server.kill(t)
	p.onNew(sounds)
	p.run(chromedp.Navigate(server.url + "/shore"))
	p.until(stands("fresh"))
	p.wet("before")

	// The least that safety needs is asked for.
	p.touchOf(`[data-do="go"]`)
	p.until(`document.querySelector('[data-panel="go"] form')`)
	p.touchOf(`[data-do="start"]`)
	p.until(`document.querySelector('#who-wrong').textContent && document.querySelector('#due-wrong').textContent && document.querySelector('#alarms-wrong').textContent`)
	p.wet("go-mistakes")
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
	p.wet("under-way")

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
	p.wet("heads")
	p.touchOf(`[data-do="count"]`)
	p.until(`document.querySelector('[data-missing="1"]')`)
	assert.Contains(t, p.textOf(".missing"), "Nobody searches alone")
	p.wet("missing")
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
	p.wet("thunder-heard")
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
	p.wet("locked")
	untilKept(p, "choices", `"locked":true`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-locked]') && document.querySelector('.back-head')?.dataset.startBack`)
	p.touchOf(`[data-do="unlock"]`)
	p.touchOf(`[data-do="unlock-sure"]`)
	p.until(`!document.querySelector('[data-locked]') && !document.querySelector('.frame').inert`)

	// The sea stands to the knee above what is shown: earlier, never later.
	p.clockTo(w.Low.Time.Add(-20 * time.Minute))
	p.follow("/shore/higher", `document.querySelector('[data-do="higher-knee"]')`)
	p.until(stageKnown)
	p.wet("higher")
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
	p.wet("start-back")
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
	p.wet("back")
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
	p.wet("all-back")
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
	t.Parallel()
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
	p.wet("start")
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
	untilKept(p, "choices", `"rank":4`)
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
