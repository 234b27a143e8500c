package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// noWindow fails the test unless the answer explains itself by this cause first.
func noWindow(t *testing.T, a window.Answer, code window.CauseCode) *window.None {
	t.Helper()
	require.NotNil(t, a.None)
	require.NotEmpty(t, a.None.Causes)
	require.Equal(t, code, a.None.Causes[0].Code, a.None.Text)
	for _, c := range a.None.Causes {
		assert.NotEmpty(t, c.Text)
		assert.NotContains(t, c.Text, "%")
		assert.NotContains(t, c.Text, "!")
	}
	return a.None
}

// TestNone: each way to have no window, told apart and with figures.
func TestNone(t *testing.T) {
	t.Run("the water never falls so low", func(t *testing.T) {
		none := noWindow(t, reckon(t, shoreBelow(0.3), wide, wednesday), window.LevelNever)
		require.NotNil(t, none.LowestLow)
		assert.Equal(t, 0.4, none.LowestLow.HeightM)
		assert.Nil(t, none.Next)
		assert.Contains(t, none.Text, "does not fall below 0.3 m in this time: the lowest low is 0.4 m on Wed 3 March 2027.")
		assert.Contains(t, none.Text, "There is no window before")
	})
	t.Run("by a hair, and the figures show it", func(t *testing.T) {
		drawn := regular(noon, half, -0.396, 3)
		none := noWindow(t, reckon(t, shoreBelow(-0.4), drawn, wednesday), window.LevelNever)
		assert.Contains(t, none.Text, "does not fall below -0.4 m in this time: the lowest low is -0.396 m on")
	})
	t.Run("no low water in the span at all", func(t *testing.T) {
		query := wednesday
		query.From, query.To = noon.Add(4*time.Hour), noon.Add(5*time.Hour)
		none := noWindow(t, reckon(t, shoreBelow(1), wide, query), window.LevelNever)
		assert.Nil(t, none.LowestLow)
		require.NotNil(t, none.Next)
		assert.Equal(t, "2027-03-04", none.Next.Day)
	})
	t.Run("only night lows until light comes", func(t *testing.T) {
		query := wednesday
		query.Sky = daylight{rise: 6 * time.Hour, set: 18 * time.Hour, nightUntil: at("2027-03-20 00:00")}
		query.From, query.To = at("2027-03-19 00:00"), at("2027-03-20 12:00")
		// The lows of those days: 00:24 and 12:50 on the 19th, 01:14 on the 20th, and 13:39.
		query.To = at("2027-03-20 10:00")
		none := noWindow(t, reckon(t, shoreBelow(1), wide, query), window.Dark)
		assert.Equal(t, 3, none.Causes[0].Count)
		assert.Contains(t, none.Text, "falls below 1.0 m 3 times in this time, but only outside the light.")
		require.NotNil(t, none.Next)
		assert.Equal(t, "2027-03-20", none.Next.Day)
		assert.Contains(t, none.Text, "The next window is on Sat 20 March 2027.")
	})
	t.Run("no light at all", func(t *testing.T) {
		query := wednesday
		query.Light, query.Sky = sky.LightCivil, daylight{night: true}
		none := noWindow(t, reckon(t, shoreBelow(1), wide, query), window.LightNever)
		assert.Contains(t, none.Text, "not even twilight")
	})
	t.Run("neither the level nor the light", func(t *testing.T) {
		query := wednesday
		query.Sky = daylight{night: true}
		none := noWindow(t, reckon(t, shoreBelow(0.1), wide, query), window.LevelNever)
		require.Len(t, none.Causes, 2)
		assert.Equal(t, window.LightNever, none.Causes[1].Code)
	})
	t.Run("the way in is never bare", func(t *testing.T) {
		for _, row := range []struct {
			name     string
			wayOff   float64
			raise    float64
			pressure *float64
			code     window.CauseCode
			figures  string
		}{
			{"as predicted", 0.3, 0.2, nil, window.WayNever, "needs less than 0.3 m, and the lowest of 1 low is 0.4 m"},
			{"with the raised sea", 0.5, 0.2, nil, window.WayNeverRaised, "needs less than 0.3 m, and the lowest of 1 low is 0.4 m"},
			{"at this pressure", 0.7, 0.2, metre(973), window.WayNeverPressure, "0.4 m above prediction at 973 hPa"},
		} {
			shore := window.Shore{BelowM: 1, WayOffM: &row.wayOff, RaiseM: &row.raise, PressureHPa: row.pressure, Zone: time.UTC}
			none := noWindow(t, reckon(t, shore, wide, wednesday), row.code)
			assert.Contains(t, none.Text, row.figures, row.name)
		}
	})
	t.Run("the way in is bare only after dark", func(t *testing.T) {
		shore := shoreBelow(1)
		shore.WayOffM = metre(0.5)
		query := wednesday
		query.Sky = daylight{rise: 6 * time.Hour, set: 11 * time.Hour}
		noWindow(t, reckon(t, shore, wide, query), window.WayLate)
	})
	t.Run("off by leaves nothing", func(t *testing.T) {
		shore := shoreBelow(1)
		shore.CanBeCutOff = true
		query := wednesday
		query.Sky = daylight{rise: 12*time.Hour + 5*time.Minute, set: 18 * time.Hour}
		none := noWindow(t, reckon(t, shore, wide, query), window.OffByNone)
		assert.Contains(t, none.Text, "it is time to start back before there is time to work")
		assert.Contains(t, none.Text, "can be cut off", "and which rule it was")
	})
	t.Run("too short", func(t *testing.T) {
		query := wednesday
		query.Least = 3 * time.Hour
		none := noWindow(t, reckon(t, shoreBelow(1), wide, query), window.TooShort)
		assert.Contains(t, none.Text, "180 min is asked for")
	})
	t.Run("other weekdays", func(t *testing.T) {
		query := wednesday
		query.Days = []time.Weekday{time.Saturday, time.Sunday}
		none := noWindow(t, reckon(t, shoreBelow(1), wide, query), window.OtherDays)
		assert.Contains(t, none.Text, "1 window falls only on other weekdays, the lowest low on Wed 3 March 2027.")
		require.NotNil(t, none.Next)
		assert.Equal(t, "2027-03-06", none.Next.Day, "the Saturday after")
	})
	t.Run("of several causes the one nearest to a window comes first", func(t *testing.T) {
		query := wednesday
		query.To = at("2027-03-04 12:00")
		query.Days = []time.Weekday{time.Saturday}
		none := noWindow(t, reckon(t, shoreBelow(1), wide, query), window.OtherDays)
		require.Len(t, none.Causes, 2, "noon on another weekday, midnight in the dark")
		assert.Equal(t, window.Dark, none.Causes[1].Code)
	})
}

