package tide

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const foot = 0.3048

type line struct {
	at     time.Time
	height float64
	kind   Kind
}

func column(tb testing.TB, path string, at, height, kind int, unit float64, keep func([]string) bool) []line {
	tb.Helper()
	var out []line
	for _, r := range rows(tb, path) {
		if keep != nil && !keep(r) {
			continue
		}
		k := Low
		if r[kind] == "H" {
			k = High
		}
		out = append(out, line{minute(tb, r[at]), number(tb, r[height]) * unit, k})
	}
	require.NotEmpty(tb, out, path)
	return out
}

// TestOfficeTables holds the prediction against high and low waters printed by NOAA
// CO-OPS (testdata/tides/noaa, public domain). Budgets per table; every printed water must
// be met by one of the same kind within half an hour, and none may be left over. Times
// are printed to the minute, so a perfect prediction shows 0.29 min rms.
func TestOfficeTables(t *testing.T) {
	of := func(id string) func([]string) bool { return func(r []string) bool { return r[1] == id } }
	friday := "noaa/friday_harbor_hanbury_kanaka_highlow_octnov_2017_2021.csv"
	tables := []struct {
		name, station string
		waters        []line
		minutes, rms  float64       // rms in minutes and in metres
		pieces        time.Duration // a gap longer than this starts another piece
	}{
		{"Friday Harbor", "noaa/9449880", column(t, friday, 0, 4, 5, 1, of("9449880")), 0.4, 0.001, 48 * time.Hour},
		{"Hanbury Point", "noaa/9449828", column(t, friday, 0, 4, 5, 1, of("9449828")), 0.4, 0.001, 48 * time.Hour},
		{"Kanaka Bay", "noaa/9449856", column(t, friday, 0, 4, 5, 1, of("9449856")), 0.4, 0.001, 48 * time.Hour},
		{"San Francisco", "noaa/9414290", column(t, "noaa/9414290_san_francisco_highlow_2026_2027.csv", 0, 2, 3, foot, nil), 0.4, 0.0095, 48 * time.Hour},
		{"Sausalito", "noaa/9414806", column(t, "noaa/9414806_sausalito_secondary_highlow_2026_2027.csv", 0, 2, 3, foot, nil), 0.4, 0.0095, 48 * time.Hour},
		{"Kamalo Harbor", "noaa/1613077", column(t, "noaa/1613077_kamalo_harbor_secondary_highlow_2026-07-15.csv", 0, 1, 2, 1, nil), 0.4, 0.001, 48 * time.Hour},
		{"Santa Cruz, reference since revised", "noaa/9413745", column(t, "noaa/9413745_santa_cruz_secondary_highlow_2015.csv", 0, 2, 4, foot, nil), 1.6, 0.018, 48 * time.Hour},
		{"Point Pinellas, reference since revised", "noaa/8726454", column(t, "noaa/8726454_point_pinellas_secondary_highlow_2016.csv", 0, 2, 4, foot, nil), 8.6, 0.019, 48 * time.Hour},
	}
	all := stations(t)
	for _, tb := range tables {
		t.Run(tb.name, func(t *testing.T) {
			tide := tideOf(t, all, tb.station)
			var got []Water
			for i := 0; i < len(tb.waters); {
				j := i + 1
				for j < len(tb.waters) && tb.waters[j].at.Sub(tb.waters[j-1].at) < tb.pieces {
					j++
				}
				c, err := tide.Curve(tb.waters[i].at.Add(-25*time.Hour), tb.waters[j-1].at.Add(25*time.Hour))
				require.NoError(t, err)
				for _, w := range c.Table() {
					if !w.Time.Before(tb.waters[i].at.Add(-90*time.Minute)) && !w.Time.After(tb.waters[j-1].at.Add(90*time.Minute)) {
						got = append(got, w)
					}
				}
				i = j
			}
			require.Equal(t, len(tb.waters), len(got), "none missing, none extra")
			var sumT, sumH, worstT, worstH float64
			for i, w := range tb.waters {
				require.Equal(t, w.kind, got[i].Kind, w.at)
				dt := got[i].Time.Sub(w.at).Minutes()
				dh := got[i].HeightM - w.height
				sumT += dt * dt
				sumH += dh * dh
				worstT = max(worstT, math.Abs(dt))
				worstH = max(worstH, math.Abs(dh))
			}
			n := float64(len(got))
			t.Logf("%d waters: time rms %.2f min, worst %.1f; height rms %.4f m, worst %.3f",
				len(got), math.Sqrt(sumT/n), worstT, math.Sqrt(sumH/n), worstH)
			assert.LessOrEqual(t, math.Sqrt(sumT/n), tb.minutes)
			assert.LessOrEqual(t, math.Sqrt(sumH/n), tb.rms)
		})
	}
}
