package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
	"wrackbook/internal/zone"
)

// The day of most tests: a Wednesday, with low water at noon.
var (
	noon      = at("2027-03-03 12:00")
	wednesday = window.Query{From: at("2027-03-03 00:00"), To: at("2027-03-04 00:00"), Light: sky.LightSun, Sky: from6To18}
	half      = 372*time.Minute + 36*time.Second // 6.21 h
	wide      = regular(noon, half, 0.40, 5.20)
)

// shoreBelow is a shore whose way is open long after its window, so that little else than
// the tide decides.
func shoreBelow(levelM float64) window.Shore {
	return window.Shore{BelowM: levelM, WayOffM: metre(4), Zone: time.UTC, RaiseM: metre(0)}
}

// TestSidesOfLowWater holds opens and shuts against published check values of the
// harmonic-curve interpolation: minutes from low water to the level.
func TestSidesOfLowWater(t *testing.T) {
	rows := []struct {
		name             string
		low, high, hours float64
		level, raise     float64
		sideMin          float64 // of the spell; 0: no window
		raisedSideMin    float64 // of the raised twin's spell; 0: not published
	}{
		{"wide range", 0.40, 5.20, 6.21, 1.00, 0.2, 85.7, 69.5},
		{"wide range, sea 0.3 m higher", 0.40, 5.20, 6.21, 1.00, 0.3, 85.7, 59.9},
		{"lower low", 0.10, 4.50, 6.20, 0.50, 0, 72.5, 72.5},
		{"below datum", -0.30, 1.90, 6.20, 0.00, 0, 89.6, 89.6},
		{"low above the level", 1.20, 5.20, 6.20, 1.00, 0, 0, 0},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			shore := shoreBelow(row.level)
			shore.RaiseM = metre(row.raise)
			drawn := regular(noon, time.Duration(row.hours*float64(time.Hour)), row.low, row.high)
			answer := reckon(t, shore, drawn, wednesday)
			if row.sideMin == 0 {
				require.NotNil(t, answer.None)
				assert.Equal(t, window.LevelNever, answer.None.Causes[0].Code)
				return
			}
			w := only(t, answer)
			// The check values are given to a tenth of a minute.
			assert.InDelta(t, row.sideMin, noon.Sub(*w.Opens).Minutes(), 0.06)
			assert.InDelta(t, row.sideMin, w.Shuts.Sub(noon).Minutes(), 0.06)
			require.NotNil(t, w.Raised)
			assert.InDelta(t, row.raisedSideMin, noon.Sub(*w.Raised.Opens).Minutes(), 0.06)
			assert.InDelta(t, row.raisedSideMin, w.Raised.Shuts.Sub(noon).Minutes(), 0.06)
			assert.Equal(t, row.low, w.Low.HeightM)
			assert.Equal(t, noon, w.Low.Time)
		})
	}
}

