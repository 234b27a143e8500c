package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
)

// The tests here look after the water of tanks: readings, charts, changes, newcomers.

// waters is a display with a month of readings, a quarantine with two newcomers in it, three
// jars of one bag.
const waters = `
	made.show = await tank('Long tank', 'display', {volumeL: 180, order: 1, keeps: {salinityLow: 32, salinityHigh: 36, lowC: 10, highC: 16},
		targets: {nitrateMgNL: {low: 0, high: 5}, alkalinity: {low: 7, high: 11, unit: 'dKH'}}, fillLine: {litresPerCm: 3.6, note: 'the white mark'}, every: {readDays: 7}});
	made.wait = await tank('Waiting tank', 'quarantine', {volumeL: 40, order: 2, keeps: {salinityLow: 32, salinityHigh: 36, lowC: 10, highC: 16}});
	made.crab = await lives('Pagurus bernhardus', 'hermits', made.wait, 3, {name: 'Common hermit crab'});
	made.prawn = await lives('Palaemon serratus', 'shrimps', made.wait, 3, {name: 'Common prawn'});
	for (let n = 1; n < 4; n++) {
		made['jar' + n] = await tank('Jar ' + n, 'quarantine', {volumeL: 2, order: 2 + n});
		made['weed' + n] = await lives('Ulva lactuca', 'greens', made['jar' + n], 2, {name: 'Sea lettuce ' + n, base: 'cut'});
	}
	const celsius = [9.5, 12, 13, 16.5];
	for (const [i, temperatureC] of celsius.entries()) await write('reading', {sample: {at: ago(24 * (25 - 7 * i)), of: 'tank/' + made.show, by: mum}, temperatureC,
		salinity: {value: 33 + i / 2, instrument: 'conductivity', scale: 'PSS-78', sampleC: null}, nitrateMgNL: i * 2, alkalinity: {value: 3, unit: 'meq/L'}});
	await write('reading', {sample: {at: ago(24 * 60), of: 'tank/' + made.show, by: mum}, temperatureC: 11});
	await write('reading', {sample: {at: ago(20), of: 'tank/' + made.wait, by: mum}, temperatureC: 14, pH: {value: 8.1, scale: 'NBS'},
		salinity: {value: 33, instrument: 'conductivity', scale: 'PSS-78', sampleC: null}});
`

// recordsIn gives the fields of the records of a kind that a phone keeps, the oldest first.
func recordsIn(p *tab, kind string) (list []map[string]any) {
	p.t.Helper()
	for _, r := range kept[struct {
		Kind   string
		Fields map[string]any
	}](p, "records") {
		if r.Kind == kind && r.Fields["deleted"] != true {
			list = append(list, r.Fields)
		}
	}
	return list
}

// happened gives what the events of one kind say, the oldest first.
func happened(p *tab, what string) (list []map[string]any) {
	p.t.Helper()
	for _, fields := range recordsIn(p, "event") {
		if is, ok := fields[what].(map[string]any); ok {
			list = append(list, is)
		}
	}
	return list
}

// sound holds every record that a phone keeps to what the book takes.
func sound(p *tab) {
	p.t.Helper()
	list := kept[struct {
		Kind   string
		Fields map[string]json.RawMessage
	}](p, "records")
	require.NotEmpty(p.t, list)
	for _, r := range list {
		assert.Empty(p.t, book.Check(r.Kind, r.Fields), "%s %s", r.Kind, r.Fields)
	}
}

// fillIn writes into a field and leaves it.
func (p *tab) fillIn(name, words string) {
	p.t.Helper()
	p.write(`[name="`+name+`"]`, words)
	p.eval(`document.activeElement.blur(); null`, new(any))
}

func (p *tab) wrongOf(name string) string {
	return p.textOf(`[id="` + name + `-wrong"]`)
}

