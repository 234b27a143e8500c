package sky

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// siteYear is one table of the Naval Observatory: a body, a site, a calendar year.
type siteYear struct {
	body string
	site Site
	year int
}

// usnoSiteYears reads usno_riseset.csv: US Naval Observatory, times of rise and set of sun
// and moon to the minute.
func usnoSiteYears(t *testing.T) (keys []siteYear, tables map[siteYear][]Event) {
	tables = map[siteYear][]Event{}
	for _, row := range readTruth(t, reference, "usno_riseset.csv", 5909) {
		at := utc(t, row[3])
		key := siteYear{row[0], Site{LatDeg: number(t, row[2]), LonEastDeg: number(t, row[1])}, at.Year()}
		if tables[key] == nil {
			keys = append(keys, key)
		}
		kind, ok := map[string]Kind{"Sun r": Sunrise, "Sun s": Sunset, "Moon r": Moonrise, "Moon s": Moonset}[row[0]+" "+row[4]]
		require.True(t, ok, "%v", row)
		tables[key] = append(tables[key], Event{at, kind})
	}
	require.Len(t, keys, 17)
	return keys, tables
}

// reckoned is our own list for a table of the Observatory.
func reckoned(t *testing.T, k siteYear) []Event {
	from, to := year(k.year), year(k.year+1)
	if k.year < firstYear {
		// 1750 lies outside the years we answer for. It is reckoned all the same: no sample
		// is dropped.
		require.Equal(t, "Sun", k.body)
		first, last := cellsOver(from, to)
		return horizonEvents(pathOver(sun, first, last+1), sunLimb, k.site, from, to, Sunrise, Sunset)
	}
	if k.body == "Moon" {
		list, err := MoonEvents(k.site, from, to)
		require.NoError(t, err)
		return list
	}
	list, err := SunEvents(k.site, from, to)
	require.NoError(t, err)
	var limb []Event
	for _, e := range list {
		if e.Kind == Sunrise || e.Kind == Sunset {
			limb = append(limb, e)
		}
	}
	return limb
}

// A table to the minute, perfectly met, shows a mean error of 0.25 and a worst of 0.5.
func TestRisingsAndSettingsAgainstNavalObservatory(t *testing.T) {
	keys, tables := usnoSiteYears(t)
	var sunLow, sunPolar, moonLow, moonPolar spread
	for _, k := range keys {
		want, got := tables[k], reckoned(t, k)
		require.Len(t, got, len(want), "%v: none missing, none too many", k)
		into := map[bool]*spread{true: &sunLow, false: &sunPolar}
		if k.body == "Moon" {
			into = map[bool]*spread{true: &moonLow, false: &moonPolar}
		}
		s := into[math.Abs(k.site.LatDeg) <= 61]
		for i := range want {
			require.Equal(t, want[i].Kind, got[i].Kind, "%v: %v", k, want[i])
			s.addMinutes(got[i].Time, want[i].Time, k)
		}
	}
	sunLow.hold(t, "sun, to latitude 60", "minutes", 2920, 0.27, 0.6)
	sunPolar.hold(t, "sun, latitude 88 to the poles", "minutes", 68, 0.30, 0.6)
	moonLow.hold(t, "moon, to latitude 61", "minutes", 2119, 0.26, 0.6)
	moonPolar.hold(t, "moon, latitude 80 to 85", "minutes", 802, 0.33, 2)
}

// On days for which the Observatory lists nothing, nothing happens, and that is an answer.
func TestDaysWithoutPassageAgainstNavalObservatory(t *testing.T) {
	keys, tables := usnoSiteYears(t)
	days := map[string]int{}
	for _, k := range keys {
		if k.year < firstYear {
			continue
		}
		busy := map[time.Time]bool{}
		for _, e := range tables[k] {
			busy[e.Time.Truncate(24*time.Hour)] = true
		}
		for day := year(k.year); day.Before(year(k.year + 1)); day = day.AddDate(0, 0, 1) {
			// A day at whose edge something happens within a minute may hold it or not.
			if busy[day] || nearby(tables[k], day) || nearby(tables[k], day.AddDate(0, 0, 1)) {
				continue
			}
			days[k.body]++
			if k.body == "Moon" {
				list, err := MoonEvents(k.site, day, day.AddDate(0, 0, 1))
				require.NoError(t, err)
				require.Empty(t, list, "%v %v", k, day)
				continue
			}
			lit, err := Lit(k.site, LightSun, day, day.AddDate(0, 0, 1))
			require.NoError(t, err)
			if up(tables[k], day) {
				require.Equal(t, []Span{{day, day.AddDate(0, 0, 1), true, true}}, lit, "%v polar day %v", k, day)
			} else {
				require.Empty(t, lit, "%v polar night %v", k, day)
			}
		}
	}
	// Counted from the table by another program.
	require.Equal(t, map[string]int{"Sun": 1424, "Moon": 1739}, days)
}