// TestOffBy lets each rule decide in turn on the same tide: 0.40 to 5.20 m in 6.21 h.
func TestOffBy(t *testing.T) {
	until := func(set time.Duration) daylight { return daylight{rise: 6 * time.Hour, set: set} }
	rows := []struct {
		name    string
		shore   window.Shore
		light   sky.Light
		sky     daylight
		offBy   time.Time
		code    window.OffByCode
		sea     window.Sea
		because string // in the text
	}{
		{"an hour after low water",
			window.Shore{WayOffM: metre(1.4), Margin: 20 * time.Minute, WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min after low water"},
		{"the raised sea cuts the way",
			window.Shore{WayOffM: metre(1.4), Margin: 45 * time.Minute, WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.2) - 45*time.Minute), window.ByWayOff, window.Raised,
			"the way back is cut at 1.4 m with the sea 0.2 m above prediction, less 45 min margin"},
		{"the predicted sea cuts the way, none raised",
			window.Shore{WayOffM: metre(1.4), Margin: 60 * time.Minute, RaiseM: metre(0)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.4) - 60*time.Minute), window.ByWayOff, window.Predicted,
			"with the sea as predicted, less 60 min margin"},
		{"the sea by air pressure cuts the way",
			window.Shore{WayOffM: metre(1.4), Margin: 45 * time.Minute, PressureHPa: metre(973)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.0) - 45*time.Minute), window.ByWayOff, window.ByPressure,
			"with the sea 0.4 m above prediction at 973 hPa"},
		{"the raised sea, though the pressure is low",
			window.Shore{WayOffM: metre(1.4), Margin: 45 * time.Minute, PressureHPa: metre(1003)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.2) - 45*time.Minute), window.ByWayOff, window.Raised, "0.2 m above prediction"},
		{"high pressure gives nothing back",
			window.Shore{WayOffM: metre(1.4), Margin: 60 * time.Minute, RaiseM: metre(0), PressureHPa: metre(1043)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.4) - 60*time.Minute), window.ByWayOff, window.Predicted, "as predicted"},
		{"the light ends within the spell",
			window.Shore{WayOffM: metre(3), WalkOut: 15 * time.Minute}, sky.LightSun, until(13*time.Hour + 10*time.Minute),
			at("2027-03-03 12:55"), window.ByLight, window.Predicted, "the light ends, less 15 min"},
		{"the light ends after the spell shuts",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightSun, until(13*time.Hour + 40*time.Minute),
			at("2027-03-03 12:40"), window.ByLight, window.Predicted, "the light ends, less 60 min"},
		{"civil twilight counts where it is asked for",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightCivil,
			daylight{rise: 6 * time.Hour, set: 13*time.Hour + 10*time.Minute, twilight: 30 * time.Minute},
			at("2027-03-03 12:40"), window.ByLight, window.Predicted, "the light ends"},
		{"no light ends it where any will do",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightAny, until(13 * time.Hour),
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min"},
		{"no light ends it in the polar day",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightSun, daylight{day: true},
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min"},
		{"a shore that can be cut off",
			window.Shore{WayOffM: metre(3), CanBeCutOff: true, WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			at("2027-03-03 12:15"), window.ByCutOff, window.Predicted, "start back at low water"},
		{"a way-off height nobody knows",
			window.Shore{WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			at("2027-03-03 12:15"), window.ByWayUnknown, window.Predicted, "not known"},
		{"the hour binds a party that walks for longer",
			window.Shore{CanBeCutOff: true, WayOffM: metre(3), WalkOut: 80 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min"},
		{"a way-off height below the workable one",
			window.Shore{WayOffM: metre(0.8), Margin: 10 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 0.6) - 10*time.Minute), window.ByWayOff, window.Raised, "cut at 0.8 m"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			row.shore.BelowM, row.shore.Zone = 1.0, time.UTC
			query := wednesday
			query.Light, query.Sky = row.light, row.sky
			query.From, query.To = at("2027-03-03 09:00"), at("2027-03-03 15:00")
			w := only(t, reckon(t, row.shore, wide, query))
			near(t, row.offBy, w.OffBy, "off by")
			near(t, row.offBy.Add(-row.shore.WalkOut), w.StartBack, "start back")
			assert.Equal(t, row.code, w.OffByReason.Code)
			assert.Equal(t, row.sea, w.OffByReason.Sea)
			assert.Contains(t, w.OffByReason.Text, row.because)
		})
	}
}

// TestUsableFrom: the party goes in with the light, the dry spell and the way, whichever
// is last.
func TestUsableFrom(t *testing.T) {
	rows := []struct {
		name   string
		wayOff float64
		rise   time.Duration
		from   time.Time
	}{
		{"the tide opens the shore", 3, 6 * time.Hour, noon.Add(-side(0.4, 5.2, half, 1.0))},
		{"the light does", 3, 11*time.Hour + 15*time.Minute, at("2027-03-03 11:15")},
		{"the way does", 0.8, 6 * time.Hour, noon.Add(-side(0.4, 5.2, half, 0.8))},
		{"the way and the shore together", 1.0, 6 * time.Hour, noon.Add(-side(0.4, 5.2, half, 1.0))},
		{"after low water", 3, 12*time.Hour + 10*time.Minute, at("2027-03-03 12:10")},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			shore := shoreBelow(1.0)
			shore.WayOffM, shore.Travel = &row.wayOff, 50*time.Minute
			query := wednesday
			query.Sky = daylight{rise: row.rise, set: 18 * time.Hour}
			w := only(t, reckon(t, shore, wide, query))
			near(t, row.from, w.UsableFrom, "usable from")
			near(t, row.from.Add(-50*time.Minute), w.LeaveHome, "leave home")
			assert.Equal(t, row.rise < 12*time.Hour, w.LowIsLit)
		})
	}
}

