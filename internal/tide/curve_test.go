package tide

import (
	"math"
	"sort"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
)

func date(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// TestHonoluluSixMinutes: NOAA's own six-minute predictions from NOAA's own constants
// (testdata/tides/noaa, public domain), printed to the millimetre; budget 0.5 mm rms.
func TestHonoluluSixMinutes(t *testing.T) {
	var constants []Constant
	for _, r := range rows(t, "noaa/1612340_honolulu_constants.csv") {
		name := r[1]
		switch name { // the office's own spellings
		case "LAM2", "RHO", "M1":
		}
		if name == "RHO" {
			name = "RHO1"
		}
		constants = append(constants, Constant{name, number(t, r[2]), number(t, r[3])})
	}
	require.Len(t, constants, 37)
	all := stations(t)
	h, err := NewHarmonic(*all["noaa/1612340"].MSL, constants, Yearly)
	require.NoError(t, err)
	lines := rows(t, "noaa/1612340_honolulu_6min_2023-08-29.csv")
	require.Len(t, lines, 99)
	first, last := minute(t, lines[0][0]), minute(t, lines[len(lines)-1][0])
	c, err := h.Curve(first, last.Add(time.Minute))
	require.NoError(t, err)
	sum, mean := 0.0, 0.0
	for _, r := range lines {
		d := c.HeightM(minute(t, r[0])) - number(t, r[1])
		sum += d * d
		mean += d
	}
	n := float64(len(lines))
	t.Logf("rms %.5f m, mean %.5f m", math.Sqrt(sum/n), mean/n)
	assert.LessOrEqual(t, math.Sqrt(sum/n), 0.0005)
}

// plain is the recipe written out with no fast path: a cosine for every constituent at
// every instant, f and u taken there.
func plain(h *Harmonic, x float64) float64 {
	at := time.Unix(int64(x), 0).UTC()
	sum := h.z0M
	for i := range h.terms {
		k := &h.terms[i]
		var v float64
		var nd node
		if h.practice == Yearly {
			origin := float64(date(at.Year(), 1, 1).Unix())
			n := nodesAt(float64(date(at.Year(), 7, 2).Unix()) + day/2)
			nd = n.of(k.nodes)
			v = k.argument(meanLongitudes(origin), origin) + k.speed*(x-origin)
		} else {
			n := nodesAt(x)
			nd = n.of(k.nodes)
			v = k.argument(meanLongitudes(x), x)
		}
		sum += k.ampM * nd.f() * math.Cos(v+nd.u*rad-k.lagRad)
	}
	return sum
}

// TestFastPathAgreesWithPlainSum: to 0.1 mm over a year at odd instants, for both
// practices, the largest ranges and the richest lists of constituents.
func TestFastPathAgreesWithPlainSum(t *testing.T) {
	all := stations(t)
	var largest, richest []listed
	for _, s := range all {
		if len(s.Constituents) > 0 {
			largest = append(largest, s)
		}
	}
	richest = append(richest, largest...)
	size := func(s listed) (a float64) {
		for _, k := range s.Constituents {
			a += k.AmplitudeM
		}
		return a
	}
	sort.Slice(largest, func(i, j int) bool { return size(largest[i]) > size(largest[j]) })
	sort.Slice(richest, func(i, j int) bool { return len(richest[i].Constituents) > len(richest[j].Constituents) })
	worst := 0.0
	for _, s := range append(largest[:12], richest[:12]...) {
		h := tideOf(t, all, s.ID).(*Harmonic)
		c, err := h.Curve(date(2026, 1, 1), date(2027, 1, 1))
		require.NoError(t, err)
		x0 := float64(date(2026, 1, 1).Unix())
		for k := 0; k < 1500; k++ {
			x := math.Floor(x0 + float64(k)*20983.7)
			d := math.Abs(c.(*harmonicCurve).height(x) - plain(h, x))
			worst = max(worst, d)
			require.LessOrEqual(t, d, 1e-4, "%s at %v", s.ID, instant(x))
		}
	}
	t.Logf("worst difference %.6f m", worst)
}

// TestEveryStationPredictsADay loads all 5,843 stations of the catalogue; what cannot be
// predicted is named with its code.
func TestEveryStationPredictsADay(t *testing.T) {
	all := stations(t)
	refused := map[fault.Code][]string{}
	for id := range all {
		c, err := tideOf(t, all, id).Curve(date(2026, 11, 28), date(2026, 11, 29))
		if err != nil {
			code := fault.From(err).Code
			require.Contains(t, []fault.Code{fault.NoDistinctTide, fault.WatersCross}, code, id)
			refused[code] = append(refused[code], id)
			continue
		}
		v := c.HeightM(date(2026, 11, 28))
		require.False(t, math.IsNaN(v) || math.Abs(v) > 30, id)
	}
	for code, ids := range refused {
		sort.Strings(ids)
		t.Logf("%s: %d stations: %v", code, len(ids), ids[:min(len(ids), 12)])
	}
	assert.Empty(t, refused)
}

// TestStepsLoseNothing: across 1 January and across midnights waters alternate, crossings
// alternate, and none stands twice, at one station in twenty of each practice and at
// secondary ports, over four New Years.
func TestStepsLoseNothing(t *testing.T) {
	all := stations(t)
	var ids []string
	for id := range all {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	checked := 0
	for i := 0; i < len(ids); i += 20 {
		for year := 2024; year <= 2027; year++ {
			new := date(year, 1, 1)
			c, err := tideOf(t, all, ids[i]).Curve(new.AddDate(0, 0, -4), new.AddDate(0, 0, 4))
			if err != nil {
				continue
			}
			checked++
			ws := c.Waters()
			for k := 1; k < len(ws); k++ {
				require.NotEqual(t, ws[k-1].Kind, ws[k].Kind, "%s %v", ids[i], ws[k].Time)
				require.True(t, ws[k].Time.After(ws[k-1].Time), "%s %v", ids[i], ws[k].Time)
			}
			// As many waters as either side's own curve has, give or take the one at the end.
			for _, w := range ws {
				cs := c.Crossings(w.HeightM + 0.013)
				for k := 1; k < len(cs); k++ {
					require.NotEqual(t, cs[k-1].Rising, cs[k].Rising, "%s %v", ids[i], cs[k].Time)
				}
			}
		}
	}
	t.Logf("%d spans", checked)
	require.Greater(t, checked, 1000)
}

// prominent leaves out neighbouring pairs lower than so many metres, the flattest first:
// a stand of the tide that a changed node factor makes or takes.
func prominent(ws []Water, least float64) []Water {
	out := append([]Water(nil), ws...)
	for {
		at, flat := -1, least
		for i := 0; i+1 < len(out); i++ {
			if d := math.Abs(out[i+1].HeightM - out[i].HeightM); d < flat {
				at, flat = i, d
			}
		}
		if at < 0 {
			return out
		}
		out = append(out[:at], out[at+2:]...)
	}
}

// TestStepIsCountedOnce compares the waters around New Year with those of a curve that
// has no step: the same constants with the later year's factors reckoned by hand on both
// sides. A step moves a water by minutes; it must not make or lose one.
func TestStepIsCountedOnce(t *testing.T) {
	all := stations(t)
	checked := 0
	for _, id := range []string{"noaa/9414290", "noaa/9449880", "noaa/8726520", "noaa/1612340", "noaa/9455920"} {
		h := tideOf(t, all, id).(*Harmonic)
		for year := 1950; year < 2050; year++ {
			new := float64(date(year, 1, 1).Unix())
			c, err := h.Curve(date(year-1, 12, 30), date(year, 1, 3))
			require.NoError(t, err)
			smooth := *h
			smooth.practice = Daily
			d, err := smooth.Curve(date(year-1, 12, 30), date(year, 1, 3))
			require.NoError(t, err)
			// What stands out on one curve must be on the other, and once.
			match := func(tall, all []Water) {
				for _, w := range prominent(tall, 0.1) {
					if math.Abs(seconds(w.Time)-new) > 18*3600 {
						continue
					}
					n := 0
					for _, o := range prominent(all, 0.01) {
						if o.Kind == w.Kind && o.Time.Sub(w.Time).Abs() < 50*time.Minute {
							n++
						}
					}
					assert.Equal(t, 1, n, "%s %v", id, w)
				}
			}
			match(c.Waters(), d.Waters())
			match(d.Waters(), c.Waters())
			checked++
		}
	}
	require.Equal(t, 500, checked)
}

// TestWatersAgainstScan: every turn of the plain sum at four-minute steps is among the
// waters and the other way round, for semidiurnal, mixed, diurnal and double-water
// stations, over a month.
func TestWatersAgainstScan(t *testing.T) {
	all := stations(t)
	for _, id := range []string{"noaa/9414290", "noaa/8729840", "noaa/8761724", "noaa/9455920", "kartverket/AES",
		"ticon/southampton-sou-gbr-da_idh"} {
		h := tideOf(t, all, id).(*Harmonic)
		from, to := date(2026, 3, 1), date(2026, 4, 1)
		c, err := h.Curve(from, to)
		require.NoError(t, err)
		var scan []float64
		x0, x1 := seconds(from), seconds(to)
		const step = 240
		a, b := plain(h, x0), plain(h, x0+step)
		for x := x0 + 2*step; x < x1+step; x += step {
			v := plain(h, x)
			if (b > a) != (v > b) {
				scan = append(scan, x-step)
			}
			a, b = b, v
		}
		ws := c.Waters()
		require.Equal(t, len(scan), len(ws), id)
		for i, x := range scan {
			require.InDelta(t, x, seconds(ws[i].Time), step+1, "%s %v", id, instant(x))
		}
	}
}

// TestSecondaryPassesItsWaters: the warped curve is at the corrected heights at the
// corrected times, runs one way between, and its rate is the slope of its height.
func TestSecondaryPassesItsWaters(t *testing.T) {
	all := stations(t)
	var ids []string
	for id, s := range all {
		if s.Ref != "" {
			ids = append(ids, id)
		}
	}
	sort.Strings(ids)
	checked := 0
	for i := 0; i < len(ids); i += 40 {
		s := all[ids[i]]
		from, to := date(2026, 6, 1), date(2026, 6, 15)
		c, err := tideOf(t, all, s.ID).Curve(from, to)
		if err != nil {
			continue
		}
		ref, err := tideOf(t, all, s.Ref).Curve(from.AddDate(0, 0, -2), to.AddDate(0, 0, 2))
		require.NoError(t, err)
		want := map[int64]float64{}
		for _, w := range ref.Waters() {
			k := 0
			if w.Kind == Low {
				k = 1
			}
			h := w.HeightM * s.Heights[k]
			if s.HeightsAre == "metres" {
				h = w.HeightM + s.Heights[k]
			}
			want[w.Time.Unix()+int64(s.Minutes[k]*60)] = h
		}
		ws := c.Waters()
		require.NotEmpty(t, ws)
		for k, w := range ws {
			h, ok := want[w.Time.Unix()]
			require.True(t, ok, "%s %v", s.ID, w.Time)
			require.InDelta(t, h, w.HeightM, 0.002)
			require.InDelta(t, w.HeightM, c.HeightM(w.Time), 0.002)
			if k == 0 {
				continue
			}
			// One way between two waters.
			step := w.Time.Sub(ws[k-1].Time) / 20
			up := w.HeightM > ws[k-1].HeightM
			last := c.HeightM(ws[k-1].Time.Add(step))
			for j := 2; j < 20; j++ {
				v := c.HeightM(ws[k-1].Time.Add(time.Duration(j) * step))
				require.True(t, (v >= last-1e-9) == up || v == last, "%s %v", s.ID, w.Time)
				last = v
			}
			mid := ws[k-1].Time.Add(10 * step)
			slope := (c.HeightM(mid.Add(30*time.Second)) - c.HeightM(mid.Add(-30*time.Second))) * 60
			require.InDelta(t, slope, c.RateMPerHour(mid), 0.002)
		}
		checked++
	}
	require.Greater(t, checked, 50)
}

func TestSecondaryRefusesCrossedWaters(t *testing.T) {
	all := stations(t)
	ref := tideOf(t, all, "noaa/9414290")
	s, err := NewSecondary(ref, Differences{HighMinutes: 300, LowMinutes: -300, High: 1, Low: 1, Rule: Ratio})
	require.NoError(t, err)
	_, err = s.Curve(date(2026, 1, 1), date(2026, 1, 8))
	require.Error(t, err)
	assert.Equal(t, fault.WatersCross, fault.From(err).Code)
	assert.Contains(t, err.Error(), "2026")
}

// TestCrossedPorts counts the ports of the catalogue that a year cannot be reckoned for.
func TestCrossedPorts(t *testing.T) {
	all := stations(t)
	n, crossed := 0, 0
	for id, s := range all {
		if s.Ref == "" || math.Abs(s.Minutes[0]-s.Minutes[1]) <= 120 {
			continue
		}
		n++
		if _, err := tideOf(t, all, id).Curve(date(2026, 1, 1), date(2027, 1, 1)); err != nil {
			crossed++
			assert.Equal(t, fault.WatersCross, fault.From(err).Code, id)
		}
	}
	t.Logf("%d ports differ by over 120 minutes between high and low; %d are refused over 2026", n, crossed)
	assert.Equal(t, 25, n)
}

// sines is a tide of two made-up constituents for properties.
func sines(t *rapid.T) *Harmonic {
	names := []string{"M2", "S2", "K1", "O1", "N2", "M4", "M6", "SA"}
	var ks []Constant
	for _, n := range names {
		ks = append(ks, Constant{n, rapid.Float64Range(0, 1.5).Draw(t, n), rapid.Float64Range(0, 360).Draw(t, n+" lag")})
	}
	practice := rapid.SampledFrom([]Practice{Yearly, Daily}).Draw(t, "practice")
	h, err := NewHarmonic(rapid.Float64Range(-1, 4).Draw(t, "z0"), ks, practice)
	require.NoError(t, err)
	return h
}

func TestCrossingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := sines(t)
		from := date(rapid.IntRange(1901, 2098).Draw(t, "year"), 12, 27)
		to := from.AddDate(0, 0, 10)
		c, err := h.Curve(from, to)
		require.NoError(t, err)
		level := rapid.Float64Range(-2, 4).Draw(t, "level")
		cs := c.Crossings(level)
		high := func(at time.Time) bool { return c.HeightM(at) >= level }
		for i, x := range cs {
			if i > 0 {
				require.NotEqual(t, cs[i-1].Rising, x.Rising)
				require.False(t, x.Time.Before(cs[i-1].Time))
				mid := cs[i-1].Time.Add(x.Time.Sub(cs[i-1].Time) / 2)
				if x.Time.Sub(cs[i-1].Time) > 10*time.Minute && math.Abs(c.HeightM(mid)-level) > 0.002 {
					require.Equal(t, cs[i-1].Rising, high(mid))
				}
			}
		}
		// Every low water under the level lies in a falling-to-rising interval.
		for _, w := range c.Waters() {
			if math.Abs(w.HeightM-level) < 0.002 {
				continue
			}
			n := sort.Search(len(cs), func(i int) bool { return cs[i].Time.After(w.Time) })
			if n > 0 && n < len(cs) && w.Time.Sub(cs[n-1].Time) > 2*time.Second {
				require.Equal(t, w.HeightM >= level, cs[n-1].Rising, "%v", w)
			}
		}
	})
}

