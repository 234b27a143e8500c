package main

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// dayShown is true once a day, reckoned now, stands on the page.
func dayShown(day string) string {
	return `document.querySelector('.day[data-on="` + day + `"][data-kept="false"]')`
}

// TestDayAgainstTheOffice: the waters on the page of 24 December 2026 are those that NOAA
// prints for San Francisco that local day (testdata/tides/noaa/9414290, UTC less 8 hours),
// on the clock to the very minute: 00:19 5.0 ft, 04:27 3.1 ft, 10:37 7.2 ft, 17:42 -1.8 ft.
func TestDayAgainstTheOffice(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	var shown []struct {
		Height float64 `json:",string"`
		Words  string
	}
	p.eval(`[...document.querySelectorAll('[data-table="waters"] tr[data-time]')].map((r) => ({Height: r.dataset.height, Words: r.innerText}))`, &shown)
	printed := []struct {
		kind, clock string
		feet        float64
	}{{"high water", "00:19", 5.0}, {"low water", "04:27", 3.1}, {"high water", "10:37", 7.2}, {"low water", "17:42", -1.8}}
	require.Len(t, shown, len(printed))
	for i, w := range printed {
		assert.Contains(t, shown[i].Words, w.clock)
		assert.Contains(t, shown[i].Words, w.kind)
		assert.InDelta(t, w.feet*0.3048, shown[i].Height, 0.017, "%s: half of the tenth of a foot that is printed, and 2 mm", w.clock)
	}
	assert.Contains(t, p.text(), "astronomical")
}

// reading is what the reading line says of a time.
type reading struct {
	minute int // on the clock
	height float64
	words  string
}

var spoken = regexp.MustCompile(`^(\d\d):(\d\d), ([-−]?\d+\.\d+) m, (rising|falling|about to turn), (lit|twilight|dark), (bare|under water)$`)

func (p *tab) reading() reading {
	p.t.Helper()
	var words string
	p.eval(`document.querySelector('[role="slider"]').getAttribute('aria-valuetext')`, &words)
	found := spoken.FindStringSubmatch(words)
	require.Len(p.t, found, 7, words)
	hour, _ := strconv.Atoi(found[1])
	minute, _ := strconv.Atoi(found[2])
	height, err := strconv.ParseFloat(strings.ReplaceAll(found[3], "−", "-"), 64)
	require.NoError(p.t, err)
	return reading{hour*60 + minute, height, words}
}

// touch puts a finger down at the first of some places and lifts it at the last.
func (p *tab) touch(places ...[2]float64) {
	p.t.Helper()
	at := func(place [2]float64) []*input.TouchPoint { return []*input.TouchPoint{{X: place[0], Y: place[1]}} }
	p.run(input.DispatchTouchEvent(input.TouchStart, at(places[0])))
	for _, place := range places[1:] {
		p.run(input.DispatchTouchEvent(input.TouchMove, at(place)))
	}
	p.run(input.DispatchTouchEvent(input.TouchEnd, []*input.TouchPoint{}))
}

// box is where an element is on the screen, scrolled to its middle.
func (p *tab) box(selector string) (box struct{ X, Y, Width, Height float64 }) {
	p.t.Helper()
	p.eval(`(() => { const e = document.querySelector(`+quoted(selector)+`); e.scrollIntoView({block: 'center', behavior: 'instant'}); const b = e.getBoundingClientRect(); return {X: b.x, Y: b.y, Width: b.width, Height: b.height}; })()`, &box)
	return box
}

