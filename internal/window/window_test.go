package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
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

// TestUsableFrom: the party goes in with the light, the dry spell and the way, whichever
// is last.
func TestUsableFrom(t *testing.T) {
	rows := []struct {
		name   string
		wayOff float64
		rise   time.Duration
		from   time.Time
		lowest float64 // of the usable time
	}{
		{"the tide opens the shore", 3, 6 * time.Hour, noon.Add(-side(0.4, 5.2, half, 1.0)), 0.4},
		{"the light does", 3, 11*time.Hour + 15*time.Minute, at("2027-03-03 11:15"), 0.4},
		{"the way does", 0.8, 6 * time.Hour, noon.Add(-side(0.4, 5.2, half, 0.8)), 0.4},
		{"the way and the shore together", 1.0, 6 * time.Hour, noon.Add(-side(0.4, 5.2, half, 1.0)), 0.4},
		{"after low water", 3, 12*time.Hour + 10*time.Minute, at("2027-03-03 12:10"), heightAfter(0.4, 5.2, half, 10*time.Minute)},
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
			assert.InDelta(t, row.lowest, w.LowestUsableM, 0.0006)
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
	t.Run("though another is longer as predicted", func(t *testing.T) {
		// Wednesday's low is long and shallow: 2.2 h a side to 1.0 m by the closed form, but
		// 27 min to 0.8 m; Thursday's is 1.5 h, and 1.3 h to 0.8 m.
		drawn := regular(noon, 6*time.Hour, 0.79, 1.5, 1.2, 5, 0.3, 5, 1.2, 1.5)
		query := wednesday
		query.To = at("2027-03-05 00:00")
		answer := reckon(t, window.Shore{BelowM: 1.0, WayOffM: metre(3), Zone: time.UTC}, drawn, query)
		require.Equal(t, []string{"2027-03-04", "2027-03-03"}, days(answer))
		assert.Less(t, answer.Windows[0].UsableMinutes, answer.Windows[1].UsableMinutes)
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

func days(a window.Answer) []string {
	var list []string
	for _, w := range a.Windows {
		list = append(list, w.Day)
	}
	return list
}
