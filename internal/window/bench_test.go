package window_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
	"wrackbook/internal/window"
)

// BenchmarkYear reckons a year of windows for one shore. "room" has a tide and a sky that
// cost next to nothing; the others stand on the rooms of tide and sky, with the 37
// constituents of Honolulu.
func BenchmarkYear(b *testing.B) {
	year := window.Query{From: at("2027-01-01 00:00"), To: at("2028-01-01 00:00"), Light: sky.LightSun}
	drawn := regularFor(500, noon, half, 0.4, 5.2, 0.9, 4.8, 1.3, 4.1, 1.6, 4.4)
	shore := window.Shore{BelowM: 1.8, WayOffM: metre(2.5), PressureHPa: metre(1000), Zone: time.UTC}
	b.Run("room", func(b *testing.B) {
		query := year
		query.Sky = from6To18
		bench(b, shore, drawn, query)
	})
	honolulu := honolulu(b)
	low := window.Shore{BelowM: 0.15, WayOffM: metre(0.4), Zone: time.UTC, Site: sky.Site{LatDeg: 21.3, LonEastDeg: -157.87}}
	for _, light := range []sky.Light{sky.LightSun, sky.LightCivil, sky.LightAny} {
		b.Run("all rooms, light "+string(light), func(b *testing.B) {
			query := year
			query.Light = light
			bench(b, low, honolulu, query)
		})
	}
	b.Run("all rooms, no window", func(b *testing.B) {
		never := low
		never.BelowM = -2
		for b.Loop() {
			answer, err := window.Reckon(never, honolulu, year)
			require.NoError(b, err)
			require.NotNil(b, answer.None)
		}
	})
	b.Run("levels", func(b *testing.B) {
		for b.Loop() {
			_, err := window.LitByLevel(honolulu, window.LevelQuery{
				From: year.From, To: year.To, Light: sky.LightSun, Site: low.Site, Zone: time.UTC})
			require.NoError(b, err)
		}
	})
}

func bench(b *testing.B, shore window.Shore, t tide.Tide, query window.Query) {
	n := 0
	for b.Loop() {
		answer, err := window.Reckon(shore, t, query)
		require.NoError(b, err)
		n = len(answer.Windows)
	}
	require.Greater(b, n, 100)
	b.ReportMetric(float64(n), "windows")
}

// honolulu is the tide of NOAA station 1612340 from its published constants.
func honolulu(tb testing.TB) tide.Tide {
	tb.Helper()
	f, err := os.Open("../../testdata/tides/noaa/1612340_honolulu_constants.csv")
	require.NoError(tb, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(tb, err)
	var constants []tide.Constant
	for _, row := range rows[1:] {
		amplitude, err := strconv.ParseFloat(row[2], 64)
		require.NoError(tb, err)
		phase, err := strconv.ParseFloat(row[3], 64)
		require.NoError(tb, err)
		name := row[1]
		if name == "RHO" { // the office's short name for RHO1
			name = "RHO1"
		}
		constants = append(constants, tide.Constant{Name: name, AmplitudeM: amplitude, PhaseDeg: phase})
	}
	require.Len(tb, constants, 37)
	h, err := tide.NewHarmonic(0.25, constants, tide.Yearly)
	require.NoError(tb, err)
	return h
}