// TestReadingLine: keys and a finger move the reading line over the day; what it says is
// the core's height to a centimetre, and rising, lit and bare where the core has it so.
func TestReadingLine(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	var answer struct {
		Heights []struct{ Height float64 }
	}
	askCore(t, "heights", `{"station":"noaa/9414290","zone":"America/Los_Angeles","from":"2026-12-24","to":"2026-12-25","every":"1m"}`, &answer)
	require.Len(t, answer.Heights, 24*60)
	var sky struct{ Lit, Civil []stretch }
	askCore(t, "sky", `{"lat":37.807,"lon":-122.465,"zone":"America/Los_Angeles","from":"2026-12-24","to":"2026-12-25"}`, &sky)
	require.NotEmpty(t, sky.Lit)
	midnight := time.Date(2026, 12, 24, 8, 0, 0, 0, time.UTC)
	check := func(is reading) {
		t.Helper()
		h := answer.Heights[is.minute].Height
		require.InDelta(t, h, is.height, 0.0101, is.words)
		at := midnight.Add(time.Duration(is.minute) * time.Minute)
		light := "dark"
		if during(sky.Civil, at) {
			light = "twilight"
		}
		if during(sky.Lit, at) {
			light = "lit"
		}
		assert.Contains(t, is.words, light)
		if math.Abs(h-0.3) > 0.002 {
			assert.Equal(t, h < 0.3, strings.HasSuffix(is.words, "bare"), is.words)
		}
		if is.minute > 0 {
			switch change := h - answer.Heights[is.minute-1].Height; {
			case change > 0.002:
				assert.Contains(t, is.words, "rising")
			case change < -0.002:
				assert.Contains(t, is.words, "falling")
			}
		}
	}
	press := func(keys ...string) reading {
		t.Helper()
		for _, key := range keys {
			p.run(chromedp.KeyEvent(key))
		}
		return p.reading()
	}
	p.run(chromedp.Focus(`[role="slider"]`, chromedp.ByQuery))
	require.Equal(t, 0, press(kb.Home).minute)
	at := 0
	for range 20 {
		at += 65
		is := press(kb.ArrowRight, kb.PageUp)
		require.Equal(t, at, is.minute)
		check(is)
	}
	assert.Equal(t, at-65, press(kb.ArrowLeft, kb.PageDown).minute)
	assert.Equal(t, at-65, press(kb.ArrowUp, kb.ArrowDown).minute)
	assert.Equal(t, 23*60+59, press(kb.End).minute)
	assert.Equal(t, 23*60+59, press(kb.ArrowRight).minute, "the day ends")

	// What is said stands above the curve too.
	var above string
	p.eval(`document.querySelector('.reading').textContent`, &above)
	assert.Equal(t, strings.ReplaceAll(p.reading().words, ", ", " · "), above)

	// A finger: it goes down at one place and slides to another.
	box := p.box(`[role="slider"]`)
	y := box.Y + box.Height/2
	p.touch([2]float64{box.X + 0.3*box.Width, y})
	first := p.reading()
	check(first)
	p.touch([2]float64{box.X + 0.3*box.Width, y}, [2]float64{box.X + 0.5*box.Width, y + 2}, [2]float64{box.X + 0.7*box.Width, y + 2})
	second := p.reading()
	check(second)
	// 36 and 6 pixels at the sides are not of the day.
	day := box.Width - 42
	assert.InDelta(t, (0.3*box.Width-36)/day*1440, first.minute, 5)
	assert.InDelta(t, (0.7*box.Width-36)/day*1440, second.minute, 5)
}

// stretch is a stretch of light.
type stretch struct{ From, To time.Time }

func during(stretches []stretch, at time.Time) bool {
	for _, s := range stretches {
		if !at.Before(s.From) && !at.After(s.To) {
			return true
		}
	}
	return false
}

// TestScrollIsNotTaken: a finger that goes up over the curve scrolls the page.
func TestScrollIsNotTaken(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	box := p.box(`[role="slider"]`)
	var before float64
	p.eval(`scrollY`, &before)
	x, y := box.X+box.Width/2, box.Y+box.Height*0.8
	var path [][2]float64
	for i := range 15 {
		path = append(path, [2]float64{x, y - float64(i)*12})
	}
	p.touch(path...)
	p.until(fmt.Sprintf(`scrollY > %g`, before+60))
}

// TestDayIsSpoken: a reader of the screen finds the reading, its value in words, and the
// day as tables.
func TestDayIsSpoken(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	spoken := p.spoken()
	assert.Contains(t, spoken, "slider Time of the day")
	assert.Contains(t, spoken, "StaticText "+strings.ReplaceAll(p.reading().words, ", ", " · "))
	for _, name := range []string{"heading Thu 24 Dec 2026", "heading The day in figures", "rowheader high water", "rowheader sunrise", "link ‹ Wed 23 Dec", "checkbox Choose Thu 24 Dec, 15:00, to tell friends"} {
		assert.Contains(t, spoken, name)
	}
}

// spoken is the accessibility tree as role and name. The words of a slider's value are not
// in it (Chromium 156 leaves them empty there); they are its aria-valuetext.
// The tree is read plainly: the types of cdproto refuse properties that they do not know.
func (p *tab) spoken() map[string]bool {
	p.t.Helper()
	type value struct {
		Value any `json:"value"`
	}
	var tree struct {
		Nodes []struct {
			Ignored bool  `json:"ignored"`
			Role    value `json:"role"`
			Name    value `json:"name"`
		} `json:"nodes"`
	}
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		return cdp.Execute(ctx, "Accessibility.getFullAXTree", nil, &tree)
	}))
	require.NotEmpty(p.t, tree.Nodes)
	said := map[string]bool{}
	for _, n := range tree.Nodes {
		if !n.Ignored {
			said[fmt.Sprint(n.Role.Value, " ", n.Name.Value)] = true
		}
	}
	return said
}

