package main

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// yearShown is true once a year, reckoned now, stands on the page with its moons.
func yearShown(year string) string {
	return `document.querySelector('.year[data-year="` + year + `"][data-kept="false"][data-moons="true"]')`
}

// sanFrancisco is the shore of chooseShore as the core is asked about it.
const sanFrancisco = `{"station":"noaa/9414290","below":0.3,"wayOff":0.9,"cutOff":true,"margin":20,"walkOut":15,"raise":0.2}`

// minutesByDay sums the usable minutes of a year's windows by the day of the low.
func minutesByDay(t *testing.T, shore string, year int) map[string]int {
	t.Helper()
	var answer struct {
		Windows []struct {
			Day           string
			UsableMinutes int
		}
	}
	askCore(t, "windows", fmt.Sprintf(`{"shore":%s,"from":"%d-01-01","to":"%d-01-01","light":"sun","least":40}`, shore, year, year+1), &answer)
	sums := map[string]int{}
	for _, w := range answer.Windows {
		sums[w.Day] += w.UsableMinutes
	}
	require.Greater(t, len(sums), 20, "or little is compared")
	return sums
}

// sameYear compares every cell of the year shown.
func sameYear(p *tab, want map[string]int) {
	p.t.Helper()
	var cells map[string]string
	p.eval(`Object.fromEntries([...document.querySelectorAll('.year-slide .year-grid [data-day]')].map((c) => [c.dataset.day, c.dataset.minutes]))`, &cells)
	require.GreaterOrEqual(p.t, len(cells), 365)
	shown := map[string]int{}
	for day, words := range cells {
		minutes, err := strconv.Atoi(words)
		require.NoError(p.t, err)
		if minutes > 0 {
			shown[day] = minutes
		}
	}
	assert.Equal(p.t, want, shown)
}

// TestYearWithoutSignal: the year's cells are the sums of the windows by local day; the
// server dies; another year, a day of it and the list still come out right.
func TestYearWithoutSignal(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	readyForOffline(p)
	server.kill(t)
	for _, year := range []int{2027, 2044, 1969} {
		p.goTo(server, fmt.Sprintf("/plan/year/%d", year), yearShown(strconv.Itoa(year)))
		sameYear(p, minutesByDay(t, sanFrancisco, year))
	}
	// The months as figures: a row for each day with a window, with its minutes.
	var rows map[string]string
	p.eval(`Object.fromEntries([...document.querySelectorAll('.months tbody tr')].map((r) => [r.dataset.day, r.cells[2].textContent]))`, &rows)
	want := minutesByDay(t, sanFrancisco, 1969)
	require.Len(t, rows, len(want))
	for day, minutes := range want {
		assert.Equal(t, fmt.Sprint(minutes), rows[day], day)
	}
	p.goTo(server, "/plan/day/1969-07-20", dayShown("1969-07-20"))
}

// TestPrintedYear: the year prints on one page, a name and the datum on it.
func TestPrintedYear(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/year/2027", yearShown("2027"))
	var sheet string
	p.eval(`document.querySelector('.sheet').textContent`, &sheet)
	for _, words := range []string{"San Francisco", "MLLW", "2027", "stronomical", "tart back"} {
		assert.Contains(t, sheet, words)
	}
	assert.Equal(t, 1, p.pages())
}

// TestYearByFinger: a tap on a cell opens its day; a finger that slides reads the days that
// it passes and opens the one where it lifts; the way back is where one was.
func TestYearByFinger(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/year/2027", yearShown("2027"))
	cell := func(day string) [2]float64 {
		t.Helper()
		p.box(".year-slide")
		var at [2]float64
		p.eval(`(() => { const b = document.querySelector('.year-slide [data-day="`+day+`"] .foot').getBoundingClientRect(); return [b.x + b.width / 2, b.y - 12]; })()`, &at)
		return at
	}
	p.touch(cell("2027-03-21"))
	p.until(dayShown("2027-03-21"))
	p.run(chromedp.NavigateBack())
	p.until(yearShown("2027"))

	from, to := cell("2027-06-10"), cell("2027-06-20")
	p.touch(from, [2]float64{(from[0] + to[0]) / 2, from[1]}, to)
	p.until(dayShown("2027-06-20"))
}

// TestYearIsSpoken: the year is one control that says the day pointed at, and twelve
// months of figures.
func TestYearIsSpoken(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/year/2027", yearShown("2027"))
	p.run(chromedp.Focus(".year-slide", chromedp.ByQuery), chromedp.KeyEvent(kb.Home))
	says := func(pattern string) {
		t.Helper()
		var words string
		p.eval(`document.querySelector('.year-slide').getAttribute('aria-valuetext')`, &words)
		assert.Regexp(t, pattern, words)
		spoken := p.spoken()
		assert.Contains(t, spoken, "slider Day of the year")
		assert.Contains(t, spoken, "StaticText "+words)
	}
	says(`^Fri 1 Jan 2027: (no window|\d\d:\d\d – \d\d:\d\d.*)$`)
	p.run(chromedp.KeyEvent(kb.PageUp), chromedp.KeyEvent(kb.ArrowRight))
	says(`^Tue 2 Feb 2027: `)
	p.run(chromedp.KeyEvent(kb.End), chromedp.KeyEvent(kb.ArrowRight))
	says(`^Fri 31 Dec 2027: `)

	var nothing any
	p.eval(`document.querySelectorAll('.months details').forEach((d) => d.open = true); null`, &nothing)
	spoken := p.spoken()
	for _, name := range []string{"columnheader Day", "columnheader Usable", "columnheader Minutes", "link Fri 1 Jan", "heading The months in figures"} {
		assert.Contains(t, spoken, name)
	}
}

// TestAnyYear: another year is typed; what is no year is said beside the field.
func TestAnyYear(t *testing.T) {
	t.Parallel()
	server, p := plan(t)
	p.goTo(server, "/plan/year/2027", yearShown("2027"))
	for _, wrong := range []string{"1899", "2101", "next"} {
		p.write(`[name="year"]`, wrong+kb.Enter)
		p.until(`document.querySelector('#any-year').textContent.includes('1900 to 2100')`)
	}
	for _, year := range []string{"1900", "2100"} {
		p.write(`[name="year"]`, year+kb.Enter)
		p.until(yearShown(year))
		assert.Contains(t, p.text(), "are not reckoned")
	}
	for _, path := range []string{"/plan/year/1899", "/plan/day/2027-02-30", "/plan/day/x"} {
		p.goTo(server, path, `/can be shown/.test(document.querySelector('h1')?.textContent)`)
	}
}