// Every page of the water, light and dark, on a phone and on a desk.
func TestWaterPages(t *testing.T) {
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, waters)
	p.follow("/tanks/tank/new", `document.querySelector('#name')`)
	p.unfold()
	p.stands("tank-new")
	p.follow("/tanks/tank/"+ids["show"], `document.querySelectorAll('.chart [role="slider"]').length === 4 && document.querySelector('.readings [data-kind="salinity"] strong').innerText === '34.5'`)
	p.unfold()
	p.until(`document.querySelectorAll('.chart tbody').length === 4`)
	p.stands("tank")
	p.follow("/tanks/tank/"+ids["show"]+"/edit", `document.querySelector('#name')?.value === 'Long tank'`)
	p.unfold()
	p.stands("tank-edit")
	p.follow("/tanks/reading/tank/"+ids["wait"], `document.querySelector('#salinity')`)
	p.fillIn("salinity", "90")
	p.fillIn("temperatureC", "59")
	p.fillIn("ammoniaMgNL", "2")
	p.stands("reading")
	p.follow("/tanks/change/tank/"+ids["show"], `document.querySelector('#changeL')`)
	p.fillIn("changeL", "36")
	p.press(`[name="from"][value="system"]`)
	p.until(`document.querySelector('[data-restarts]') && !document.querySelector('[data-change="none"]')`)
	p.stands("change")
	p.follow("/tanks/water", `document.querySelector('[data-sum="mix"]')`)
	p.unfold()
	p.stands("sums")
	p.follow("/tanks/acclimate", `document.querySelectorAll('.acclimate input[type="checkbox"]').length === 5`)
	p.stands("acclimate-whom")
	p.follow("/tanks/acclimate/"+ids["crab"]+"+"+ids["prawn"], `document.querySelector('[name="bag.volume"]')`)
	aBag(p, "2", "28", "18")
	p.fillIn("hours", "5")
	p.until(`document.querySelector('[data-plan="drip"][data-hurry="true"]')`)
	p.stands("acclimate")
	p.press(`[data-do="begin"]`)
	p.until(`document.querySelector('[data-stage="before"]')`)
	for _, stage := range []string{"prepare", "over", "float", "drip"} {
		p.press(`[data-do="on"]`)
		p.until(`document.querySelector('[data-stage="` + stage + `"]')`)
	}
	p.stands("acclimate-drips")
	p.press(`[data-do="break"]`)
	p.until(`document.querySelector('.confirm')`)
	p.press(`[data-do="confirm"]`)
	p.until(`document.querySelector('[data-ended="broken off"]')`)
	p.stands("acclimate-ended")
}

// aBag fills in the water of a bag: litres, ppt by conductivity, °C.
func aBag(p *tab, litres, salinity, celsius string) {
	p.t.Helper()
	p.set(`[name="bag.instrument"]`, "conductivity")
	p.set(`[name="bag.scale"]`, "PSS-78")
	p.fillIn("bag.volume", litres)
	p.fillIn("bag.salinity", salinity)
	p.fillIn("bag.temperatureC", celsius)
}

