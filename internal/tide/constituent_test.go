package tide

import (
	"math"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestListAgainstItself: a constituent's speed is that of its Doodson numbers, with the
// rates of testdata/tides/nodal (t_tide, Pawlowicz et al. 2002), and a compound's is the
// sum of its members': 419 rows of the IHO list and those beyond it. Budget 3e-5 degrees
// an hour: the list prints some speeds to five decimals.
func TestListAgainstItself(t *testing.T) {
	rate := map[string]float64{}
	for _, r := range rows(t, "nodal/mean_longitudes_1975-08-08.csv") {
		rate[r[0]] = number(t, r[2]) * 360 / 24
	}
	order := []string{"tau", "s", "h", "p", "np(=-N)", "pp"}
	require.Greater(t, len(list), 390)
	compounds := 0
	for _, c := range list {
		v := 0.0
		for i, name := range order {
			v += float64(c.Doodson[i]) * rate[name]
		}
		if c.Name != "3N2MS12" && c.Name != "T3" { // the list's own slips: see table/main.go
			assert.InDelta(t, c.SpeedDegPerHour, v, 3e-5, c.Name)
		}
		if len(c.Members) == 0 {
			continue
		}
		compounds++
		sum := 0.0
		for _, m := range c.Members {
			part, err := Lookup(m.Name)
			require.NoError(t, err)
			sum += float64(m.N) * part.SpeedDegPerHour
		}
		assert.InDelta(t, c.SpeedDegPerHour, sum, 3e-5, c.Name)
	}
	assert.Greater(t, compounds, 250)
}

// TestCatalogueNames: every one of the catalogue's 145 names is known and has a node
// factor; 20 of them are spelt otherwise than in the list.
func TestCatalogueNames(t *testing.T) {
	names := map[string]bool{}
	for _, s := range stations(t) {
		for _, k := range s.Constituents {
			names[k.Name] = true
		}
	}
	require.Len(t, names, 145)
	listed := map[string]bool{}
	for _, r := range rows(t, "iho/constituents_with_members.csv") {
		listed[strings.ToUpper(r[0])] = true
	}
	other := 0
	for name := range names {
		c, err := Lookup(name)
		require.NoError(t, err)
		_, ok := c.parts()
		assert.True(t, ok, name)
		if !listed[name] {
			other++
		}
	}
	assert.Equal(t, 20, other)
}

// TestM1OfTwoSources: NOAA's and TICON-4's M1 at stations within 15 km of each other whose
// M2 agree to 10 degrees. Their phase lags differ by a quarter turn, so one source counts
// M1's argument a quarter turn otherwise; the practices allow for it.
func TestM1OfTwoSources(t *testing.T) {
	raw := pairs(t, "M1")
	require.Greater(t, len(raw), 150)
	assert.InDelta(t, -90, median(raw), 15)
	for _, name := range []string{"K1", "O1", "P1", "S2", "N2", "S1", "M3", "SA"} {
		assert.InDelta(t, 0, median(pairs(t, name)), 8, name)
	}
	c, err := Lookup("M1")
	require.NoError(t, err)
	yearly, err := NewHarmonic(0, []Constant{{"M1", 1, 0}}, Yearly)
	require.NoError(t, err)
	daily, err := NewHarmonic(0, []Constant{{"M1", 1, 0}}, Daily)
	require.NoError(t, err)
	assert.Equal(t, c.quarters(), yearly.terms[0].quarters)
	assert.Equal(t, c.quarters()-1, daily.terms[0].quarters)
}

func median(xs []float64) float64 {
	sort.Float64s(xs)
	return xs[len(xs)/2]
}

// pairs gives, for a constituent, the difference of phase lag TICON-4 less NOAA, degrees.
func pairs(t *testing.T, name string) (out []float64) {
	t.Helper()
	all := stations(t)
	constant := func(s listed, name string) (Constant, bool) {
		for _, k := range s.Constituents {
			if k.Name == name {
				return k, true
			}
		}
		return Constant{}, false
	}
	var noaa []listed
	for _, s := range all {
		if s.Source == "NOAA CO-OPS" && s.Ref == "" {
			noaa = append(noaa, s)
		}
	}
	for _, s := range all {
		if s.Source != "TICON-4" {
			continue
		}
		best, bestKM := listed{}, 15.0
		for _, n := range noaa {
			dLat := (s.Lat - n.Lat) * 111.2
			dLon := math.Remainder(s.Lon-n.Lon, 360) * 111.2 * math.Cos(s.Lat*rad)
			if km := math.Hypot(dLat, dLon); km < bestKM {
				best, bestKM = n, km
			}
		}
		a, ok1 := constant(s, "M2")
		b, ok2 := constant(best, "M2")
		if !ok1 || !ok2 || math.Abs(math.Remainder(a.PhaseDeg-b.PhaseDeg, 360)) > 10 {
			continue
		}
		k1, ok1 := constant(s, name)
		k2, ok2 := constant(best, name)
		if ok1 && ok2 && k1.AmplitudeM >= 0.002 && k2.AmplitudeM >= 0.002 {
			out = append(out, math.Remainder(k1.PhaseDeg-k2.PhaseDeg, 360))
		}
	}
	return out
}