// TestTwins: the raised and the pressure twin keep the light and the start back of their
// window, and pressure cuts the window itself.
func TestTwins(t *testing.T) {
	shore := window.Shore{BelowM: 1.0, WayOffM: metre(0.9), Zone: time.UTC, PressureHPa: metre(983)}
	w := only(t, reckon(t, shore, wide, wednesday))

	require.NotNil(t, w.Raised)
	assert.InDelta(t, 0.2, w.Raised.RiseM, 1e-9, "the default")
	require.NotNil(t, w.Pressure)
	assert.InDelta(t, 0.3, w.Pressure.RiseM, 1e-9, "1 cm for each hPa below 1013")

	// The way, at 0.9 m, opens after the shore in every sea; the highest sea, by pressure,
	// has it bare while the prediction is below 0.6 m.
	inHighest := side(0.4, 5.2, half, 0.6)
	near(t, noon.Add(-inHighest), w.Pressure.UsableFrom, "pressure twin from")
	near(t, noon.Add(-inHighest), w.UsableFrom, "the window is cut to it")
	near(t, noon.Add(inHighest), w.OffBy, "off by")
	near(t, noon.Add(inHighest), w.UsableTo, "usable to")
	near(t, noon.Add(-side(0.4, 5.2, half, 0.7)), *w.Pressure.Opens, "pressure twin opens")
	near(t, noon.Add(-side(0.4, 5.2, half, 0.8)), *w.Raised.Opens, "raised twin opens")
	near(t, noon.Add(-side(0.4, 5.2, half, 1.0)), *w.Opens, "the window's own spell stays as predicted")
	assert.Contains(t, texts(w.Cautions)[window.LowPressure], "983 hPa")

	t.Run("a sea that never falls below the level has no twin", func(t *testing.T) {
		shore := window.Shore{BelowM: 0.5, WayOffM: metre(3), Zone: time.UTC}
		w := only(t, reckon(t, shore, wide, wednesday))
		assert.Nil(t, w.Raised)
		assert.Equal(t, "With the sea 0.2 m above prediction there is no window.", texts(w.Cautions)[window.RaisedNone])
	})
	t.Run("a twin of under half its window is a caution", func(t *testing.T) {
		shore := window.Shore{BelowM: 0.65, WayOffM: metre(3), Zone: time.UTC}
		w := only(t, reckon(t, shore, wide, wednesday))
		// 0.65 m is 54.6 min from low water by the closed form, 0.45 m is 24.2.
		require.NotNil(t, w.Raised)
		assert.InDelta(t, side(0.4, 5.2, half, 0.45).Minutes()*2, float64(w.Raised.UsableMinutes), 1)
		assert.Contains(t, texts(w.Cautions), window.RaisedShort)
	})
	t.Run("pressure that covers the level leaves no window", func(t *testing.T) {
		shore := window.Shore{BelowM: 0.6, WayOffM: metre(3), Zone: time.UTC, PressureHPa: metre(983)}
		answer := reckon(t, shore, wide, wednesday)
		require.NotNil(t, answer.None)
		assert.Equal(t, window.PressureCovers, answer.None.Causes[0].Code)
	})
}

func texts(notes []window.Note) map[window.NoteCode]string {
	m := map[window.NoteCode]string{}
	for _, n := range notes {
		m[n.Code] = n.Text
	}
	return m
}

