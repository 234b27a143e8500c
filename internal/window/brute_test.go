package window_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// plain is a window as the plain reckoning below has it, in minutes of its grid.
type plain struct {
	litFrom, litTo, low, usableFrom, usableTo, offBy int
	raisedMinutes                                    int
	doubtful                                         bool // which low water is meant hangs on less than the grid can tell
}

// walker reckons windows minute by minute, walking along an array of heights. It knows the
// rules and nothing of the room: no crossings, no spells, no index.
type walker struct {
	begin  time.Time
	height []float64 // each minute
	light  []int     // each minute: the number of the lit stretch, 0 for none
	shore  window.Shore
}

func (k walker) minute(t time.Time) int { return int(t.Sub(k.begin) / time.Minute) }

func (k walker) rises() []float64 {
	raised := window.DefaultRaiseM
	if k.shore.RaiseM != nil {
		raised = *k.shore.RaiseM
	}
	rises := []float64{0, raised}
	if p := k.shore.PressureHPa; p != nil && *p < 1013 {
		rises = append(rises, (1013-*p)/100)
	}
	return rises
}

func (k walker) isLow(i int) bool {
	return k.height[i] < k.height[i-1] && k.height[i] <= k.height[i+1]
}

func (k walker) isHigh(i int) bool {
	return k.height[i] > k.height[i-1] && k.height[i] >= k.height[i+1]
}

// windows lists the windows that overlap the minutes [from, to).
func (k walker) windows(from, to int) []plain {
	var found []plain
	bright := func(i int) bool { return k.height[i] < k.shore.BelowM && k.light[i] != 0 }
	for i := 1; i < len(k.height)-1; i++ {
		if !bright(i) {
			continue
		}
		end := i
		for end < len(k.height)-2 && bright(end+1) && k.light[end+1] == k.light[i] {
			end++
		}
		if end >= from && i < to {
			if p, is := k.window(i, end); is {
				found = append(found, p)
			}
		}
		i = end
	}
	return found
}

// lowest is the lowest low water of the minutes [from, to], or -1.
func (k walker) lowest(from, to int) (low int, doubtful bool) {
	low, second := -1, math.Inf(1)
	for i := from; i <= to; i++ {
		switch {
		case !k.isLow(i):
		case low < 0:
			low = i
		case k.height[i] < k.height[low]:
			low, second = i, k.height[low]
		default:
			second = min(second, k.height[i])
		}
	}
	return low, low >= 0 && second-k.height[low] < 0.002
}

// flat says that a rise or fall of under 2 mm lies in the minutes [from, to]: whether that
// is a pair of waters is a matter of the scan.
func (k walker) flat(from, to int) bool {
	last := -1
	for i := max(from, 1); i <= min(to, len(k.height)-2); i++ {
		if k.isLow(i) || k.isHigh(i) {
			if last >= 0 && math.Abs(k.height[i]-k.height[last]) < 0.002 {
				return true
			}
			last = i
		}
	}
	return false
}

// turnsAt says that a low or high water stands within two minutes of i: on which side is
// more than the grid can tell.
func (k walker) turnsAt(i int) bool {
	for j := max(1, i-2); j <= min(i+2, len(k.height)-2); j++ {
		if k.isLow(j) || k.isHigh(j) {
			return true
		}
	}
	return false
}

// nearest is the low water of the spell that is nearest to the minutes [from, to], or -1.
func (k walker) nearest(from, to int) (low int, doubtful bool) {
	low = -1
	for d, reach := 1, len(k.height); d < reach; d++ {
		for _, i := range []int{from - d, to + d} {
			if i <= 0 || i >= len(k.height)-1 || !k.isLow(i) || !k.sameSpell(from, i) {
				continue
			}
			if low >= 0 {
				return low, true // two as near to within the grid
			}
			low, reach = i, d+3
		}
	}
	return low, false
}

