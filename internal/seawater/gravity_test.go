package seawater

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A printed table for floats of the scale 15/4 has for a reading of 1.0230 at 22 °C a
// correction of +0.0016, a density of 1.0246 and a salinity of about 33. It is printed to
// 0.0001 of density, 0.13 of salinity, and to whole salinities.
func TestFloatOfAPrintedTable(t *testing.T) {
	s, err := SalinityFromFloat(1.0230, 22, SG154)
	require.NoError(t, err)
	assert.InDelta(t, 33, float64(s), 0.5)
	at15, err := SpecificGravity(s, SG154)
	require.NoError(t, err)
	assert.InDelta(t, 1.0246, at15, 0.0001)
}

// The gravities of a salinity, from TEOS-10 densities of sea water (testdata) and the
// CIPM's densities of fresh water: 998.2067 at 20 °C, 997.0470 at 25, 999.9750 at 4. The
// error promised is 0.000006, of which 0.000001 is the temperature scale of the table.
func TestSpecificGravityOfTheStandards(t *testing.T) {
	sea := map[float64]float64{} // at 35, by temperature on IPTS-68, which is 0.006 °C off ITS-90
	for _, v := range readTruth(t, "teos10_density.csv", 7) {
		if v[0] == 35 {
			sea[v[1]] = v[2]
		}
	}
	require.Len(t, sea, 3)
	for _, row := range []struct {
		scale Scale
		want  float64
	}{
		{SG2020, sea[20] / 998.2067}, {SG2525, sea[25] / 997.0470},
		{SG204, sea[20] / 999.9750}, {SG254, sea[25] / 999.9750},
	} {
		sg, err := SpecificGravity(35, row.scale)
		require.NoError(t, err)
		assert.InDelta(t, row.want, sg, 6e-6, "%s", row.scale)
	}
}

// The names of the scales say their temperatures: 60 °F is 15.5556 °C.
func TestScalesAreWhatTheyAreCalled(t *testing.T) {
	celsius := func(s string) float64 {
		f, fahrenheit := strings.CutSuffix(s, "F")
		x, err := strconv.ParseFloat(f, 64)
		require.NoError(t, err)
		if fahrenheit {
			return (x - 32) * 5 / 9
		}
		return x
	}
	require.Len(t, gravityScales, 7)
	require.Len(t, Scales(), 11)
	for _, g := range gravityScales {
		at, fresh, ok := strings.Cut(strings.TrimPrefix(string(g.name), "SG "), "/")
		require.True(t, ok, "%s", g.name)
		assert.InDelta(t, celsius(at), float64(g.at), 1e-12, "%s", g.name)
		assert.InDelta(t, celsius(fresh), float64(g.fresh), 1e-12, "%s", g.name)
	}
}

// A float that stands at its scale's own temperature needs no correction; warmer water is
// lighter, so it sinks and shows less, and the same figure means saltier water.
func TestFloatByTemperature(t *testing.T) {
	for _, g := range gravityScales {
		still, err := FloatReading(35, g.at, g.name)
		require.NoError(t, err)
		sg, err := SpecificGravity(35, g.name)
		require.NoError(t, err)
		assert.Equal(t, sg, still, "%s", g.name)
		warm, err := FloatReading(35, g.at+5, g.name)
		require.NoError(t, err)
		assert.Less(t, warm, still, "%s", g.name)
	}
}

func TestGravityRefuses(t *testing.T) {
	_, err := SpecificGravity(43, SG2020)
	refused(t, err, "salinity")
	for _, scale := range []Scale{SGUnknown, Practical, "", "SG 17.5/17.5"} {
		_, err = SpecificGravity(35, scale)
		refused(t, err, "scale")
		_, err = SalinityFromGravity(1.025, scale)
		refused(t, err, "scale")
		_, err = FloatReading(35, 20, scale)
		refused(t, err, "scale")
		_, err = SalinityFromFloat(1.025, 20, scale)
		refused(t, err, "scale")
	}
	for _, sg := range []float64{25, 1025, 0, -1, nan, 1.06, 0.995} {
		_, err = SalinityFromGravity(sg, SG2020)
		refused(t, err, "value")
		_, err = SalinityFromFloat(sg, 20, SG2020)
		refused(t, err, "value")
	}
	_, err = SalinityFromFloat(1.025, 77, SG2020)
	refused(t, err, "temperature")
	_, err = FloatReading(35, -5, SG2020)
	refused(t, err, "temperature")
	_, err = SalinityFromDensity(1030, -5)
	refused(t, err, "temperature")
	for _, rho := range []KgPerM3{990, 1050, 2000, KgPerM3(nan)} {
		_, err = SalinityFromDensity(rho, 20)
		refused(t, err, "density")
	}
	for _, c := range []MilliSiemensPerCm{-1, 1, 111, 80, MilliSiemensPerCm(nan)} {
		_, err = SalinityFromConductivity(c, 20)
		refused(t, err, "conductivity")
	}
	_, err = SalinityFromConductivity(50, 36)
	refused(t, err, "temperature")
	_, err = Conductivity(1.9, 20)
	refused(t, err, "salinity")
	_, err = Conductivity(35, 40)
	refused(t, err, "temperature")
}

func drawTemperature(t *rapid.T) Celsius {
	return Celsius(rapid.Float64Range(float64(ColdestC), float64(WarmestC)).Draw(t, "at"))
}

func drawSalinity(t *rapid.T, name string) PSU {
	return PSU(rapid.Float64Range(0, float64(MostSalinity)).Draw(t, name))
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, at := drawSalinity(t, "salinity"), drawTemperature(t)
		rho, err := Density(s, at)
		require.NoError(t, err)
		back, err := SalinityFromDensity(rho, at)
		require.NoError(t, err)
		require.InDelta(t, float64(s), float64(back), 1e-8, "density")

		scale := rapid.SampledFrom(gravityScales).Draw(t, "scale").name
		sg, err := SpecificGravity(s, scale)
		require.NoError(t, err)
		back, err = SalinityFromGravity(sg, scale)
		require.NoError(t, err)
		require.InDelta(t, float64(s), float64(back), 1e-8, "gravity")

		shown, err := FloatReading(s, at, scale)
		require.NoError(t, err)
		back, err = SalinityFromFloat(shown, at, scale)
		require.NoError(t, err)
		require.InDelta(t, float64(s), float64(back), 1e-8, "float")

		volume := Litres(rapid.Float64Range(0, mostLitres).Draw(t, "litres"))
		m, err := MassOf(volume, s, at)
		require.NoError(t, err)
		again, err := VolumeOf(m, s, at)
		require.NoError(t, err)
		require.InDelta(t, float64(volume), float64(again), 1e-9*(1+float64(volume)), "volume")
	})
}

func TestConductivityThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := PSU(rapid.Float64Range(2, 42).Draw(t, "salinity"))
		at := Celsius(rapid.Float64Range(-2, 35).Draw(t, "at"))
		c, err := Conductivity(s, at)
		require.NoError(t, err)
		back, err := SalinityFromConductivity(c, at)
		require.NoError(t, err)
		require.InDelta(t, float64(s), float64(back), 1e-9)
	})
}

func TestSaltierIsHeavierAndConductsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := Celsius(rapid.Float64Range(-2, 35).Draw(t, "at"))
		s := PSU(rapid.Float64Range(2, 41.9).Draw(t, "salinity"))
		require.Greater(t, density(s+0.01, at), density(s, at))
		more, err := Conductivity(s+0.01, at)
		require.NoError(t, err)
		less, err := Conductivity(s, at)
		require.NoError(t, err)
		require.Greater(t, more, less)
	})
}