// A tank is added with its ranges; what is wrong is said at its field and nothing is lost.
func TestTankIsAdded(t *testing.T) {
	_, p := atHome(t, sundayMorning())
	p.press(`[data-do="new-tank"]`)
	p.until(`document.querySelector('#name')`)
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'name'`)
	assert.Contains(t, p.wrongOf("name"), "Give it a name")
	p.write("#name", "Pool by the window")
	p.write("#volume", "-20")
	p.write("#salinityLow", "32")
	p.write("#salinityHigh", "90")
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'volume'`)
	assert.Contains(t, p.wrongOf("volume"), "more than 0")
	assert.Contains(t, p.wrongOf("salinityHigh"), "from 0 to 42")
	untilKept(p, "drafts", `"salinityHigh":"90"`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#salinityHigh')?.value === '90' && document.querySelector('[data-draft]')`)
	assert.Empty(t, recordsIn(p, "tank"))
	p.write("#volume", "20")
	p.write("#salinityHigh", "36")
	p.write("#lowC", "50")
	p.write("#highC", "59")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-ask="lowC"]')`)
	p.press(`[data-ask="lowC"]`)
	p.press(`[data-ask="highC"]`)
	p.until(`document.querySelector('#lowC').value === '10.0' && document.querySelector('#highC').value === '15.0'`)
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('.tank[data-tank]')`)
	list := recordsIn(p, "tank")
	require.Len(t, list, 1)
	assert.Equal(t, "Pool by the window", list[0]["name"])
	assert.Equal(t, "quarantine", list[0]["use"])
	assert.Equal(t, 20.0, list[0]["volumeL"])
	assert.Equal(t, map[string]any{"salinityLow": 32.0, "salinityHigh": 36.0, "lowC": 10.0, "highC": 15.0}, list[0]["keeps"])
	assert.Contains(t, p.text(), "Salinity 32 to 36 · 10 to 15 °C")
	assert.Contains(t, p.text(), "Nothing was read yet.")
	sound(p)
}

var bounds = regexp.MustCompile(`may be ([0-9.]+) to ([0-9]+[.][0-9])`)

// What is read is said at once for what it means; what cannot be is refused with a sentence,
// what may be meant otherwise is asked, and a reload loses nothing of either.
func TestReadingsGoodAndBad(t *testing.T) {
	server, p := atHome(t, sundayMorning())
	ids := keeping(p, waters)
	path := "/tanks/reading/tank/" + ids["wait"]
	p.follow(path, `document.querySelector('#salinity')`)

	// "1.025" with nothing beside it is anything from 32.6 to 37.2, by EOS-80 on the scales in use.
	p.set(`[name="scale"]`, "SG unknown")
	p.fillIn("salinity", "1.025")
	p.until(`document.querySelector('#meaning strong')?.innerText.includes('may be') && document.querySelector('#meaning').dataset.coming === 'false'`)
	said := bounds.FindStringSubmatch(p.textOf("#meaning"))
	require.Len(t, said, 3, p.textOf("#meaning"))
	least, _ := strconv.ParseFloat(said[1], 64)
	most, _ := strconv.ParseFloat(said[2], 64)
	assert.LessOrEqual(t, least, 32.6)
	assert.Greater(t, least, 31.0)
	assert.GreaterOrEqual(t, most, 37.2)
	assert.Less(t, most, 39.0)

	// On its scale it is 33.188 (SG 25/25).
	p.set(`[name="instrument"]`, "hydrometer")
	p.set(`[name="scale"]`, "SG 25/25")
	p.fillIn("sampleC", "25")
	p.until(`document.querySelector('#meaning').innerText.includes('salinity of 33.2')`)

	p.fillIn("temperatureC", "59")
	p.until(`document.querySelector('[data-ask="temperatureC"]')`)
	assert.Contains(t, p.wrongOf("temperatureC"), "15.0 °C")
	p.fillIn("pH", "15")
	p.fillIn("nitrateMgNL", "-4")
	p.fillIn("ammoniaMgNL", "2")
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'temperatureC'`)
	assert.Contains(t, p.wrongOf("pH"), "from 4 to 11")
	assert.Contains(t, p.wrongOf("nitrateMgNL"), "less than 0")
	assert.Len(t, recordsIn(p, "reading"), 6, "nothing is kept")
	untilKept(p, "drafts", `"ammoniaMgNL":"2"`)
	p.goTo(server, path, `document.querySelector('#pH')?.value === '15' && document.querySelector('#salinity').value === '1.025' && document.querySelector('#scale').value === 'SG 25/25'`)
	p.fillIn("temperatureC", "59")
	p.press(`[data-ask="temperatureC"]`)
	p.until(`document.querySelector('#temperatureC').value === '15.0'`)
	p.fillIn("nitrateMgNL", "4.5")
	p.set(`[name="nitrateMgNL.as"]`, "NO3")
	p.fillIn("pH", "8.2")
	p.fillIn("temperatureC", "20")

	// 2 mg N/L of ammonia at pH 8.2, 20 °C and 34 hold 0.097 mg N/L of NH3 (0.118 mg/L): more
	// than 0.035, less than 0.233.
	p.until(`document.querySelector('[data-nh3="long"]')`)
	assert.Contains(t, p.textOf("[data-nh3]"), "Change a third to a half of the water")
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'saved'`)
	list := recordsIn(p, "reading")
	require.Len(t, list, 7)
	one := list[len(list)-1]
	assert.Equal(t, map[string]any{"value": 1.025, "instrument": "hydrometer", "scale": "SG 25/25", "sampleC": 25.0}, one["salinity"])
	assert.Equal(t, 20.0, one["temperatureC"])
	assert.InDelta(t, 4.5*0.2259, one["nitrateMgNL"], 0.001)
	assert.Equal(t, "tank/"+ids["wait"], one["sample"].(map[string]any)["of"])
	assert.Equal(t, "high", p.attribute(`.readings [data-kind="temperatureC"]`, "stands"))
	assert.Contains(t, p.textOf(`.readings [data-kind="temperatureC"]`), "above")

	sound(p)

	// Instrument and scale are remembered, at another tank too; the rest is not.
	p.follow("/tanks/reading/tank/"+ids["show"], `document.querySelector('#scale')?.value === 'SG 25/25'`)
	var typed string
	p.eval(`document.querySelector('#instrument').value + document.querySelector('#salinity').value + document.querySelector('#pH').value`, &typed)
	assert.Equal(t, "hydrometer", typed)
	p.fillIn("salinity", "90")
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'salinity'`)
	p.until(`document.querySelector('[id="salinity-wrong"]').innerText.includes('from 0.990 to 1.045')`)
	p.set(`[name="scale"]`, "ppt")
	p.until(`document.querySelector('[id="salinity-wrong"]').innerText.includes('from 0 to 42')`)
}