// window reckons the lit part of the minutes [from, to]; false if nothing of it is usable
// and nothing is doubtful.
func (k walker) window(from, to int) (plain, bool) {
	h := k.height
	low, doubtful := k.lowest(from, to)
	if low < 0 {
		low, doubtful = k.nearest(from, to)
	}
	if low < 0 {
		return plain{}, false
	}
	doubtful = doubtful || k.flat(min(from, low)-30, max(to, low)+30) || k.turnsAt(from) || k.turnsAt(to)
	minutesOf := func(d time.Duration) int { return int(d / time.Minute) }
	walkOut := minutesOf(k.shore.WalkOut)
	offBy := low + 60
	usableFrom := from
	for _, rise := range k.rises() {
		if k.shore.WayOffM == nil {
			continue
		}
		if h[low]+rise >= *k.shore.WayOffM {
			return plain{litFrom: from, litTo: to, doubtful: doubtful}, doubtful
		}
		cut := low
		for cut < len(h)-1 && h[cut]+rise < *k.shore.WayOffM {
			cut++
		}
		if cut < len(h)-1 {
			offBy = min(offBy, cut-minutesOf(k.shore.Margin))
		}
		bare := low
		for bare > 0 && h[bare]+rise < *k.shore.WayOffM {
			bare--
		}
		if rise == 0 {
			usableFrom = max(usableFrom, bare+1)
		}
		// A sea that covers the way between the start and the low water cuts it first:
		// nobody goes in before the top of that rise.
		for i := low; i > from; i-- {
			if k.isHigh(i) && h[i]+rise >= *k.shore.WayOffM {
				usableFrom = max(usableFrom, i)
				break
			}
		}
	}
	if k.shore.WayOffM == nil {
		for i := low; i > from; i-- {
			if k.isHigh(i) {
				usableFrom = max(usableFrom, i)
				break
			}
		}
	}
	if k.shore.WayOffM == nil || k.shore.CanBeCutOff {
		offBy = min(offBy, low+walkOut)
	}
	dark := to
	for dark < len(h)-1 && k.light[dark] == k.light[to] {
		dark++
	}
	if dark < len(h)-1 {
		offBy = min(offBy, dark-walkOut)
	}
	p := plain{litFrom: from, litTo: to, low: low, usableFrom: usableFrom, usableTo: min(to+1, offBy-walkOut), offBy: offBy, doubtful: doubtful}
	raised := k.clip(&p, k.rises()[1])
	if len(k.rises()) > 2 {
		pressed := k.clip(&p, k.rises()[2])
		p.usableFrom, p.usableTo = pressed[0], pressed[1]
	}
	p.raisedMinutes = min(raised[1], p.usableTo) - max(raised[0], p.usableFrom)
	return p, doubtful || p.usableTo > p.usableFrom
}

// clip is the usable time of p in a higher sea: walked outward from the low water while
// both shore and way are bare.
func (k walker) clip(p *plain, rise float64) [2]int {
	level := k.shore.BelowM
	if k.shore.WayOffM != nil {
		level = min(level, *k.shore.WayOffM)
	}
	bare := func(i int) bool { return k.height[i]+rise < k.shore.BelowM }
	way := func(i int) bool { return k.height[i]+rise < level }
	if !bare(p.low) {
		return [2]int{0, 0}
	}
	a, b := p.low, p.low
	for a > 0 && way(a-1) {
		a--
	}
	for b < len(k.height)-1 && bare(b) {
		b++
	}
	return [2]int{max(a, p.usableFrom), min(b, p.usableTo)}
}

func (k walker) sameSpell(a, b int) bool {
	for i := min(a, b); i <= max(a, b); i++ {
		if k.height[i] >= k.shore.BelowM {
			return false
		}
	}
	return true
}

// clear moves a level until no low or high water stands within a centimetre of it in any
// sea: there the minute grid cannot tell whether the water passes it.
func (k walker) clear(levelM float64) float64 {
	for {
		near := false
		for i := 1; i < len(k.height)-1 && !near; i++ {
			if k.isLow(i) || k.isHigh(i) {
				for _, rise := range k.rises() {
					near = near || math.Abs(k.height[i]+rise-levelM) < 0.01
				}
			}
		}
		if !near {
			return levelM
		}
		levelM = toMillimetre(levelM + 0.003)
	}
}

func newWalker(c cosines, shore window.Shore, query window.Query, from, to time.Time) walker {
	k := walker{begin: from, shore: shore}
	var spans []sky.Span
	if query.Light == sky.LightAny {
		spans = []sky.Span{{From: from, To: to}}
	} else {
		spans, _ = query.Sky.Lit(query.Light, from, to)
	}
	n := 0
	for t := from; t.Before(to); t = t.Add(time.Minute) {
		k.height = append(k.height, c.heightM(t))
		for n < len(spans) && !spans[n].To.After(t) {
			n++
		}
		stretch := 0
		if n < len(spans) && !spans[n].From.After(t) {
			stretch = n + 1
		}
		k.light = append(k.light, stretch)
	}
	return k
}

func toMillimetre(m float64) float64 { return math.Round(m*1000) / 1000 }

