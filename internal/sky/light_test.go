package sky

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Source: twilight.csv, six days at 28.538 N 81.379 W, civil dawn and dusk. Its minutes are
// cut and not rounded (every one of the twelve lies up to a minute before ours), so that a
// perfect answer shows a mean of 0.5 and a worst of just under 1.
func TestCivilLightAgainstTwilightTable(t *testing.T) {
	var s spread
	for _, row := range readTruth(t, reference, "twilight.csv", 6) {
		from := utc(t, row[2])
		lit, err := Lit(Site{LatDeg: number(t, row[0]), LonEastDeg: number(t, row[1])}, LightCivil, from, from.AddDate(0, 0, 1))
		require.NoError(t, err)
		require.Len(t, lit, 1)
		require.False(t, lit[0].FromIsEdge || lit[0].ToIsEdge)
		s.addMinutes(lit[0].From, utc(t, row[5]), "dawn")
		s.addMinutes(lit[0].To, utc(t, row[6]), "dusk")
	}
	s.hold(t, "civil twilight", "minutes", 12, 0.7, 1)
}

func TestLitEdges(t *testing.T) {
	site := Site{LatDeg: 28.538, LonEastDeg: -81.379}
	day, err := Lit(site, LightSun, utc(t, "2022-06-20T08:00Z"), utc(t, "2022-06-21T08:00Z"))
	require.NoError(t, err)
	require.Len(t, day, 1)
	rise, set := day[0].From, day[0].To
	noon := utc(t, "2022-06-20T17:30Z")

	for _, row := range []struct {
		name     string
		light    Light
		from, to time.Time
		want     []Span
	}{
		{"morning", LightSun, rise.Add(-time.Hour), noon, []Span{{rise, noon, false, true}}},
		{"afternoon", LightSun, noon, set.Add(time.Hour), []Span{{noon, set, true, false}}},
		{"within the day", LightSun, noon, noon.Add(time.Minute), []Span{{noon, noon.Add(time.Minute), true, true}}},
		{"from sunrise itself", LightSun, rise, noon, []Span{{rise, noon, false, true}}},
		{"to sunset itself", LightSun, noon, set, []Span{{noon, set, true, false}}},
		{"to sunrise itself", LightSun, rise.Add(-time.Hour), rise, nil},
		{"from sunset itself", LightSun, set, set.Add(time.Hour), nil},
		{"night", LightSun, set.Add(time.Hour), set.Add(2 * time.Hour), nil},
		{"any light, by night", LightAny, set.Add(time.Hour), set.Add(2 * time.Hour), []Span{{set.Add(time.Hour), set.Add(2 * time.Hour), true, true}}},
		{"no time at all", LightSun, noon, noon, nil},
		{"no time at all in any light", LightAny, noon, noon, nil},
		{"a zone on the way in is UTC on the way out", LightSun, noon.In(time.FixedZone("", -4*3600)), set, []Span{{noon, set, true, false}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Lit(site, row.light, row.from, row.to)
			require.NoError(t, err)
			require.Equal(t, row.want, got)
		})
	}
}

// Source for the polar rows: usno_riseset.csv. At 89 N 30 E the sun rises on 2022-03-20 at
// 23:14 and next sets on 2022-09-22 at 20:14; at the pole the same once each.
func TestPolarDayAndNight(t *testing.T) {
	for _, row := range []struct {
		name     string
		site     Site
		light    Light
		from, to string
		want     int
	}{
		{"polar day", Site{89, 30}, LightSun, "2022-03-21T00:00Z", "2022-09-22T00:00Z", 1},
		{"polar night", Site{89, 30}, LightSun, "2022-09-28T00:00Z", "2022-12-31T00:00Z", 0},
		{"day at the south pole is night at the north", Site{-90, 0}, LightSun, "2022-03-24T00:00Z", "2022-09-20T00:00Z", 0},
		{"any light in the polar night", Site{89, 30}, LightAny, "2022-12-01T00:00Z", "2022-12-31T00:00Z", 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			from, to := utc(t, row.from), utc(t, row.to)
			got, err := Lit(row.site, row.light, from, to)
			require.NoError(t, err)
			var want []Span
			if row.want == 1 {
				want = []Span{{from, to, true, true}}
			}
			require.Equal(t, want, got)
		})
	}
}

// Light is ordered, disjoint, inside the range, and ends at the second; civil light holds
// the sun's; two parts of a range join to the whole.
func TestLitHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site, from := drawSite(t), drawInstant(t, "from")
		to := from.Add(time.Duration(drawEvenly(t, "seconds", 200*24*3600)) * time.Second)
		lit := map[Light][]Span{}
		for _, light := range []Light{LightSun, LightCivil, LightAny} {
			spans, err := Lit(site, light, from, to)
			require.NoError(t, err)
			lit[light] = spans
			last := from
			for i, s := range spans {
				require.True(t, s.From.Before(s.To), "%v is empty", s)
				require.False(t, s.From.Before(last) || s.To.After(to), "%v out of order or range", s)
				require.True(t, !s.FromIsEdge || i == 0 && s.From.Equal(from), "%v", s)
				require.True(t, !s.ToIsEdge || i == len(spans)-1 && s.To.Equal(to), "%v", s)
				require.True(t, s.FromIsEdge || s.From.Nanosecond() == 0, "%v", s)
				require.True(t, s.ToIsEdge || s.To.Nanosecond() == 0, "%v", s)
				last = s.To
			}
			cut := from.Add(time.Duration(drawEvenly(t, "cut", int64(to.Sub(from)))))
			left, err := Lit(site, light, from, cut)
			require.NoError(t, err)
			right, err := Lit(site, light, cut, to)
			require.NoError(t, err)
			require.Equal(t, spans, join(left, right))
		}
		for _, s := range lit[LightSun] {
			require.True(t, covered(lit[LightCivil], s), "%v is in the sun, not in civil light", s)
		}
		for _, s := range lit[LightCivil] {
			require.True(t, covered(lit[LightAny], s))
		}
	})
}