// Every point of a chart is read by keys and by a finger, and stands in a table.
func TestChartIsRead(t *testing.T) {
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, waters)
	p.follow("/tanks/tank/"+ids["show"], `document.querySelector('[data-kind="temperatureC"] [role="slider"]')`)
	slider := `[data-kind="temperatureC"] [role="slider"]`
	says := func(words string) string {
		return `document.querySelector(` + quoted(slider) + `).getAttribute('aria-valuetext').includes(` + quoted(words) + `)`
	}
	p.until(says("16.5 °C, above"))
	p.run(chromedp.Focus(slider, chromedp.ByQuery))
	for _, step := range []struct{ key, words string }{
		{kb.ArrowLeft, "13.0 °C, within"}, {kb.Home, "9.5 °C, below"}, {kb.ArrowLeft, "9.5 °C, below"}, {kb.ArrowRight, "12.0 °C, within"}, {kb.End, "16.5 °C, above"},
	} {
		p.run(chromedp.KeyEvent(step.key))
		p.until(says(step.words))
	}
	box := p.box(slider)
	p.touch([2]float64{box.X + 50, box.Y + 60})
	p.until(says("9.5 °C, below"))
	assert.Contains(t, p.textOf(`section[data-kind="temperatureC"] .reading`), "9.5 °C")

	p.unfold()
	p.until(`document.querySelector('section[data-kind="temperatureC"] tbody tr')`)
	var rows []string
	p.eval(`[...document.querySelectorAll('section[data-kind="temperatureC"] tbody tr')].map((r) => [...r.querySelectorAll('td')].map((d) => d.innerText).join(' '))`, &rows)
	assert.Equal(t, []string{"16.5 °C above", "13.0 °C within", "12.0 °C within", "9.5 °C below"}, rows)
	p.press(`[name="span"][value="quarter"]`)
	p.until(`document.querySelector('section[data-kind="temperatureC"]').dataset.points === '5'`)

	// 3 meq/L are 8.4 dKH, in which the range is given.
	assert.Contains(t, p.textOf(`.readings [data-kind="alkalinity"]`), "8.4 dKH")
	// What is not within its range is told by its word, and 60 days ago by its age.
	assert.Contains(t, p.textOf(`.readings [data-kind="temperatureC"]`), "4 days ago")
	assert.Contains(t, p.textOf(`.readings [data-kind="nitrateMgNL"]`), "above")
}

