package window_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// TestRank places the low among those of its local month, also at the ends of the span.
func TestRank(t *testing.T) {
	// A low each noon, deeper every day of the month: 31 lows in March.
	drawn := regular(at("2027-03-01 12:00"), 12*time.Hour, 0.9, 5)
	for i := range drawn {
		if drawn[i].Kind == "low" {
			drawn[i].HeightM = 0.9 - float64(drawn[i].Time.Day())/100
		}
	}
	rows := []struct {
		day  string
		zone *time.Location
		rank window.Rank
		text string
	}{
		{"2027-03-31", time.UTC, window.Rank{Place: 1, Of: 31, Month: time.March, Year: 2027}, "The lowest of the 31 lows of March 2027."},
		{"2027-03-30", time.UTC, window.Rank{Place: 2, Of: 31, Month: time.March, Year: 2027}, "2nd lowest of the 31 lows of March 2027."},
		{"2027-03-21", time.UTC, window.Rank{Place: 11, Of: 31, Month: time.March, Year: 2027}, "11th lowest of the 31 lows of March 2027."},
		{"2027-03-11", time.UTC, window.Rank{Place: 21, Of: 31, Month: time.March, Year: 2027}, "21st lowest of the 31 lows of March 2027."},
		{"2027-03-01", time.UTC, window.Rank{Place: 31, Of: 31, Month: time.March, Year: 2027}, "31st lowest of the 31 lows of March 2027."},
		{"2027-04-01", time.UTC, window.Rank{Place: 30, Of: 30, Month: time.April, Year: 2027}, "30th lowest of the 30 lows of April 2027."},
		// Thirteen hours east, noon of 31 March is 1 April: the deepest of that month's lows
		// with 30 April's noon, its 1 May, left out.
		{"2027-03-31", time.FixedZone("+13", 13*3600), window.Rank{Place: 1, Of: 30, Month: time.April, Year: 2027}, "The lowest of the 30 lows of April 2027."},
	}
	for _, row := range rows {
		t.Run(row.day+row.zone.String(), func(t *testing.T) {
			shore := shoreBelow(1)
			shore.Zone = row.zone
			query := wednesday
			query.From = at(row.day + " 00:00")
			query.To = query.From.AddDate(0, 0, 1)
			w := only(t, reckon(t, shore, drawn, query))
			assert.Equal(t, row.rank, w.Rank)
			assert.Equal(t, row.text, texts(w.Reasons)[window.ReasonRank])
		})
	}
	t.Run("a month that the tide room does not reach has no ranks", func(t *testing.T) {
		last := drawn[len(drawn)-1].Time
		query := wednesday
		query.From, query.To = last.AddDate(0, 0, -6), last.AddDate(0, 0, -5)
		for _, w := range reckon(t, shoreBelow(1), drawn, query).Windows {
			assert.Zero(t, w.Rank.Of)
			assert.NotContains(t, texts(w.Reasons), window.ReasonRank)
		}
	})
	t.Run("equal lows share a place", func(t *testing.T) {
		w := only(t, reckon(t, shoreBelow(1), wide, wednesday))
		assert.Equal(t, 1, w.Rank.Place)
		assert.Equal(t, 60, w.Rank.Of, "31 days of 12.42 h from one low to the next: 59.9")
	})
}

