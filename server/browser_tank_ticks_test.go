package main

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"wrackbook/internal/store"
)

// onDay says whether a day of a tick sheet has been turned to, its heading spoken.
func onDay(day string) string {
	return `document.querySelector('.tick-form[data-day="` + day + `"]') && document.activeElement.id === 'tick-day'`
}

// TestTickSheet: a week is printed; typed in on Thursday, with its own days and observers, it
// starts the paused clock again; what is on file is not asked for, twice counts once, days to
// come are refused.
func TestTickSheet(t *testing.T) {
	server, p, ids := shelf(t)
	key := "tank/" + ids["Jar 2"]
	p.goTo(server, "/tanks/ticks", `document.querySelectorAll('[data-tick]').length === 5`)
	p.dry("ticks")
	p.whole("ticks")
	said, pages := p.sheet("ticks")
	assert.Equal(t, 1, pages)
	for _, words := range []string{"Tick sheet, The Lowes", "Mon 7 Dec 2026 to Sun 13 Dec 2026", "Mon 7 Dec", "Sun 13 Dec", "Jar 1", "Jar 4", "Hall", "S something seen"} {
		assert.Contains(t, said, words)
	}
	var order []string
	p.eval(`[...document.querySelectorAll('[data-tick] th')].map((e) => e.textContent)`, &order)
	assert.Equal(t, []string{"Jar 1", "Jar 2", "Jar 3", "Jar 4", "Hall"}, order, "as they stand on the shelf")

	// Jar 2 was last looked at on Monday at 10:00, 80 hours ago: paused. Its days from the second
	// of December on counted, the last of them Monday's.
	p.follow("/tanks/lid/"+key, `document.querySelector('.lid[data-state="paused"]')`)
	assert.Contains(t, p.textOf(".lid"), "6 of 28 days")
	p.follow("/tanks/ticks", `document.querySelector('[data-do="enter"]')`)
	p.press(`[data-do="enter"]`)
	p.until(`document.querySelector('.tick-form[data-day]')`)
	p.dry("ticks-enter")
	// Monday is on file but for the display.
	p.press(`[data-day="2026-12-07"]`)
	p.until(onDay("2026-12-07"))
	assert.Contains(t, p.textOf(`[data-system="`+key+`"]`), "On file: 10:00, Mara")
	p.press(`[data-day="2026-12-12"]`) // to come
	p.until(`document.querySelector('.tick-form[data-day="2026-12-07"]')`)
	p.press(`[data-day="2026-12-08"]`)
	p.until(onDay("2026-12-08"))
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('#tick-who-wrong').textContent && document.querySelector('.tick-form [role="alert"]').textContent && document.activeElement.matches('[aria-invalid="true"]')`)
	p.write("#tick-time", "25")
	p.choose("#tick-who", "Mara")
	p.press(`[data-do="all"]`)
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('#tick-time-wrong').textContent.includes('18:05') && document.activeElement.matches('[aria-invalid="true"]')`)
	p.write("#tick-time", "1005")
	p.press(`[data-do="keep"]`)
	p.until(onDay("2026-12-09") + ` && document.querySelector('[data-says]').textContent.includes('Tue 8 Dec')`)
	// Wednesday: all looked the same except Jar 3. The observer stands.
	p.press(`[data-do="all"]`)
	p.press(`input[name="mark-tank/` + ids["Jar 3"] + `"][value="seen"]`)
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-system="tank/` + ids["Jar 3"] + `"] .wrong').textContent && document.activeElement.matches('[aria-invalid="true"]')`)
	p.dry("ticks-seen")
	p.write(`[id="what-tank/`+ids["Jar 3"]+`"]`, "a white spot")
	p.set(`[id="grade-tank/`+ids["Jar 3"]+`"]`, "watch")
	p.press(`[data-do="keep"]`)
	p.until(onDay("2026-12-10"))
	// Thursday, today: not later than now.
	p.write("#tick-time", "1930")
	p.press(`[data-do="all"]`)
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('#tick-time-wrong').textContent.includes('future') && document.activeElement.matches('[aria-invalid="true"]')`)
	p.eval(`(() => { const time = document.querySelector('#tick-time'); time.value = ''; time.dispatchEvent(new Event('input', {bubbles: true})); return null; })()`, new(any))
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-says]').textContent.includes('Thu 10 Dec')`)

	looks := func() (at []string) {
		p.t.Helper()
		for _, r := range kept[struct {
			Kind   string
			Fields struct {
				Checked *struct{ At, Of, By string }
			}
		}](p, "records") {
			if c := r.Fields.Checked; c != nil && c.Of == key && c.At > "2026-12-07T12" {
				assert.Equal(t, ids["Mara"], c.By)
				at = append(at, c.At)
			}
		}
		return at
	}
	assert.ElementsMatch(t, []string{"2026-12-08T10:05:00Z", "2026-12-09T12:00:00Z", "2026-12-10T12:00:00Z"}, looks(), "without a time noon counts")

	// The clock: Tuesday 10:05 is 24 hours after Monday's look, so nothing paused after all. From
	// 2 to 9 December eight days counted; the tenth is open.
	p.follow("/tanks/lid/"+key, `document.querySelector('.lid[data-state="waiting"]')`)
	assert.Contains(t, p.textOf(".lid"), "8 of 28 days")
	p.follow("/tanks/lid/tank/"+ids["Jar 3"], `document.querySelector('.lid[data-state="paused"]')`)
	assert.Contains(t, p.textOf(".lid"), "A sign is open")

	// Typed in once more on a phone that has not heard of it: the ids are the same, so it counts once.
	p.follow("/tanks/ticks/enter/2026-12-07", `document.querySelector('[data-day="2026-12-08"]')`)
	p.press(`[data-day="2026-12-08"]`)
	p.until(`document.querySelector('.tick-form[data-day="2026-12-08"] [data-system="` + key + `"][data-on-file]')`)
	p.follow("/tanks/ticks/enter/2026-12-14", `document.querySelector('h1')`)
	assert.Contains(t, p.text(), "has not begun")
}