// anyShore draws the limits of a shore in whole minutes and millimetres, for a tide with
// mean level z0M.
func anyShore(t *rapid.T, z0M float64) window.Shore {
	minutes := func(most int, name string) time.Duration {
		return time.Duration(rapid.IntRange(0, most).Draw(t, name)) * time.Minute
	}
	shore := window.Shore{
		BelowM:      toMillimetre(z0M + rapid.Float64Range(-1.5, 1.5).Draw(t, "below")),
		CanBeCutOff: rapid.Bool().Draw(t, "can be cut off"),
		Margin:      minutes(90, "margin"), WalkOut: minutes(60, "walk out"), Travel: minutes(120, "travel"),
		Zone: time.UTC,
	}
	if rapid.IntRange(0, 3).Draw(t, "way-off height known") > 0 {
		shore.WayOffM = metre(toMillimetre(shore.BelowM + rapid.Float64Range(-0.5, 1).Draw(t, "way off")))
	}
	if rapid.Bool().Draw(t, "raise given") {
		shore.RaiseM = metre(float64(rapid.IntRange(0, 600).Draw(t, "raise, mm")) / 1000)
	}
	if rapid.IntRange(0, 2).Draw(t, "pressure known") == 0 {
		shore.PressureHPa = metre(float64(rapid.IntRange(9600, 10400).Draw(t, "pressure, tenths")) / 10)
	}
	return shore
}

func anySky(t *rapid.T) (sky.Light, daylight) {
	light := rapid.SampledFrom([]sky.Light{sky.LightSun, sky.LightCivil, sky.LightAny}).Draw(t, "light")
	rise := rapid.IntRange(60, 700).Draw(t, "sunrise")
	d := daylight{
		rise:     time.Duration(rise) * time.Minute,
		set:      time.Duration(rise+rapid.IntRange(60, 700).Draw(t, "day")) * time.Minute,
		twilight: 30 * time.Minute,
	}
	d.day = rapid.IntRange(0, 9).Draw(t, "polar day") == 0
	return light, d
}

// TestAgainstPlainReckoning holds the room against the walker on random tides, shores and
// days. Instants agree within the minute of the grid and a second for each rounding; no
// window is missed or made up, but for those of under three minutes on either side and
// those that only touch the span.
func TestAgainstPlainReckoning(t *testing.T) {
	const tolerance = 62 * time.Second
	scenes, compared, doubtful := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		scenes++
		c := anyCosines().Draw(t, "tide")
		shore := anyShore(t, c.z0M)
		light, over := anySky(t)
		from := epoch.Add(time.Duration(rapid.IntRange(0, 40*24*60).Draw(t, "from")) * time.Minute)
		query := window.Query{From: from, To: from.AddDate(0, 0, rapid.IntRange(1, 6).Draw(t, "days")), Light: light, Sky: over}

		k := newWalker(c, shore, query, query.From.AddDate(0, 0, -12), query.To.AddDate(0, 0, 12))
		shore.BelowM = k.clear(shore.BelowM)
		if shore.WayOffM != nil {
			shore.WayOffM = metre(k.clear(*shore.WayOffM))
		}
		k.shore = shore

		answer, err := window.Reckon(shore, c, query)
		require.NoError(t, err)
		// slips: what overlaps the span by less than the grid can tell.
		slips := func(from, to time.Time) bool {
			const least = 2 * time.Minute
			return query.To.Sub(from) < least || to.Sub(query.From) < least
		}
		rest := answer.Windows
		for _, p := range k.windows(k.minute(query.From), k.minute(query.To)) {
			if p.litFrom <= 1 || p.litTo >= len(k.height)-3 {
				return // bare and lit for weeks: the walker has no end to walk to
			}
			if p.doubtful {
				doubtful++
				return
			}
			instant := func(m int) time.Time { return k.begin.Add(time.Duration(m) * time.Minute) }
			i := 0
			for i < len(rest) && rest[i].LitFrom.Sub(instant(p.litFrom)).Abs() > tolerance {
				i++
			}
			if i == len(rest) {
				require.True(t, p.usableTo-p.usableFrom < 3 || slips(instant(p.litFrom), instant(p.litTo)),
					"missed: %+v, lit from %v", p, instant(p.litFrom))
				continue
			}
			w := rest[i]
			rest = append(append([]window.Window{}, rest[:i]...), rest[i+1:]...)
			same := func(minute int, got time.Time, what string) {
				require.WithinDuration(t, instant(minute), got, tolerance, what)
			}
			same(p.litTo, w.LitTo, "lit to")
			same(p.low, w.Low.Time, "low water")
			same(p.usableFrom, w.UsableFrom, "usable from")
			same(p.usableTo, w.UsableTo, "usable to")
			same(p.offBy, w.OffBy, "off by")
			raised := 0
			if w.Raised != nil {
				raised = w.Raised.UsableMinutes
			}
			require.InDelta(t, max(0, p.raisedMinutes), raised, 3, "raised minutes")
			compared++
		}
		for _, w := range rest {
			require.True(t, w.UsableMinutes < 3 || slips(w.LitFrom, w.LitTo), "made up: %+v", w)
		}
	})
	t.Logf("%d windows compared, %d doubtful", compared, doubtful)
	assert.Greater(t, compared, scenes, "too few windows to tell")
	assert.Less(t, doubtful, compared/8, "of 30,000 windows 2.5 % were")
}