// A change of water is worked out, said for what it does to the wait before it is noted, and
// noted with where the water was from; what went into the air is topped up with fresh water.
func TestWaterIsChanged(t *testing.T) {
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, waters)
	p.follow("/tanks/change/tank/"+ids["wait"], `document.querySelector('#changeL')`)
	p.fillIn("changeL", "8")
	p.until(`document.querySelector('#target').value === '34'`)
	// A fifth, from 33 to 34: the new water must have 38.0.
	p.until(`document.querySelector('[data-change]')?.dataset.change === '38'`)
	assert.Contains(t, p.textOf("[data-change]"), "8 L of a salinity of 38.0.")
	assert.Contains(t, p.textOf("[data-change]"), "Afterwards its salinity is 34.0")

	p.press(`[name="from"][value="shore"]`)
	p.until(`document.querySelector('[data-restarts]')?.innerText.includes('begins anew for all 2')`)
	assert.Contains(t, p.textOf(`[data-do="keep"]`), "the wait begins anew")
	p.press(`[name="from"][value="stored"]`)
	p.until(`!document.querySelector('[data-restarts]')`)
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'changed'`)
	list := happened(p, "waterChanged")
	require.Len(t, list, 1)
	assert.Equal(t, 8.0, list[0]["litres"])
	assert.Equal(t, "stored", list[0]["from"])
	assert.Equal(t, "tank/"+ids["wait"], list[0]["of"])
	p.press(`[data-saved="changed"] [data-do="undo"]`)
	p.until(`document.querySelector('#changeL')`)
	assert.Empty(t, happened(p, "waterChanged"))

	p.fillIn("changeL", "-8")
	p.until(`document.querySelector('[id="changeL-wrong"]').innerText.includes('less than 0')`)
	p.fillIn("changeL", "80")
	p.until(`document.querySelector('[id="changeL-wrong"]').innerText.includes('more than the 40 L')`)

	// 2 cm below the line at 3.6 L a centimetre.
	p.follow("/tanks/change/tank/"+ids["show"], `document.querySelector('[name="top.cm"]')`)
	p.fillIn("top.cm", "2")
	p.until(`document.querySelector('[data-top="7.2"]')?.innerText.includes('34.5')`)
	p.press(`[data-do="top-up"]`)
	p.until(`document.activeElement.id === 'topped'`)
	top := happened(p, "toppedUp")
	require.Len(t, top, 1)
	assert.Equal(t, 7.2, top[0]["litres"])
	p.follow("/tanks/tank/"+ids["show"], `document.querySelector('.tank .log')`)
	assert.Contains(t, p.textOf(".tank .log"), "7.2 L of fresh water topped up")
	sound(p)

	// The sums for themselves: 10 L of 35 at 25 °C hold 358.17 g of salt; four changes of a
	// fifth with 5 between them bring 40 to 28.192 and in the end to 20.
	p.follow("/tanks/water", `document.querySelector('[data-sum="mixed"]')`)
	p.unfold()
	for field, words := range map[string]string{"mixed.litres": "10", "mixed.target": "35", "mixed.temperature": "25", "repeat.litres": "100", "repeat.changeL": "20", "repeat.start": "40", "repeat.added": "5"} {
		p.fillIn(field, words)
	}
	p.until(`document.querySelector('[data-sum="mixed"] [data-answer]')?.innerText.includes('358 g')`)
	p.until(`document.querySelector('[data-sum="repeat"] [data-answer]')?.innerText.includes('28.2')`)
	assert.Contains(t, p.textOf(`[data-sum="repeat"] [data-answer]`), "settles at 20")
}

var planned = regexp.MustCompile(`it may be ([0-9.]+) apart`)

// Newcomers are let in by a drip, without signal and with reloads in the middle: what stands
// on the page is told by instants and not by counting.
func TestDripGoesOnAfterAReload(t *testing.T) {
	server, p := atHome(t, sundayMorning())
	p.allowed = true // fetches that fail are told in the console
	ids := keeping(p, waters)
	p.click(`nav a[href="/house"]`)
	p.until(offline)
	p.until(stationsHere)
	server.kill(t)
	p.follow("/tanks/acclimate/"+ids["crab"]+"+"+ids["prawn"], `document.querySelector('[name="tank.salinity"]')?.value === '33'`)
	assert.Contains(t, p.text(), "Still missing: how much water the bag holds")
	p.press(`[data-do="begin"]`)
	p.until(`document.querySelector('.acclimate [role="alert"]').innerText.includes('Still missing')`)
	aBag(p, "2", "28", "18")
	p.fillIn("drops", "96")
	p.until(`document.querySelector('[data-plan="drip"]')`)
	assert.Contains(t, p.text(), "It never goes into a tank, a system or the sea.")

	// By q = r V/gap: the prawn bears 1 an hour, the gap is at most what the page says.
	gap := planned.FindStringSubmatch(p.textOf("[data-plan]"))
	require.Len(t, gap, 2)
	worst, _ := strconv.ParseFloat(gap[1], 64)
	rate := 2000 / worst / 60 // mL a minute
	var drops float64
	p.eval(`Number(document.querySelector('[data-run="discard"] .big-number').innerText)`, &drops)
	assert.InDelta(t, rate*96/5, drops, 2)

	p.press(`[name="drain"][value="sea"]`)
	p.until(`document.querySelector('[data-drain="sea"]')`)
	assert.Contains(t, p.textOf("[data-drain]"), "boil it and let it cool first")
	p.press(`[data-do="begin"]`)
	p.until(`document.querySelector('[data-stage="before"]')`)
	assert.Contains(t, p.text(), "A phone that sleeps cannot warn you.")
	p.press(`[data-do="on"]`)
	p.until(`document.querySelector('[data-stage="float"]')`)

	// 4 °C at 1 °C an hour are four hours afloat.
	began := sundayMorning()
	p.clockTo(began.Add(2 * time.Hour))
	p.until(`/^(2:0|1:5)/.test(document.querySelector('[data-countdown]').innerText)`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-stage="float"]') && /^(2:0|1:5)/.test(document.querySelector('[data-countdown]')?.innerText)`)
	assert.Equal(t, "true", p.attribute(`[data-do="on"]`, "early"))
	p.clockTo(began.Add(5 * time.Hour))
	p.until(`document.querySelector('[data-late="true"]')?.innerText.includes('The temperature is even')`)
	p.press(`[data-do="on"]`)
	p.until(`document.querySelector('[data-stage="drip"][data-step="0"]')`)
	assert.Equal(t, fmt.Sprintf("%.0f", drops), p.textOf("[data-drops]"))

	p.clockTo(began.Add(5*time.Hour + 31*time.Minute))
	p.until(`document.querySelector('[data-stage="drip"][data-step="1"]')`)
	p.press(`[name="awake"]`)
	untilKept(p, "drafts", `"wanted":true`)
	p.write("#along", "the crab sits on the stone")
	p.press(`[data-do="note"]`)
	p.until(`document.querySelector('[data-notes="1"]')`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-stage="drip"][data-step="1"] [data-notes="1"]')`)
	p.until(`document.querySelector('[name="awake"]').checked`)
	assert.Contains(t, p.textOf("[data-notes]"), "the crab sits on the stone")

	// What they stand in is read on the way, and one comes back to what runs.
	p.run(chromedp.Click(`.along a.button`, chromedp.ByQuery))
	p.until(`document.querySelector('#salinity')`)
	p.fillIn("temperatureC", "14.5")
	p.press(`[data-do="keep"]`)
	p.until(`document.querySelector('[data-do="to-run"]')`)
	p.press(`[data-do="to-run"]`)
	p.until(`document.querySelector('[data-notes="2"]')?.innerText.includes('Temperature 14.5 °C')`)

	// The line stops for an hour: nothing moves on, and afterwards everything is an hour later.
	p.press(`[data-do="pause"]`)
	p.until(`document.querySelector('[data-still="true"]')`)
	p.clockTo(began.Add(6*time.Hour + 31*time.Minute))
	p.run(chromedp.Reload())
	p.until(`document.querySelector('[data-stage="drip"][data-step="1"][data-still="true"]')`)
	p.press(`[data-do="pause"]`)
	p.until(`document.querySelector('[data-still="false"]')`)
	p.until(`/^(29|28):/.test(document.querySelector('[data-countdown]').innerText)`)
	var list []map[string]any
	list = happened(p, "acclimated")
	require.Len(t, list, 1)
	assert.Nil(t, list[0]["ended"])
	assert.Equal(t, "tank/"+ids["wait"], list[0]["of"])

	p.clockTo(began.Add(12 * time.Hour))
	p.until(`document.querySelector('[data-late="true"]')?.innerText.includes('The drip is over')`)
	p.press(`[data-do="on"]`)
	p.until(`document.querySelector('[data-stage="in"]')`)
	assert.Contains(t, p.text(), "Into Waiting tank.")
	p.press(`[data-do="on"]`)
	p.until(`document.activeElement.id === 'run-ended'`)
	list = happened(p, "acclimated")
	require.Len(t, list, 1)
	assert.Equal(t, "done", list[0]["how"])
	ended, err := time.Parse(time.RFC3339, list[0]["ended"].(string))
	require.NoError(t, err)
	assert.WithinDuration(t, began.Add(12*time.Hour), ended, 5*time.Minute)
	marks := list[0]["plan"].(map[string]any)["marks"].(map[string]any)
	assert.Less(t, marks["float"].(string), marks["drip"].(string))
	assert.Less(t, marks["drip"].(string), marks["in"].(string))
	assert.Len(t, recordsIn(p, "household"), 1)
	assert.Equal(t, "sea", recordsIn(p, "household")[0]["sinkDrain"], "asked once")
	sound(p)
}