// TestNextIsFar: the search goes on for 400 days, and no further.
func TestNextIsFar(t *testing.T) {
	far := regular(noon, 24*time.Hour, 0.4, 5.2)
	for i := range far { // stretch the drawing to years: a water every ten days
		far[i].Time = noon.Add(far[i].Time.Sub(noon) * 10)
	}
	for i := range far {
		if far[i].Kind == "low" && far[i].Time.After(noon.AddDate(0, 0, -30)) && far[i].Time.Before(noon.AddDate(0, 0, 395)) {
			far[i].HeightM = 2
		}
	}
	query := wednesday
	none := noWindow(t, reckon(t, shoreBelow(1), far, query), window.LevelNever)
	require.NotNil(t, none.Next)
	assert.Equal(t, 0.4, none.Next.Low.HeightM)
	assert.Equal(t, noon.AddDate(0, 0, 400).Format(time.DateOnly), none.Next.Day)

	for i := range far {
		if far[i].Kind == "low" && far[i].Time.Before(noon.AddDate(0, 0, 405)) {
			far[i].HeightM = 2
		}
	}
	none = noWindow(t, reckon(t, shoreBelow(1), far, query), window.LevelNever)
	assert.Nil(t, none.Next)
	assert.Equal(t, query.To.AddDate(0, 0, 400), none.SearchedTo)
}