// aJar writes an adult, a child and a jar with a hermit crab through the app's own book, and
// gives their ids.
func aJar(p *tab) (ids map[string]string) {
	p.t.Helper()
	appModules(p, "book", "ids")
	p.eval(`(async () => {
		const made = {};
		const put = async (name, kind, fields) => { made[name] = ids.uuidv7(); await book.write(kind, made[name], fields); };
		await put('Mara', 'member', {name: 'Mara', age: 'adult'});
		await put('Ada', 'member', {name: 'Ada', age: 'child'});
		await put('jar', 'tank', {name: 'Jar 1', use: 'quarantine', volumeL: 2});
		await put('hermit', 'specimen', {name: 'Rosie', taxon: 'Pagurus bernhardus', group: 'hermits', source: 'a friend'});
		const at = new Date(Date.now() - 20 * 86400000).toISOString().slice(0, 19) + 'Z';
		await put('came', 'event', {arrived: {at, of: 'specimen/' + made.hermit, by: made.Mara, tank: made.jar}});
		return made;
	})()`, &ids)
	return ids
}

// TestOneSheetOnTwoPhones: two people type in the same sheet before their phones have met;
// afterwards it counts once. A child's phone types in children's ticks and hands nothing on.
func TestOneSheetOnTwoPhones(t *testing.T) {
	server, a, b := joinedPhones(t, t.TempDir(), store.Collector)
	ids := aJar(a)
	exchanged(a)
	exchanged(b)
	monday := time.Now().UTC().AddDate(0, 0, -7-(int(time.Now().UTC().Weekday())+6)%7).Format("2006-01-02")
	for _, p := range []*tab{a, b} {
		p.goTo(server, "/tanks/ticks/enter/"+monday, `document.querySelector('.tick-form [data-system="tank/`+ids["jar"]+`"]')`)
		p.eval(`window.fetch = () => Promise.reject(new TypeError('no signal')); null`, new(any))
		p.allowed = true
		p.choose("#tick-who", "Mara")
		p.press(`input[name="mark-tank/` + ids["jar"] + `"][value="looked"]`)
		p.press(`[data-do="keep"]`)
		p.until(`document.querySelector('[data-says]').textContent.includes('One line')`)
	}
	looks := func(p *tab) (n int) {
		for _, r := range kept[struct {
			Kind   string
			Fields map[string]any
		}](p, "records") {
			if r.Kind == "event" && r.Fields["checked"] != nil {
				n++
			}
		}
		return n
	}
	for _, p := range []*tab{a, b, a} {
		p.run(chromedp.Reload())
		p.until(`document.querySelector('.tick-form')`)
		exchanged(p)
		assert.Equal(t, 1, looks(p))
	}

	child := startBrowser(t).open(t, server.url)
	joinBy(child, invited(a, store.Child), "Ada")
	exchanged(child)
	child.goTo(server, "/tanks/ticks/enter/"+monday, `document.querySelector('#tick-who')`)
	var people []string
	child.eval(`[...document.querySelectorAll('#tick-who option')].map((e) => e.textContent)`, &people)
	assert.Equal(t, []string{"Choose", "Ada"}, people, "an adult's name on a child's phone would count as an adult's word")
	child.follow("/tanks/hand-on/"+ids["hermit"], `document.querySelector('[data-trace]')`)
	assert.Contains(t, child.text(), "A child’s or a guest’s phone does not do this.")
	child.follow("/tanks/recall/"+ids["hermit"], `document.querySelector('[data-recall="1"] [data-do="print"]')`)
	var shares int
	child.eval(`document.querySelectorAll('[data-do="share"]').length`, &shares)
	assert.Zero(t, shares, "a child's phone sends nothing out")
	child.follow("/tanks/disposal/"+ids["hermit"], `document.querySelector('[data-drain]')`)
	assert.NotContains(t, child.text(), "Note that Rosie is gone")
	var asks int
	child.eval(`document.querySelectorAll('input[name="drain"]').length`, &asks)
	assert.Zero(t, asks)
}