// TestSpellOverNight: a level above the neap highs lies bare for days; each day's light
// gives a window with a low water of its own.
func TestSpellOverNight(t *testing.T) {
	// Two weeks of low highs, then one that covers the shore.
	pattern := []float64{0.9, 1.5, 0.8, 1.4, 0.85, 1.45, 0.95, 1.5, 0.7, 1.6, 0.9, 3.0}
	drawn := regular(noon, 6*time.Hour, pattern...)
	shore := window.Shore{BelowM: 2.0, WayOffM: metre(2.5), Zone: time.UTC}
	query := wednesday
	query.To = at("2027-03-06 00:00")
	answer := reckon(t, shore, drawn, query)
	require.Len(t, answer.Windows, 3)

	byDay := map[string]window.Window{}
	for _, w := range answer.Windows {
		byDay[w.Day] = w
	}
	// The lows stand at 12:00 and 00:00: 0.9 m on Wednesday noon, 0.85 on Thursday noon,
	// 0.7 on Friday noon; no other falls in the light.
	for day, height := range map[string]float64{"2027-03-03": 0.9, "2027-03-04": 0.85, "2027-03-05": 0.7} {
		w, is := byDay[day]
		require.True(t, is, day)
		assert.Equal(t, height, w.Low.HeightM, day)
		assert.Equal(t, "12:00", w.Low.Time.Format("15:04"))
		near(t, w.Low.Time.Add(time.Hour), w.OffBy, day)
		assert.Equal(t, byDay["2027-03-03"].Opens, w.Opens, "one spell for all")
	}
	assert.Equal(t, "18:00", byDay["2027-03-04"].LitTo.Format("15:04"))
	assert.Equal(t, "06:00", byDay["2027-03-04"].LitFrom.Format("15:04"))

	t.Run("in any light the spell is one window", func(t *testing.T) {
		query.Light, query.From = sky.LightAny, at("2027-03-03 12:00")
		w := only(t, reckon(t, shore, drawn, query))
		assert.Equal(t, *w.Opens, w.LitFrom)
		assert.Equal(t, *w.Shuts, w.LitTo)
		assert.Equal(t, 0.7, w.Low.HeightM, "the lowest of the spell")
	})
}

// TestDoubleLow: of two low waters in one spell the lower counts, of equals the earlier.
func TestDoubleLow(t *testing.T) {
	rows := []struct {
		name          string
		first, second float64
		want          time.Time
	}{
		{"the first is lower", 0.3, 0.4, at("2027-03-03 12:00")},
		{"the second is lower", 0.4, 0.3, at("2027-03-03 16:00")},
		{"equal", 0.4, 0.4, at("2027-03-03 12:00")},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			drawn := regular(noon, 2*time.Hour, row.first, 0.6, row.second, 3.0, 1.5, 3.0)
			shore := shoreBelow(1.0)
			shore.WayOffM = metre(2.9)
			query := wednesday
			query.From, query.To = at("2027-03-03 11:00"), at("2027-03-03 17:00")
			w := only(t, reckon(t, shore, drawn, query))
			assert.Equal(t, row.want, w.Low.Time)
			near(t, row.want.Add(time.Hour), w.OffBy, "off by")
			near(t, *w.Opens, w.UsableFrom, "the small rise between cuts nothing")
		})
	}
}

// TestRiseBetweenLows: where the rise between two low waters of one spell could cut the
// way in some sea, nobody is out on it: the window begins at that high water.
func TestRiseBetweenLows(t *testing.T) {
	between := at("2027-03-03 13:00")
	rows := []struct {
		name  string
		shore window.Shore
		from  time.Time // zero: with the spell
	}{
		{"the way stays bare", window.Shore{WayOffM: metre(1.2)}, time.Time{}},
		{"the raised sea cuts it", window.Shore{WayOffM: metre(0.79)}, between},
		{"the raised sea just touches it", window.Shore{WayOffM: metre(0.8)}, between},
		{"a lower sea than the raised one does not", window.Shore{WayOffM: metre(0.801)}, time.Time{}},
		{"the sea by pressure cuts it, and bares the shore later", window.Shore{WayOffM: metre(0.9), PressureHPa: metre(978)},
			at("2027-03-03 14:00").Add(-side(0.3, 0.6, time.Hour, 0.35))},
		{"the predicted sea cuts it", window.Shore{WayOffM: metre(0.55), RaiseM: metre(0)},
			at("2027-03-03 14:00").Add(-side(0.3, 0.6, time.Hour, 0.55))},
		{"nobody knows", window.Shore{}, between},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			drawn := regular(noon, time.Hour, 0.4, 0.6, 0.3, 3.0, 1.5, 3.0)
			row.shore.BelowM, row.shore.Zone = 0.7, time.UTC
			query := wednesday
			query.From, query.To = at("2027-03-03 11:30"), at("2027-03-03 14:30")
			w := only(t, reckon(t, row.shore, drawn, query))
			require.Equal(t, at("2027-03-03 14:00"), w.Low.Time)
			if row.from.IsZero() {
				row.from = *w.Opens
			}
			near(t, row.from, w.UsableFrom, "usable from")
		})
	}
}