func TestBadConstants(t *testing.T) {
	for _, row := range []struct {
		name string
		z0   float64
		ks   []Constant
		code fault.Code
	}{
		{"unknown name", 1, []Constant{{"M99", 1, 0}}, fault.UnknownConstituent},
		{"no node factor", 1, []Constant{{"L2A", 1, 0}}, fault.UnknownConstituent},
		{"twice", 1, []Constant{{"M2", 1, 0}, {"m2", 1, 0}}, fault.BadInput},
		{"alias twice", 1, []Constant{{"LAM2", 1, 0}, {"lambda2", 1, 0}}, fault.BadInput},
		{"NaN amplitude", 1, []Constant{{"M2", math.NaN(), 0}}, fault.BadInput},
		{"infinite phase", 1, []Constant{{"M2", 1, math.Inf(1)}}, fault.BadInput},
		{"negative amplitude", 1, []Constant{{"M2", -1, 0}}, fault.BadInput},
		{"NaN sea level", math.NaN(), nil, fault.BadInput},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := NewHarmonic(row.z0, row.ks, Yearly)
			require.Error(t, err)
			assert.Equal(t, row.code, fault.From(err).Code)
			assert.NotEmpty(t, err.Error())
		})
	}
	h, err := NewHarmonic(1, []Constant{{"M2", 1, 0}}, Yearly)
	require.NoError(t, err)
	for name, span := range map[string][2]time.Time{
		"backwards": {date(2026, 1, 2), date(2026, 1, 1)},
		"empty":     {date(2026, 1, 2), date(2026, 1, 2)},
		"too old":   {date(1850, 1, 2), date(1850, 2, 1)},
		"too late":  {date(2101, 1, 2), date(2101, 2, 1)},
		"too long":  {date(2000, 1, 1), date(2020, 1, 1)},
	} {
		_, err := h.Curve(span[0], span[1])
		assert.Error(t, err, name)
	}
}