// TestDayWithoutTheCore: where the core cannot start, the day looked at last stands, marked
// as kept, and another try is offered.
func TestDayWithoutTheCore(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.allowed = true // the fetch that fails is an error on the console
	readyForOffline(p)
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	before := p.reading()
	untilKept(p, "answers", "2026-12-24")
	server.kill(t)
	var deleted int
	p.eval(`(async () => {
		let n = 0;
		for (const name of await caches.keys()) {
			const cache = await caches.open(name);
			for (const request of await cache.keys()) if (request.url.endsWith('.wasm') && await cache.delete(request)) n++;
		}
		return n;
	})()`, &deleted)
	require.Equal(t, 1, deleted)
	p.run(network.ClearBrowserCache(), chromedp.Reload())
	p.until(`document.querySelector('[data-do="retry"]')`)
	p.until(`document.querySelector('.day[data-kept="true"]')`)
	assert.Equal(t, before, p.reading())
	assert.Contains(t, p.text(), "Kept from")
	p.click(`[data-do="after"]`)
	p.until(`document.querySelector('h1').textContent.includes('25 Dec')`)
	p.until(`!document.querySelector('.day')`)
	assert.Contains(t, p.text(), "could not be reckoned", "a kept day is not shown for another")
}

// TestShoresOfEveryKind: the day and the year of shores with a small range, one tide a day,
// double waters, the polar night, and on the 180th meridian, as the core has them.
func TestShoresOfEveryKind(t *testing.T) {
	t.Parallel()
	_, p := plan(t)
	for _, shore := range []struct {
		name, station, zone, day string
		below                    float64
		hours                    int
		says                     string
	}{
		{"tropical, small range", "noaa/1612340", "Pacific/Honolulu", "2026-06-15", 0.2, 24, ""},
		{"one tide a day", "noaa/8729840", "America/Chicago", "2026-06-13", 0.1, 24, ""},
		{"double waters", "ticon/southampton-sou-gbr-da_idh", "Europe/London", "2026-06-16", 1.0, 24, ""},
		{"polar night", "kartverket/HFT", "Europe/Oslo", "2026-12-20", 1.2, 24, "The sun does not rise"},
		{"polar day", "kartverket/HFT", "Europe/Oslo", "2026-06-20", 1.2, 24, "The sun does not set"},
		{"by the 180th meridian", "noaa/1910000", "Pacific/Fiji", "2026-06-20", 0.6, 24, ""},
		{"behind the 180th meridian", "noaa/1770000", "Pacific/Pago_Pago", "2026-06-20", 0.3, 24, ""},
		{"clocks go back", "noaa/8518750", "America/New_York", "2026-11-01", 0.3, 25, "25 hours: the clocks change"},
		{"clocks go forward", "noaa/8518750", "America/New_York", "2026-03-08", 0.3, 23, "23 hours: the clocks change"},
	} {
		t.Run(shore.name, func(t *testing.T) {
			p.follow("/plan/shore/new", `document.querySelector('#hand-id')`)
			var nothing any
			p.eval(`document.querySelector('details.hand').open = true; null`, &nothing)
			p.write("#hand-id", shore.station)
			p.click(`[data-do="id"]`)
			p.until(`document.querySelector('[data-chosen="` + shore.station + `"]')`)
			p.until(focusSettled)
			p.write("#name", shore.name)
			p.write("#below", fmt.Sprint(shore.below))
			p.click(`button[type="submit"]`)
			p.until(`document.querySelector('.shore-head h2')?.textContent === ` + quoted(shore.name))
			p.follow("/plan/day/"+shore.day, dayShown(shore.day))
			day, err := time.Parse(time.DateOnly, shore.day)
			require.NoError(t, err)
			var want struct {
				Waters []struct{ Height float64 }
			}
			askCore(t, "tides", fmt.Sprintf(`{"station":%q,"zone":%q,"from":%q,"to":%q}`, shore.station, shore.zone, shore.day, day.AddDate(0, 0, 1).Format(time.DateOnly)), &want)
			var shown []float64
			p.eval(`[...document.querySelectorAll('[data-table="waters"] tr[data-height]')].map((r) => Number(r.dataset.height))`, &shown)
			require.Len(t, shown, len(want.Waters))
			for i, w := range want.Waters {
				assert.InDelta(t, w.Height, shown[i], 0.0006)
			}
			assert.Contains(t, p.text(), shore.says)
			var longest int
			p.eval(`Number(document.querySelector('[role="slider"]').getAttribute('aria-valuemax'))`, &longest)
			assert.Equal(t, shore.hours*60-1, longest)
			p.run(chromedp.Focus(`[role="slider"]`, chromedp.ByQuery), chromedp.KeyEvent(kb.End))
			assert.Equal(t, 23*60+59, p.reading().minute, "the last minute of a day of any length")
			var path string
			p.eval(`document.querySelector('.day-chart .sea').getAttribute('d')`, &path)
			assert.NotContains(t, path, "NaN")
			assert.Greater(t, len(path), 200)
			p.follow("/plan/year/2027", yearShown("2027"))
			sameYear(p, minutesByDay(t, fmt.Sprintf(`{"station":%q,"zone":%q,"below":%g,"cutOff":true,"margin":20,"walkOut":15,"raise":0.2}`, shore.station, shore.zone, shore.below), 2027))
			var bad bool
			p.eval(`[...document.querySelectorAll('.year-grid *')].some((e) => [...e.attributes].some((a) => a.value.includes('NaN')))`, &bad)
			assert.False(t, bad)
		})
	}
}
