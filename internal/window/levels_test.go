package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// TestLitByLevel counts on a tide with a low each noon: 0.35 m on even days, 0.85 m on odd
// ones, and every night one of 0.1 m that no light reaches.
func TestLitByLevel(t *testing.T) {
	drawn := regular(noon.AddDate(0, 0, 1), 6*time.Hour, 0.35, 5, 0.1, 5, 0.85, 5, 0.1, 5)
	q := window.LevelQuery{From: at("2027-03-01 00:00"), To: at("2027-05-01 00:00"), Light: sky.LightSun, Zone: time.UTC, Sky: from6To18}
	q.LevelsM = []float64{0.3, 0.5, 1.0}
	counts, err := window.LitByLevel(drawn, q)
	require.NoError(t, err)
	require.Len(t, counts, 3)

	const months = 61 / 30.436875
	assert.Equal(t, 0.3, counts[0].LevelM)
	assert.Zero(t, counts[0].WindowsPerMonth, "only the night lows are so low")
	assert.Zero(t, counts[0].MedianMinutes)
	require.NotNil(t, counts[0].FewestInAMonth)
	assert.Zero(t, *counts[0].FewestInAMonth)

	assert.InDelta(t, 30/months, counts[1].WindowsPerMonth, 0.05, "even days: 15 in March, 15 in April")
	assert.InDelta(t, 2*side(0.35, 5, 6*time.Hour, 0.5).Minutes(), counts[1].MedianMinutes, 1)
	assert.Equal(t, 15, *counts[1].FewestInAMonth)

	assert.InDelta(t, 61/months, counts[2].WindowsPerMonth, 0.05, "every day")
	assert.Equal(t, 30, *counts[2].FewestInAMonth, "April")
	longer, shorter := side(0.35, 5, 6*time.Hour, 1), side(0.85, 5, 6*time.Hour, 1)
	assert.Greater(t, counts[2].MedianMinutes, int(2*shorter.Minutes())-1)
	assert.Less(t, counts[2].MedianMinutes, int(2*longer.Minutes())+1)

	t.Run("from the lowest low upward unless given", func(t *testing.T) {
		q.LevelsM = nil
		counts, err := window.LitByLevel(drawn, q)
		require.NoError(t, err)
		require.Len(t, counts, 40)
		assert.Equal(t, 0.2, counts[0].LevelM, "the first whole tenth above 0.1")
		assert.Equal(t, 0.3, counts[1].LevelM)
		assert.Equal(t, 4.1, counts[39].LevelM)
		for i := 1; i < len(counts); i++ {
			assert.Greater(t, counts[i].LevelM, counts[i-1].LevelM)
		}
	})
	t.Run("below datum too", func(t *testing.T) {
		counts, err := window.LitByLevel(regular(noon, half, -0.45, 2), q)
		require.NoError(t, err)
		assert.Equal(t, -0.4, counts[0].LevelM)
		assert.Equal(t, 0.0, counts[4].LevelM)
	})
	t.Run("a span without a whole month", func(t *testing.T) {
		q.From, q.To, q.LevelsM = at("2027-03-02 00:00"), at("2027-04-30 00:00"), []float64{1}
		counts, err := window.LitByLevel(drawn, q)
		require.NoError(t, err)
		assert.Nil(t, counts[0].FewestInAMonth)
	})
	t.Run("months are the shore's", func(t *testing.T) {
		q.Zone = time.FixedZone("+2", 2*3600)
		q.From, q.To = at("2027-02-28 22:00"), at("2027-03-31 22:00")
		counts, err := window.LitByLevel(drawn, q)
		require.NoError(t, err)
		require.NotNil(t, counts[0].FewestInAMonth)
		assert.Equal(t, 31, *counts[0].FewestInAMonth)
	})
}
