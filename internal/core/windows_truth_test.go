package core

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"sort"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// daylight reads one site-year of the USNO's sun from testdata/sky: the instants at which
// the sun rises and sets, to the minute.
func daylight(t *testing.T, lat, lon string, year int) (rises, sets []time.Time) {
	t.Helper()
	f, err := os.Open("../../testdata/sky/usno_riseset.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	for _, r := range rows[1:] {
		if r[0] != "Sun" || r[1] != lon || r[2] != lat {
			continue
		}
		at, err := time.Parse("2006-01-02T15:04Z", r[3])
		require.NoError(t, err)
		if at.Year() != year {
			continue
		}
		if r[4] == "r" {
			rises = append(rises, at)
		} else {
			sets = append(sets, at)
		}
	}
	require.NotEmpty(t, append(rises, sets...))
	return rises, sets
}

// lit says whether the sun is up, from the last rise or set before.
func lit(rises, sets []time.Time, at time.Time, before bool) bool {
	last := func(ts []time.Time) time.Time {
		i := sort.Search(len(ts), func(i int) bool { return ts[i].After(at) })
		if i == 0 {
			return time.Time{}
		}
		return ts[i-1]
	}
	r, s := last(rises), last(sets)
	if r.IsZero() && s.IsZero() {
		return before
	}
	return r.After(s)
}

// TestWindowsAgainstIndependentReckoning: windows of San Francisco's water under the sun
// of four places, against the naive cosine sum scanned minute by minute and the USNO's
// rises and sets. No code of the tide, sky or window rooms is on the other side. The
// windows' edges agree within 6 minutes, the naive sum's worth; every minute usable by
// the naive reckoning with a quarter of an hour to spare on all sides is in a window.
func TestWindowsAgainstIndependentReckoning(t *testing.T) {
	const (
		below, wayOff, raise    = 0.5, 0.9, 0.2
		margin, walkOut, travel = 20, 15, 45
	)
	c := opened(t)
	water := newNaive(t, "noaa/9414290")
	for _, place := range []struct {
		name, lat, lon string
		year           int
		before         bool // the sun is up at the start of the year
	}{
		{"east coast of North America, west of Greenwich", "29", "-81", 2019, false},
		{"on Greenwich, 60 north", "60", "0", 2019, false},
		{"150 west, 60 south", "-60", "-150", 2019, true},
		{"polar night and day, 88 south", "-88", "45", 2022, true},
	} {
		t.Run(place.name, func(t *testing.T) {
			rises, sets := daylight(t, place.lat, place.lon, place.year)
			request := fmt.Sprintf(`{"shore":{"station":"noaa/9414290","below":%v,"wayOff":%v,"margin":%d,"walkOut":%d,"travel":%d,"lat":%s,"lon":%s,"zone":"UTC"},"from":"%d-01-05","to":"%d-12-26"}`,
				below, wayOff, margin, walkOut, travel, place.lat, place.lon, place.year, place.year)
			answer := ask[windowsAnswer](t, c, "windows", request)
			require.NotEmpty(t, answer.Windows)

			start := time.Date(place.year, 1, 3, 0, 0, 0, 0, time.UTC)
			minutes := int(time.Date(place.year, 12, 28, 0, 0, 0, 0, time.UTC).Sub(start).Minutes())
			h := make([]float64, minutes)
			up := make([]bool, minutes)
			for i := range h {
				at := start.Add(time.Duration(i) * time.Minute)
				h[i] = water.at(at)
				up[i] = lit(rises, sets, at, place.before)
			}
			index := func(i Instant) int { return int(math.Round(time.Time(i).Sub(start).Minutes())) }
			worst := 0
			for _, w := range answer.Windows {
				// The naive low: the lowest minute around.
				low := index(w.Low.Time)
				best := low
				for k := low - 90; k <= low+90; k++ {
					if h[k] < h[best] {
						best = k
					}
				}
				require.InDelta(t, h[best], w.Low.Height, 0.04, w.Day)
				if best > low-89 && best < low+89 {
					require.InDelta(t, best, low, 12, "low water of %s", w.Day)
				}
				// The edges of the dry spell.
				opens, shuts := best, best
				for opens > 0 && h[opens-1] < below {
					opens--
				}
				for shuts < minutes-1 && h[shuts+1] < below {
					shuts++
				}
				if h[best] < below-0.05 {
					require.InDelta(t, opens, index(*w.Opens), 8, "opens on %s", w.Day)
					require.InDelta(t, shuts, index(*w.Shuts), 8, "shuts on %s", w.Day)
					worst = max(worst, int(math.Abs(float64(opens-index(*w.Opens)))))
				}
				// The light: every minute of the lit part is lit by the USNO, and the sun
				// or the water ends it.
				from, to := index(w.LitFrom), index(w.LitTo)
				for k := from + 2; k <= to-2; k++ {
					require.True(t, up[k], "%s is dark at %v", w.Day, start.Add(time.Duration(k)*time.Minute))
				}
				darkBefore, darkAfter := !up[max(from-3, 0)], !up[min(to+3, minutes-1)]
				require.True(t, darkBefore || from <= index(*w.Opens)+1, "%s is lit before", w.Day)
				require.True(t, darkAfter || to >= index(*w.Shuts)-1, "%s is lit after", w.Day)
				// Off by, from its definition: the raised sea at the way-off height less the
				// margin, an hour after low water, the end of the light less the walk out.
				cut := low
				for cut < minutes-1 && h[cut]+raise < wayOff {
					cut++
				}
				dark := to
				for dark < minutes-1 && up[dark] {
					dark++
				}
				off := min(cut-margin, low+60, dark-walkOut)
				require.InDelta(t, off, index(w.OffBy), 8, "off by on %s (%s)", w.Day, w.OffByReason.Text)
				require.Equal(t, walkOut*time.Minute, time.Time(w.OffBy).Sub(time.Time(w.StartBack)), w.Day)
				require.Equal(t, travel*time.Minute, time.Time(w.UsableFrom).Sub(time.Time(w.LeaveHome)), w.Day)
			}
			t.Logf("%d windows, opens differs by at most %d minutes", len(answer.Windows), worst)
			// And none is missing: lows that are plainly low, plainly lit and plainly long.
			by := append([]windowAnswer(nil), answer.Windows...)
			sort.Slice(by, func(i, j int) bool { return time.Time(by[i].Low.Time).Before(time.Time(by[j].Low.Time)) })
			missing, plain := 0, 0
			for i := 4 * 24 * 60; i < minutes-4*24*60; i++ {
				if !(h[i] < h[i-1] && h[i] <= h[i+1] && h[i] < below-0.25) {
					continue
				}
				ok := true
				for k := i - 60; k <= i+90; k++ {
					ok = ok && up[k] && h[k] < below
				}
				if !ok {
					continue
				}
				plain++
				at := start.Add(time.Duration(i) * time.Minute)
				n := sort.Search(len(by), func(n int) bool { return time.Time(by[n].Low.Time).After(at.Add(-30 * time.Minute)) })
				if n == len(by) || time.Time(by[n].Low.Time).After(at.Add(30*time.Minute)) {
					missing++
				}
			}
			assert.Zero(t, missing, "of %d plain lows", plain)
			assert.Positive(t, plain)
		})
	}
}