// join puts the light of two ranges that touch together.
func join(left, right []Span) []Span {
	if len(left) > 0 && len(right) > 0 && left[len(left)-1].ToIsEdge && right[0].FromIsEdge {
		last := left[len(left)-1]
		last.To, last.ToIsEdge = right[0].To, right[0].ToIsEdge
		return append(append(left[:len(left)-1:len(left)-1], last), right[1:]...)
	}
	return append(left, right...)
}

func covered(by []Span, s Span) bool {
	for _, b := range by {
		if !s.From.Before(b.From) && !s.To.After(b.To) {
			return true
		}
	}
	return false
}

// At any instant the light is on just when the sun's place, straight from theory and by
// plain trigonometry, says so: nothing is missed between the cells, and no polar day or
// midnight graze is got wrong.
func TestLitAgreesWithAltitudeAtEveryInstant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site, from := drawSite(t), drawInstant(t, "from").Truncate(time.Second)
		spans, err := Lit(site, LightSun, from, from.AddDate(0, 0, 30))
		require.NoError(t, err)
		for range 50 {
			at := from.Add(time.Duration(drawEvenly(t, "second", 30*24*3600-1)) * time.Second)
			above := altitudeDeg(sunVector, at, site) - limbAltitudeDeg(sunVector, at, 109.12)
			if math.Abs(above) < nearHorizonDeg {
				continue
			}
			require.Equal(t, above > 0, covered(spans, Span{From: at, To: at.Add(1)}), "%v at %v: %v° above", site, at, above)
		}
	})
}

// nearHorizonDeg is the altitude within which an instant is let pass: passages are rounded
// to the second, in half of which the sky turns 7.5″.
const nearHorizonDeg = 9 * arcsecond

// The same for the moon; at turning points nearer the horizon than 0.05° a flicker may be
// missed close to a pole, as crossings says.
func TestMoonIsUpBetweenRisingAndSetting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site, from := drawSite(t), drawInstant(t, "from").Truncate(time.Second)
		list, err := MoonEvents(site, from, from.AddDate(0, 0, 30))
		require.NoError(t, err)
		if len(list) == 0 {
			return
		}
		for range 50 {
			at := from.Add(time.Duration(drawEvenly(t, "second", 30*24*3600-1)) * time.Second)
			above := altitudeDeg(moonVector, at, site) - limbAltitudeDeg(moonVector, at, 0.2725)
			if math.Abs(above) < nearHorizonDeg || math.Abs(site.LatDeg) > 89 && math.Abs(above) < 0.05 {
				continue
			}
			up := list[0].Kind == Moonset
			for _, e := range list {
				if !e.Time.After(at) {
					up = e.Kind == Moonrise
				}
			}
			require.Equal(t, above > 0, up, "%v at %v: %v° above", site, at, above)
		}
	})
}

// altitudeDeg is the geocentric altitude by Meeus, formula 13.6, from right ascension and
// sidereal time.
func altitudeDeg(place func(float64) vector, at time.Time, site Site) float64 {
	v := place(jde(dayOf(at)))
	ra, dec := math.Atan2(v.y, v.x), math.Atan2(v.z, math.Hypot(v.x, v.y))
	day := dayOf(at)
	sidereal := (280.46061837 + 360.98564736629*day) * math.Pi / 180 // formula 12.4
	lat := site.LatDeg * math.Pi / 180
	hour := sidereal + site.LonEastDeg*math.Pi/180 - ra
	return math.Asin(math.Sin(lat)*math.Sin(dec)+math.Cos(lat)*math.Cos(dec)*math.Cos(hour)) * 180 / math.Pi
}

// limbAltitudeDeg is the geocentric altitude of the centre when the upper limb of a body
// of so many radii of the Earth is seen on the horizon.
func limbAltitudeDeg(place func(float64) vector, at time.Time, radius float64) float64 {
	v := place(jde(dayOf(at)))
	parallax := math.Asin(1/math.Sqrt(v.x*v.x+v.y*v.y+v.z*v.z)) * 180 / math.Pi
	return -34.0/60 + (1-radius)*parallax
}

func BenchmarkLitYear(b *testing.B) {
	for b.Loop() {
		if _, err := Lit(Site{48.7, -3.9}, LightSun, year(2026), year(2027)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLitFiveYears(b *testing.B) {
	for b.Loop() {
		if _, err := Lit(Site{48.7, -3.9}, LightSun, year(2026), year(2031)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLitPolarYear(b *testing.B) {
	for b.Loop() {
		if _, err := Lit(Site{78.2, 15.6}, LightSun, year(2026), year(2027)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMoonEventsMonth(b *testing.B) {
	for b.Loop() {
		if _, err := MoonEvents(Site{48.7, -3.9}, year(2026), year(2026).AddDate(0, 1, 0)); err != nil {
			b.Fatal(err)
		}
	}
}