// TestMoon: springs and neaps lag the moon by a day or two; where the tide is mainly
// diurnal the declination counts.
func TestMoon(t *testing.T) {
	event := func(days float64) time.Time { return noon.Add(-time.Duration(days * 24 * float64(time.Hour))) }
	phases := func(days float64, p sky.Phase) []sky.PhaseEvent {
		const quarter = 7.38 // days
		cycle := []sky.Phase{sky.NewMoon, sky.FirstQuarter, sky.FullMoon, sky.LastQuarter}
		at := 0
		for i := range cycle {
			if cycle[i] == p {
				at = i
			}
		}
		var list []sky.PhaseEvent
		for i := -4; i <= 4; i++ {
			list = append(list, sky.PhaseEvent{Time: event(days - quarter*float64(i)), Phase: cycle[(at+i+4)%4]})
		}
		return list
	}
	declinations := func(days float64, north bool) []sky.DeclinationExtreme {
		var list []sky.DeclinationExtreme
		for i := -2; i <= 2; i++ {
			deg := 25.0
			if north != (i%2 == 0) {
				deg = -25
			}
			list = append(list, sky.DeclinationExtreme{Time: event(days - 13.66*float64(i)), DeclinationDeg: deg})
		}
		return list
	}
	rows := []struct {
		name string
		form float64
		sky  daylight
		want window.Moon
		text string
	}{
		{"full moon yesterday", 0.2, daylight{phases: phases(1, sky.FullMoon)},
			window.Moon{Kind: window.Springs, Event: "full", Days: 1}, "Springs: 1 day after full moon."},
		{"new moon three days ago", 0.2, daylight{phases: phases(3, sky.NewMoon)},
			window.Moon{Kind: window.Springs, Event: "new", Days: 3}, "Springs: 3 days after new moon."},
		{"new moon today", 0.2, daylight{phases: phases(0.1, sky.NewMoon)},
			window.Moon{Kind: window.Springs, Event: "new"}, "Springs: on the day of new moon."},
		{"full moon in two days", 0.2, daylight{phases: phases(-2, sky.FullMoon)},
			window.Moon{Kind: window.MidPhase, Event: "full", Days: -2}, "Between springs and neaps: 2 days before full moon."},
		{"first quarter yesterday", 0.2, daylight{phases: phases(1, sky.FirstQuarter)},
			window.Moon{Kind: window.Neaps, Event: "full", Days: -6}, "Neaps: 6 days before full moon."},
		{"five days after new moon", 1.49, daylight{phases: phases(5, sky.NewMoon)},
			window.Moon{Kind: window.MidPhase, Event: "new", Days: 5}, "Between springs and neaps: 5 days after new moon."},
		{"diurnal, farthest north yesterday", 1.5, daylight{declinations: declinations(1, true)},
			window.Moon{Kind: window.Tropic, Event: "north", Days: 1}, "Tropic tides: 1 day after the moon's greatest declination north."},
		{"diurnal, farthest south three days ago", 3, daylight{declinations: declinations(3, false)},
			window.Moon{Kind: window.Tropic, Event: "south", Days: 3}, "Tropic tides: 3 days after the moon's greatest declination south."},
		{"diurnal, on the equator yesterday", 3, daylight{declinations: declinations(7.8, true)},
			window.Moon{Kind: window.Equatorial, Event: "south", Days: -6}, "Equatorial tides: 6 days before the moon's greatest declination south."},
		{"diurnal, between", 3, daylight{declinations: declinations(4.8, true)},
			window.Moon{Kind: window.MidPhase, Event: "north", Days: 5}, "Between tropic and equatorial tides: 5 days after the moon's greatest declination north."},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			shore := shoreBelow(1)
			shore.FormNumber = row.form
			query := wednesday
			row.sky.rise, row.sky.set = 6*time.Hour, 18*time.Hour
			query.Sky = row.sky
			w := only(t, reckon(t, shore, wide, query))
			assert.Equal(t, row.want, w.Moon)
			assert.Equal(t, row.text, texts(w.Reasons)[window.ReasonMoon])
		})
	}
	t.Run("a sky that tells nothing", func(t *testing.T) {
		w := only(t, reckon(t, shoreBelow(1), wide, wednesday))
		assert.Zero(t, w.Moon)
		assert.NotContains(t, texts(w.Reasons), window.ReasonMoon)
	})
}