// nearby says whether a list has an event within two minutes of t.
func nearby(list []Event, t time.Time) bool {
	for _, e := range list {
		if e.Time.Sub(t).Abs() <= 2*time.Minute {
			return true
		}
	}
	return false
}

// up says whether the last event before t, or else the first after it, tells of a body
// above the horizon at t.
func up(list []Event, t time.Time) bool {
	state := list[0].Kind == Sunset
	for _, e := range list {
		if e.Time.Before(t) {
			state = e.Kind == Sunrise
		}
	}
	return state
}

// The order of a day's events, and that dawn and dusk enclose rise and set.
func TestSunEventsOfADay(t *testing.T) {
	from := time.Date(2026, 3, 20, 0, 0, 0, 0, time.UTC)
	list, err := SunEvents(Site{LatDeg: 0, LonEastDeg: 0}, from, from.AddDate(0, 0, 1))
	require.NoError(t, err)
	var kinds []Kind
	for _, e := range list {
		kinds = append(kinds, e.Kind)
	}
	require.Equal(t, []Kind{CivilDawn, Sunrise, Sunset, CivilDusk}, kinds)
}

// Longitude is east positive: at the same latitude the sun rises first where one is
// farther east, by four minutes a degree. (Equation of time and declination change too
// little in the hours between to blur it.)
func TestEastSeesTheSunFirst(t *testing.T) {
	from := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	sunrise := func(lonEast float64) time.Time {
		list, err := SunEvents(Site{LatDeg: 20, LonEastDeg: lonEast}, from, from.AddDate(0, 0, 1))
		require.NoError(t, err)
		for _, e := range list {
			if e.Kind == Sunrise {
				return e.Time
			}
		}
		require.Fail(t, "no sunrise")
		return time.Time{}
	}
	west, middle, east := sunrise(-30), sunrise(0), sunrise(30)
	require.InDelta(t, 120, middle.Sub(east).Minutes(), 1)
	require.InDelta(t, 120, west.Sub(middle).Minutes(), 1)
}

// Moonrise and moonset alternate, on whole seconds, and two halves of a span hold what the
// whole holds.
func TestMoonEventsJoin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site, from, to := drawSite(t), drawInstant(t, "from"), time.Time{}
		to = from.Add(time.Duration(drawEvenly(t, "seconds", 40*24*3600)) * time.Second)
		cut := from.Add(time.Duration(drawEvenly(t, "cut", int64(to.Sub(from)))))
		whole, err := MoonEvents(site, from, to)
		require.NoError(t, err)
		left, err := MoonEvents(site, from, cut)
		require.NoError(t, err)
		right, err := MoonEvents(site, cut, to)
		require.NoError(t, err)
		require.Equal(t, whole, append(left, right...))
		for i, e := range whole {
			require.Zero(t, e.Time.Nanosecond())
			require.True(t, within(e.Time, from, to))
			require.True(t, i == 0 || whole[i-1].Kind != e.Kind && !e.Time.Before(whole[i-1].Time))
		}
	})
}

// drawSite draws a site, the poles and their surroundings oftener than chance would.
func drawSite(t *rapid.T) Site {
	lat := rapid.OneOf(
		rapid.Float64Range(-90, 90),
		rapid.Float64Range(60, 70),
		rapid.Float64Range(-70, -60),
		rapid.Float64Range(88, 90),
		rapid.SampledFrom([]float64{-90, 0, 90}),
	).Draw(t, "latDeg")
	return Site{LatDeg: lat, LonEastDeg: rapid.Float64Range(-180, 180).Draw(t, "lonEastDeg")}
}

// drawInstant draws an instant that leaves ten years before the end of 2100.
func drawInstant(t *rapid.T, label string) time.Time {
	nanos := rapid.SampledFrom([]int64{0, 0, 499_999_999, 500_000_000, 1}).Draw(t, label+" ns")
	return time.Unix(year(1900).Unix()+drawEvenly(t, label, year(2091).Unix()-year(1900).Unix()), nanos).UTC()
}

// drawEvenly draws a whole number from 0 to n; rapid left to itself prefers small ones.
func drawEvenly(t *rapid.T, label string, n int64) int64 {
	return int64(rapid.Uint64().Draw(t, label)*0x9E3779B97F4A7C15>>1) % (n + 1)
}