// TestLowOutsideTheLight takes the nearest low water of the spell.
func TestLowOutsideTheLight(t *testing.T) {
	shore := shoreBelow(1.0)
	t.Run("before sunrise", func(t *testing.T) {
		query := wednesday
		query.Sky = daylight{rise: 12*time.Hour + 20*time.Minute, set: 18 * time.Hour}
		w := only(t, reckon(t, shore, wide, query))
		assert.False(t, w.LowIsLit)
		assert.Equal(t, noon, w.Low.Time)
		assert.Equal(t, at("2027-03-03 12:20"), w.LitFrom)
		near(t, noon.Add(time.Hour), w.UsableTo, "the hour after low water")
		assert.Greater(t, w.LowestUsableM, 0.4, "the low itself is not seen")
	})
	t.Run("after sunset", func(t *testing.T) {
		query := wednesday
		query.Sky = daylight{rise: 6 * time.Hour, set: 11*time.Hour + 30*time.Minute}
		w := only(t, reckon(t, shore, wide, query))
		assert.False(t, w.LowIsLit)
		assert.Equal(t, noon, w.Low.Time)
		assert.Equal(t, at("2027-03-03 11:30"), w.UsableTo)
		assert.Equal(t, window.ByLight, w.OffByReason.Code)
	})
	t.Run("of two as near the earlier", func(t *testing.T) {
		drawn := regular(at("2027-03-03 10:00"), 2*time.Hour, 0.4, 0.6, 0.3, 3.0)
		query := wednesday
		query.From, query.To = at("2027-03-03 10:00"), at("2027-03-03 14:00")
		query.Sky = daylight{rise: 11*time.Hour + 30*time.Minute, set: 12*time.Hour + 30*time.Minute}
		answer := reckon(t, shore, drawn, query)
		require.NotNil(t, answer.None, "an hour after 10:00 the light has not come")
		assert.Equal(t, window.OffByNone, answer.None.Causes[0].Code)
	})
}

// TestPolar: a sun that never sets lights every spell whole; one that never rises, none.
func TestPolar(t *testing.T) {
	shore := shoreBelow(1.0)
	query := wednesday
	query.Sky = daylight{day: true}
	answer := reckon(t, shore, wide, query)
	assert.Len(t, answer.Windows, 3, "lows at 12:00, and at 23:35 and 00:25 over either midnight")
	for _, w := range answer.Windows {
		assert.Equal(t, *w.Opens, w.LitFrom)
		assert.Equal(t, *w.Shuts, w.LitTo)
	}
	query.Sky = daylight{night: true}
	answer = reckon(t, shore, wide, query)
	require.NotNil(t, answer.None)
	assert.Equal(t, window.LightNever, answer.None.Causes[0].Code)
	assert.Contains(t, answer.None.Text, "The sun does not rise")
	assert.Nil(t, answer.None.Next)
}

// TestAlwaysBare: a level above every high water never shuts.
func TestAlwaysBare(t *testing.T) {
	shore := window.Shore{BelowM: 6, WayOffM: metre(7), Zone: time.UTC}
	answer := reckon(t, shore, wide, wednesday)
	w := only(t, answer)
	assert.Nil(t, w.Opens)
	assert.Nil(t, w.Shuts)
	assert.Equal(t, at("2027-03-03 06:00"), w.LitFrom)
	assert.Equal(t, at("2027-03-03 18:00"), w.LitTo)
	assert.Contains(t, texts(w.Cautions), window.AlwaysBare)

	t.Run("with no light to bound it, the span does", func(t *testing.T) {
		query := wednesday
		query.Light = sky.LightAny
		w := only(t, reckon(t, shore, wide, query))
		assert.Equal(t, query.From, w.LitFrom)
		assert.Equal(t, query.To, w.LitTo)
		assert.True(t, w.EdgeFrom)
		assert.True(t, w.EdgeTo)
		assert.Equal(t, noon, w.Low.Time)
	})
	t.Run("a spell of ten days is seen whole", func(t *testing.T) {
		pattern := make([]float64, 80)
		for i := range pattern {
			pattern[i] = float64(i%2) + 0.5
		}
		pattern[1] = 3 // once in twenty days a high water covers the shore
		drawn := regular(at("2027-02-21 12:00"), 6*time.Hour, pattern...)
		shore := window.Shore{BelowM: 2, WayOffM: metre(2.5), Zone: time.UTC}
		w := only(t, reckon(t, shore, drawn, wednesday))
		require.NotNil(t, w.Opens)
		require.NotNil(t, w.Shuts)
		assert.Equal(t, "2027-02-21", w.Opens.Format(time.DateOnly))
		assert.Equal(t, "2027-03-13", w.Shuts.Format(time.DateOnly))
		assert.NotContains(t, texts(w.Cautions), window.AlwaysBare)
	})
}