// Jars are too small to drip into: one batch for all, never from jar to jar. Where the waters
// are alike nothing drips; where the ammonia is high, that is said first.
func TestAcclimationByTheWaters(t *testing.T) {
	_, p := atHome(t, sundayMorning())
	ids := keeping(p, waters)
	p.follow("/tanks/acclimate/"+strings.Join([]string{ids["weed1"], ids["weed2"], ids["weed3"]}, "+"), `document.querySelector('[name="tank.volume"]')?.value === '2'`)
	aBag(p, "1", "28", "14")
	p.set(`[name="tank.instrument"]`, "conductivity")
	p.set(`[name="tank.scale"]`, "PSS-78")
	p.fillIn("tank.salinity", "34")
	p.fillIn("tank.temperatureC", "14")
	p.until(`document.querySelector('[data-plan="batch"] [data-batch]')`)
	assert.Contains(t, p.textOf("[data-batch]"), "Prepare 6 L of clean water, of a salinity of 27.0 to 29.0")
	assert.Contains(t, p.textOf("[data-batch]"), "never from jar to jar")

	p.follow("/tanks/acclimate/"+ids["crab"], `document.querySelector('[name="tank.volume"]')?.value === '40'`)
	aBag(p, "2", "32.5", "14")
	p.until(`document.querySelector('[data-plan="match"]')`)
	assert.Contains(t, p.textOf("[data-plan]"), "no drip is needed")

	// 10 mg N/L at pH 6.8 hold little; at 8.1 and 14 °C they hold more than 0.233 mg/L of NH3.
	p.fillIn("bag.pH", "6.8")
	p.fillIn("bag.ammoniaMgNL", "10")
	p.until(`document.querySelector('[data-hurry="atOnce"]')`)
	var first bool
	p.eval(`Boolean(document.querySelector('[data-hurry="atOnce"]').compareDocumentPosition(document.querySelector('.plan-way')) & Node.DOCUMENT_POSITION_FOLLOWING)`, &first)
	assert.True(t, first, "the case to hurry is said first")
	p.fillIn("bag.ammoniaMgNL", "101")
	p.until(`document.querySelector('[data-plan="none"]')`)
	assert.Contains(t, p.wrongOf("bag.ammoniaMgNL"), "100 at most")
}

