package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
	"wrackbook/internal/window"
)

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
		assert.InDelta(t, heightAfter(0.4, 5.2, half, 20*time.Minute), w.LowestUsableM, 0.0006, "the low itself is not seen")
	})
	t.Run("after sunset", func(t *testing.T) {
		query := wednesday
		query.Sky = daylight{rise: 6 * time.Hour, set: 11*time.Hour + 30*time.Minute}
		w := only(t, reckon(t, shore, wide, query))
		assert.False(t, w.LowIsLit)
		assert.Equal(t, noon, w.Low.Time)
		assert.Equal(t, at("2027-03-03 11:30"), w.UsableTo)
		assert.Equal(t, window.ByLight, w.OffByReason.Code)
		assert.InDelta(t, heightAfter(0.4, 5.2, half, 30*time.Minute), w.LowestUsableM, 0.0006)
	})
	t.Run("never one of another spell, be it nearer", func(t *testing.T) {
		// A long dry spell around 10:00; it shuts at some 13:00, and 14:00 is low again.
		drawn := turns{
			{Time: noon.AddDate(0, 0, -10), HeightM: 3, Kind: tide.High},
			{Time: at("2027-03-03 10:00"), HeightM: 0.4, Kind: tide.Low},
			{Time: at("2027-03-03 13:30"), HeightM: 1.1, Kind: tide.High},
			{Time: at("2027-03-03 14:00"), HeightM: 0.9, Kind: tide.Low},
			{Time: noon.AddDate(0, 0, 10), HeightM: 3, Kind: tide.High},
		}
		query := wednesday
		query.From, query.To = at("2027-03-03 12:00"), at("2027-03-03 13:10")
		query.Sky = daylight{rise: 12*time.Hour + 25*time.Minute, set: 18 * time.Hour}
		noWindow(t, reckon(t, shoreBelow(1), drawn, query), window.OffByNone)
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

// lowless is a tide whose list of waters is empty, and whose crossings repeat themselves.
type lowless struct{ turns }

type lowlessCurve struct{ tide.Curve }

func (l lowless) Curve(from, to time.Time) (tide.Curve, error) {
	curve, err := l.turns.Curve(from, to)
	return lowlessCurve{curve}, err
}

func (c lowlessCurve) Waters() []tide.Water { return nil }

func (c lowlessCurve) Crossings(levelM float64) []tide.Crossing {
	var twice []tide.Crossing
	for _, x := range c.Curve.Crossings(levelM) {
		twice = append(twice, x, x)
	}
	return twice
}

// TestNoLowWater: of a dry spell without a low water nothing safe can be said.
func TestNoLowWater(t *testing.T) {
	none := noWindow(t, reckon(t, shoreBelow(1), lowless{wide}, wednesday), window.TooShort)
	assert.Nil(t, none.LowestLow)
	assert.Nil(t, none.Next)
}