// TestCautions: each applies where it should, and not beside it.
func TestCautions(t *testing.T) {
	civilDay := daylight{rise: 6 * time.Hour, set: 18 * time.Hour, twilight: 30 * time.Minute}
	early := daylight{rise: 11 * time.Hour, set: 18 * time.Hour, twilight: 30 * time.Minute}
	rows := []struct {
		name    string
		shore   window.Shore
		tide    turns
		light   sky.Light
		sky     daylight
		code    window.NoteCode
		applies bool
		text    string
	}{
		{"cut off", window.Shore{CanBeCutOff: true, WayOffM: metre(3)}, wide, sky.LightSun, civilDay, window.CutOff, true, "start back at low water"},
		{"not cut off", window.Shore{WayOffM: metre(3)}, wide, sky.LightSun, civilDay, window.CutOff, false, ""},
		{"way off unknown", window.Shore{}, wide, sky.LightSun, civilDay, window.WayOffUnknown, true, "start back at low water"},
		{"way off known", window.Shore{WayOffM: metre(3)}, wide, sky.LightSun, civilDay, window.WayOffUnknown, false, ""},
		{"sunlit, in civil light", window.Shore{WayOffM: metre(3)}, wide, sky.LightCivil, civilDay, window.LowLight, false, ""},
		{"begins in twilight", window.Shore{WayOffM: metre(3)}, wide, sky.LightCivil, early, window.LowLight, true, "before sunrise or after sunset"},
		{"twilight is not asked for", window.Shore{WayOffM: metre(3)}, wide, sky.LightSun, early, window.LowLight, false, ""},
		{"begins in the dark", window.Shore{WayOffM: metre(3)}, wide, sky.LightAny,
			daylight{rise: 12 * time.Hour, set: 18 * time.Hour, twilight: 30 * time.Minute}, window.Night, true, "dark"},
		{"begins in twilight, not in the dark", window.Shore{WayOffM: metre(3)}, wide, sky.LightAny, early, window.Night, false, ""},
		{"twilight in any light", window.Shore{WayOffM: metre(3)}, wide, sky.LightAny, early, window.LowLight, true, "before sunrise"},
		{"in full day, in any light", window.Shore{WayOffM: metre(3)}, wide, sky.LightAny, civilDay, window.Night, false, ""},
		// The greatest rate of a half cosine is pi/2 of its mean rate: 4.8 m in 6.21 h makes
		// 1.214 m/h, 3.9 m makes 0.986.
		{"rises fast", window.Shore{WayOffM: metre(3)}, wide, sky.LightSun, civilDay, window.FastRise, true, "up to 1.21 m in an hour, 202 mm in 10 minutes"},
		{"rises slower than a metre an hour", window.Shore{WayOffM: metre(3)}, regular(noon, half, 0.4, 4.3), sky.LightSun, civilDay, window.FastRise, false, ""},
		{"small range", window.Shore{WayOffM: metre(3)}, regular(noon, half, 0.4, 1.399), sky.LightSun, civilDay, window.SmallRange, true, "Only 1.0 m"},
		{"a metre of range", window.Shore{WayOffM: metre(3)}, regular(noon, half, 0.4, 1.4), sky.LightSun, civilDay, window.SmallRange, false, ""},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			row.shore.BelowM, row.shore.Zone = 1, time.UTC
			query := wednesday
			query.From, query.To = at("2027-03-03 10:00"), at("2027-03-03 14:00")
			query.Light, query.Sky = row.light, row.sky
			w := only(t, reckon(t, row.shore, row.tide, query))
			text, applies := texts(w.Cautions)[row.code]
			require.Equal(t, row.applies, applies)
			if applies {
				assert.Contains(t, text, row.text)
			}
		})
	}
	t.Run("on every answer", func(t *testing.T) {
		for _, level := range []float64{0.1, 1} {
			assert.Contains(t, texts(reckon(t, shoreBelow(level), wide, wednesday).Cautions), window.Astronomical)
		}
	})
}

// TestRate of the half cosine: pi/2 of the mean rate.
func TestRate(t *testing.T) {
	w := only(t, reckon(t, shoreBelow(1), wide, wednesday))
	require.NotNil(t, w.NextHigh)
	assert.Equal(t, 5.2, w.NextHigh.HeightM)
	assert.Equal(t, noon.Add(half), w.NextHigh.Time)
	want := math.Pi / 2 * 4.8 / 6.21
	assert.InDelta(t, want, w.RiseMPerHour, 0.001)
}