// TestWindowLowsAreTheOfficesLows: NOAA's printed low waters at San Francisco 2026–27
// (testdata/tides/noaa) anchor the windows: each window's low is one of them, and each
// printed low under the level stands in exactly one window when any light will do.
func TestWindowLowsAreTheOfficesLows(t *testing.T) {
	f, err := os.Open("../../testdata/tides/noaa/9414290_san_francisco_highlow_2026_2027.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	c := opened(t)
	answer := ask[windowsAnswer](t, c, "windows",
		`{"shore":{"station":"noaa/9414290","below":0.1,"wayOff":0.9},"from":"2026-01-02","to":"2027-12-30","light":"any"}`)
	found := map[time.Time]int{}
	for _, w := range answer.Windows {
		found[time.Time(w.Low.Time).Round(time.Minute)]++
	}
	lows := 0
	for _, r := range rows[1:] {
		feet, err := strconv.ParseFloat(r[2], 64)
		require.NoError(t, err)
		at, err := time.Parse("2006-01-02 15:04", r[0])
		require.NoError(t, err)
		// 0.1 m is 0.33 ft; 0.2 ft and less is under it whatever the rounding.
		if r[3] != "L" || feet > 0.2 || at.Before(time.Date(2026, 1, 3, 0, 0, 0, 0, time.UTC)) || at.After(time.Date(2027, 12, 29, 0, 0, 0, 0, time.UTC)) {
			continue
		}
		lows++
		n := 0
		for d := -time.Minute; d <= time.Minute; d += time.Minute {
			n += found[at.Add(d)]
		}
		require.Equal(t, 1, n, "the low of %v, %v ft", at, feet)
	}
	t.Logf("%d lows, %d windows", lows, len(answer.Windows))
	require.Greater(t, lows, 300)
}