// Without the core a reading is kept as it was read, and nothing is said that nobody reckoned:
// no salinity, no plan, no "within".
func TestWaterWithoutTheCore(t *testing.T) {
	server, p := atHome(t, sundayMorning())
	ids := keeping(p, waters)
	p.allowed = true // the failure is told in the console
	p.onNew(`window.Worker = class { postMessage() {} terminate() {} set onerror(f) { setTimeout(() => f({message: 'no core'})); } };`)
	p.goTo(server, "/tanks/reading/tank/"+ids["wait"], `document.querySelector('#salinity')`)
	p.fillIn("salinity", "33")
	p.fillIn("temperatureC", "18")
	p.until(`document.querySelector('#meaning').innerText.includes('does not answer')`)
	p.press(`[data-do="keep"]`)
	p.until(`document.activeElement.id === 'saved'`)
	assert.Len(t, recordsIn(p, "reading"), 7)
	assert.Equal(t, "none", p.attribute(`.readings [data-kind="salinity"]`, "stands"))
	assert.Contains(t, p.textOf(`.readings [data-kind="salinity"]`), "Not reckoned")
	assert.Equal(t, "high", p.attribute(`.readings [data-kind="temperatureC"]`, "stands"), "18 °C need no reckoning")

	p.follow("/tanks/acclimate/"+ids["crab"], `document.querySelector('[name="tank.volume"]')?.value === '40'`)
	aBag(p, "2", "28", "18")
	p.until(`document.querySelector('[data-plan="none"]')`)
	p.press(`[data-do="begin"]`)
	p.until(`document.querySelector('.acclimate [role="alert"]').innerText.includes('does not answer')`)
	assert.Empty(t, happened(p, "acclimated"))

	// Water from the shore begins the wait anew, whoever waits.
	p.follow("/tanks/change/tank/"+ids["wait"], `document.querySelector('#changeL')`)
	p.fillIn("changeL", "5")
	p.press(`[name="from"][value="shore"]`)
	p.until(`document.querySelector('[data-restarts]')?.innerText.includes('not reckoned')`)
	assert.Contains(t, p.textOf(`[data-do="keep"]`), "the wait begins anew")
}
