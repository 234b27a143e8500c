package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// TestRealSky: without a sky made to order the shore's own is asked, at its own site.
func TestRealSky(t *testing.T) {
	guernsey := sky.Site{LatDeg: 49.45, LonEastDeg: -2.54}
	shore := shoreBelow(1)
	shore.Site = guernsey
	query := wednesday
	query.Sky = nil
	// A low that lasts all day, so that the light alone bounds the window.
	drawn := regular(noon, 24*time.Hour, 0.4, 5.2)
	shore.BelowM, shore.WayOffM = 4, metre(4.5)

	spans, err := sky.Lit(guernsey, sky.LightSun, query.From, query.To)
	require.NoError(t, err)
	require.Len(t, spans, 1)
	w := only(t, reckon(t, shore, drawn, query))
	assert.Equal(t, spans[0].From, w.LitFrom)
	assert.Equal(t, spans[0].To, w.LitTo)
	assert.NotEmpty(t, w.Moon.Kind)

	t.Run("civil twilight is longer", func(t *testing.T) {
		query.Light = sky.LightCivil
		twilit := only(t, reckon(t, shore, drawn, query))
		assert.True(t, twilit.LitFrom.Before(w.LitFrom))
		assert.True(t, twilit.LitTo.After(w.LitTo))
	})
	t.Run("and by declination where the tide is diurnal", func(t *testing.T) {
		query.Light = sky.LightSun
		shore.FormNumber = 2
		assert.Contains(t, []string{"north", "south"}, only(t, reckon(t, shore, drawn, query)).Moon.Event)
	})
	t.Run("the polar night has no window", func(t *testing.T) {
		shore.Site = sky.Site{LatDeg: 78.2, LonEastDeg: 15.6}
		query.From, query.To = at("2027-01-10 00:00"), at("2027-01-12 00:00")
		drawn := regular(at("2027-01-10 12:00"), half, 0.4, 5.2)
		none := noWindow(t, reckon(t, shore, drawn, query), window.LightNever)
		require.NotNil(t, none.Next, "the sun comes back to Svalbard in February")
		assert.Equal(t, time.February, none.Next.Low.Time.Month())
	})
	t.Run("counts by level ask it too", func(t *testing.T) {
		counts, err := window.LitByLevel(wide, window.LevelQuery{
			From: at("2027-03-01 00:00"), To: at("2027-04-01 00:00"), Light: sky.LightSun, Site: guernsey, Zone: time.UTC, LevelsM: []float64{1}})
		require.NoError(t, err)
		assert.InDelta(t, 30, counts[0].WindowsPerMonth, 12, "about one of the two lows a day is lit")
	})
}