func TestNoTideAtAll(t *testing.T) {
	h, err := NewHarmonic(1.5, nil, Daily)
	require.NoError(t, err)
	c, err := h.Curve(date(2026, 1, 1), date(2026, 1, 5))
	require.NoError(t, err)
	assert.Empty(t, c.Waters())
	assert.Empty(t, c.Crossings(1))
	assert.Equal(t, 1.5, c.HeightM(date(2026, 1, 2)))
	s, err := NewSecondary(h, Differences{Rule: Metres})
	require.NoError(t, err)
	_, err = s.Curve(date(2026, 1, 1), date(2026, 1, 5))
	assert.Equal(t, fault.NoDistinctTide, fault.From(err).Code)
}

// The compiler keeps this from being thrown away.
var sink float64

// BenchmarkPlainYear is what the fast paths are measured against: a cosine for each
// constituent at each of a year's minutes, here at a hundredth of them.
func BenchmarkPlainMinutes(b *testing.B) {
	h := tideOf(b, stations(b), "noaa/9414290").(*Harmonic)
	x0 := float64(date(2026, 1, 1).Unix())
	for b.Loop() {
		for k := 0; k < 5256; k++ {
			x := x0 + float64(k)*60
			sum := h.z0M
			for i := range h.terms {
				t := &h.terms[i]
				sum += t.ampM * math.Cos(t.speed*(x-x0)+t.lagRad)
			}
			sink += sum
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)*100/1000, "ms/year")
}

func BenchmarkYearOfWaters(b *testing.B) {
	h := tideOf(b, stations(b), "noaa/9414290").(*Harmonic)
	b.ReportMetric(float64(len(h.terms)), "constituents")
	for b.Loop() {
		c, _ := h.Curve(date(2026, 1, 1), date(2027, 1, 1))
		sink += float64(len(c.Waters()))
	}
}

func BenchmarkYearOfMinutes(b *testing.B) {
	h := tideOf(b, stations(b), "noaa/9414290").(*Harmonic)
	for b.Loop() {
		c, _ := h.Curve(date(2026, 1, 1), date(2027, 1, 1))
		sink += Series(c, date(2026, 1, 1), time.Minute, 365*24*60)[77]
	}
}

func BenchmarkYearOfWatersDaily(b *testing.B) {
	h := tideOf(b, stations(b), "kartverket/AES").(*Harmonic)
	b.ReportMetric(float64(len(h.terms)), "constituents")
	for b.Loop() {
		c, _ := h.Curve(date(2026, 1, 1), date(2027, 1, 1))
		sink += float64(len(c.Waters()))
	}
}