// TestSpanEdges: a window that the span cuts is given whole, and marked.
func TestSpanEdges(t *testing.T) {
	whole := only(t, reckon(t, shoreBelow(1.0), wide, wednesday))
	opens, shuts := *whole.Opens, *whole.Shuts
	rows := []struct {
		name         string
		from, to     time.Time
		found        bool
		edgeA, edgeB bool
	}{
		{"around it", opens.Add(-time.Minute), shuts.Add(time.Minute), true, false, false},
		{"exactly", opens, shuts, true, false, false},
		{"begins inside", noon, shuts.Add(time.Minute), true, true, false},
		{"ends inside", opens.Add(-time.Minute), noon, true, false, true},
		{"lies inside", noon.Add(-time.Minute), noon.Add(time.Minute), true, true, true},
		{"ends where it opens", opens.Add(-time.Hour), opens, false, false, false},
		{"begins where it shuts", shuts, shuts.Add(time.Hour), false, false, false},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			query := wednesday
			query.From, query.To = row.from, row.to
			answer := reckon(t, shoreBelow(1.0), wide, query)
			if !row.found {
				require.NotNil(t, answer.None)
				return
			}
			w := only(t, answer)
			near(t, opens, w.LitFrom, "lit from")
			near(t, shuts, w.LitTo, "lit to")
			assert.Equal(t, row.edgeA, w.EdgeFrom)
			assert.Equal(t, row.edgeB, w.EdgeTo)
			_, told := texts(w.Cautions)[window.Edge]
			assert.Equal(t, row.edgeA || row.edgeB, told)
		})
	}
}

// TestDays: a window belongs to the shore's local day of its low water, on either side of
// the date line and over a change of the clocks.
func TestDays(t *testing.T) {
	rows := []struct {
		name    string
		zone    *time.Location
		low     time.Time
		day     string
		weekday time.Weekday
		weekend bool
	}{
		{"Greenwich", time.UTC, at("2027-03-03 12:00"), "2027-03-03", time.Wednesday, false},
		{"west of the date line it is Saturday still", time.FixedZone("-11", -11*3600), at("2027-03-07 10:30"), "2027-03-06", time.Saturday, true},
		{"east of it, Sunday is half done", time.FixedZone("+13", 13*3600), at("2027-03-06 23:30"), "2027-03-07", time.Sunday, true},
		{"east of it, Monday has begun", time.FixedZone("+14", 14*3600), at("2027-03-07 10:30"), "2027-03-08", time.Monday, false},
		// Clocks in London go from 01:00 to 02:00 at 01:00 UT on Sunday 28 March 2027.
		{"before the clocks go forward", london(t), at("2027-03-27 23:30"), "2027-03-27", time.Saturday, true},
		{"the night they go forward", london(t), at("2027-03-28 22:59"), "2027-03-28", time.Sunday, true},
		{"an hour of summer time makes it Monday", london(t), at("2027-03-28 23:01"), "2027-03-29", time.Monday, false},
		// And back at 01:00 UT on Sunday 31 October 2027.
		{"the night they go back", london(t), at("2027-10-31 23:30"), "2027-10-31", time.Sunday, true},
		{"summer time still, Sunday early", london(t), at("2027-10-30 23:30"), "2027-10-31", time.Sunday, true},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			shore := shoreBelow(1.0)
			shore.Zone = row.zone
			query := window.Query{From: row.low.Add(-2 * time.Hour), To: row.low.Add(2 * time.Hour), Light: sky.LightAny, Sky: from6To18}
			drawn := regular(row.low, half, 0.40, 5.20)
			w := only(t, reckon(t, shore, drawn, query))
			assert.Equal(t, row.day, w.Day)
			assert.Equal(t, row.weekend, w.Weekend)
			assert.Equal(t, time.UTC, w.Low.Time.Location())

			query.Days = []time.Weekday{row.weekday}
			assert.Equal(t, row.day, only(t, reckon(t, shore, drawn, query)).Day)

			for day := time.Sunday; day <= time.Saturday; day++ {
				if day != row.weekday {
					query.Days = append(query.Days[:0:0], day)
					answer := reckon(t, shore, drawn, query)
					require.NotNil(t, answer.None, day)
					assert.Equal(t, window.OtherDays, answer.None.Causes[0].Code)
				}
			}
		})
	}
}

// TestLeast drops what is too short, by whole usable minutes.
func TestLeast(t *testing.T) {
	query := wednesday
	query.Sky = daylight{rise: 11 * time.Hour, set: 18 * time.Hour}
	// Usable from 11:00 to 13:00.
	for _, row := range []struct {
		least time.Duration
		found bool
	}{{0, true}, {time.Minute, true}, {120 * time.Minute, true}, {121 * time.Minute, false}, {120*time.Minute + time.Second, false}} {
		query.Least = row.least
		answer := reckon(t, shoreBelow(1.0), wide, query)
		assert.Equal(t, row.found, answer.None == nil, row.least)
		if !row.found {
			assert.Equal(t, window.TooShort, answer.None.Causes[0].Code)
			assert.Contains(t, answer.None.Text, "120 min")
		}
	}
}

// TestOrderOfMerit: the raised twin's minutes first, then the lowest water, the weekend,
// and time.
func TestOrderOfMerit(t *testing.T) {
	t.Run("by the raised twin", func(t *testing.T) {
		// Lows a day apart at noon: 0.85 m on Wednesday, 0.3 on Thursday, 0.6 on Friday.
		drawn := regular(noon, 6*time.Hour, 0.85, 5, 1.5, 5, 0.3, 5, 1.5, 5, 0.6, 5, 1.5, 5)
		query := wednesday
		query.To = at("2027-03-06 00:00")
		answer := reckon(t, window.Shore{BelowM: 1.0, WayOffM: metre(3), Zone: time.UTC}, drawn, query)
		assert.Equal(t, []string{"2027-03-04", "2027-03-05", "2027-03-03"}, days(answer))
		assert.Nil(t, answer.Windows[2].Raised, "0.85 m and 0.2 m more are over the level")
	})
	t.Run("by the lowest water where the light cuts all to one length", func(t *testing.T) {
		drawn := regular(noon, 6*time.Hour, 0.6, 5, 1.5, 5, 0.3, 5, 1.5, 5, 0.5, 5, 1.5, 5)
		query := wednesday
		query.To = at("2027-03-06 00:00")
		query.Sky = daylight{rise: 11*time.Hour + 50*time.Minute, set: 18 * time.Hour}
		shore := window.Shore{BelowM: 1.0, WayOffM: metre(4), CanBeCutOff: true, Zone: time.UTC}
		answer := reckon(t, shore, drawn, query)
		for _, w := range answer.Windows {
			require.Equal(t, 10, w.Raised.UsableMinutes)
		}
		assert.Equal(t, []string{"2027-03-04", "2027-03-05", "2027-03-03"}, days(answer))
	})
	t.Run("weekends first among equals, then time", func(t *testing.T) {
		drawn := regular(at("2027-03-05 12:00"), 6*time.Hour, 0.4, 5, 1.5, 5)
		query := wednesday
		query.From, query.To = at("2027-03-05 00:00"), at("2027-03-09 00:00")
		answer := reckon(t, window.Shore{BelowM: 1.0, WayOffM: metre(3), Zone: time.UTC}, drawn, query)
		assert.Equal(t, []string{"2027-03-06", "2027-03-07", "2027-03-05", "2027-03-08"}, days(answer))
		assert.Contains(t, texts(answer.Windows[0].Reasons), window.ReasonWeekend)
		assert.NotContains(t, texts(answer.Windows[2].Reasons), window.ReasonWeekend)
	})
}

func london(t *testing.T) *time.Location {
	t.Helper()
	l, err := zone.Load("Europe/London")
	require.NoError(t, err)
	return l
}

func days(a window.Answer) []string {
	var list []string
	for _, w := range a.Windows {
		list = append(list, w.Day)
	}
	return list
}
