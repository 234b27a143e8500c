package seawater

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// reference holds published values; its README says whence.
const reference = "../../testdata/seawater"

// readTruth reads a table and holds it to the number of lines it is known to have, so that
// a file cut short cannot pass for a clean result. Words in it become NaN.
func readTruth(t *testing.T, name string, lines int) [][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(reference, name))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, lines+1, "%s: a line of headings and every value", name)
	var out [][]float64
	for _, row := range rows[1:] {
		var v []float64
		for _, cell := range row {
			x, err := strconv.ParseFloat(cell, 64)
			require.NoError(t, err, "%s: %v", name, row)
			v = append(v, x)
		}
		out = append(out, v)
	}
	return out
}

// budget holds errors to a mean of their sizes and to a worst.
type budget struct{ mean, worst float64 }

func (b budget) hold(t *testing.T, what string, samples int, errors []float64) {
	t.Helper()
	require.Len(t, errors, samples, "%s: no sample may be dropped", what)
	sum, worst := 0.0, 0.0
	for _, e := range errors {
		require.False(t, math.IsNaN(e), what)
		sum += math.Abs(e)
		worst = max(worst, math.Abs(e))
	}
	mean := sum / float64(len(errors))
	t.Logf("%s: %d values, mean error %.3g, worst %.3g", what, samples, mean, worst)
	assert.LessOrEqual(t, mean, b.mean, "%s: mean error", what)
	assert.LessOrEqual(t, worst, b.worst, "%s: worst error", what)
}

// its90 turns a temperature of IPTS-68 into one of ITS-90.
func its90(t68 float64) Celsius { return Celsius(t68 / 1.00024) }

// UNESCO 44 prints its check values to the last digit given here; half of one is the budget.
func TestDensityOfUNESCO44(t *testing.T) {
	var errors []float64
	for _, v := range readTruth(t, "unesco44_density.csv", 4) {
		rho, err := Density(PSU(v[0]), its90(v[1]))
		require.NoError(t, err)
		errors = append(errors, float64(rho)-v[2])
	}
	budget{5e-6, 5.1e-6}.hold(t, "EOS-80, kg/m³", 4, errors)
}

// TEOS-10 is the later standard; EOS-80 is known to stand up to 0.005 kg/m³ from it
// between 5 and 25 °C. What stands here is measured, and is what the docstring promises.
func TestDensityAgainstTEOS10(t *testing.T) {
	var errors []float64
	for _, v := range readTruth(t, "teos10_density.csv", 7) {
		rho, err := Density(PSU(v[0]), its90(v[1]))
		require.NoError(t, err)
		errors = append(errors, float64(rho)-v[2])
	}
	budget{0.0025, 0.005}.hold(t, "by practical salinity, kg/m³", 7, errors)

	errors = nil
	for _, v := range readTruth(t, "teos10_sigma0.csv", 6) {
		// Reference salinity: 35.16504 g/kg at a practical salinity of 35. The small
		// anomaly of composition in the open ocean is within the budget.
		rho, err := Density(PSU(v[0]*35/35.16504), Celsius(v[1]))
		require.NoError(t, err)
		errors = append(errors, float64(rho)-1000-v[2])
	}
	budget{0.003, 0.005}.hold(t, "by absolute salinity, kg/m³", 6, errors)
}

// Tanaka and others 2001 (recommended by the CIPM) give the density of fresh water without
// air, to 0.001 kg/m³; EOS-80 rests on an older one. It is what counts as 1 on the scales
// of specific gravity, so it is checked where they do: the budget is 0.000002 of gravity.
func TestFreshWaterOfCIPM(t *testing.T) {
	cipm := func(t float64) float64 {
		return 999.974950 * (1 - (t-3.983035)*(t-3.983035)*(t+301.797)/(522528.9*(t+69.34881)))
	}
	var errors []float64
	for _, c := range []float64{4, 15, (60 - 32) / 1.8, 20, 25} {
		errors = append(errors, float64(density(0, Celsius(c)))-cipm(c))
	}
	budget{0.0012, 0.0017}.hold(t, "fresh water, kg/m³", 5, errors)

	errors = nil // and over the range of the formula of the CIPM
	for at := 0; at <= 40; at++ {
		errors = append(errors, float64(density(0, Celsius(at)))-cipm(float64(at)))
	}
	budget{0.0008, 0.0017}.hold(t, "fresh water from 0 to 40 °C, kg/m³", 41, errors)
}

// pressed is the factor of PSS-78 by which pressure (dbar) raises the ratio of
// conductivity; UNESCO 44. The program works at one atmosphere, the published values mostly
// deeper.
func pressed(r, t68, p float64) float64 {
	return 1 + p*(2.070e-5-6.370e-10*p+3.989e-15*p*p)/(1+3.426e-2*t68+4.464e-4*t68*t68+(4.215e-1-3.107e-3*t68)*r)
}

func TestSalinityOfUNESCO44(t *testing.T) {
	var errors []float64
	for _, v := range readTruth(t, "unesco44_salinity.csv", 4) {
		r, t68, p := v[0], v[1], v[2]
		errors = append(errors, float64(practical(r/pressed(r, t68, p)/ratio35(t68), t68))-v[3])
	}
	// The ratio 1.888091 is printed to seven digits, which is worth 0.00001.
	budget{2e-6, 1e-5}.hold(t, "PSS-78", 4, errors)
}

func TestSalinityFromConductivityOfTEOS10(t *testing.T) {
	var errors []float64
	for _, v := range readTruth(t, "teos10_salinity.csv", 6) {
		at := Celsius(v[1])
		surface := v[0] / pressed(v[0]/standardConductivity, at.t68(), v[2])
		s, err := SalinityFromConductivity(MilliSiemensPerCm(surface), at)
		require.NoError(t, err)
		errors = append(errors, float64(s)-v[3])
	}
	budget{1e-11, 1e-11}.hold(t, "salinity from conductivity", 6, errors)
}

func TestConductivityOfTEOS10(t *testing.T) {
	var errors []float64
	for _, v := range readTruth(t, "teos10_conductivity.csv", 6) {
		at := Celsius(v[1])
		c, err := Conductivity(PSU(v[0]), at)
		require.NoError(t, err)
		errors = append(errors, float64(c)*pressed(v[3]/standardConductivity, at.t68(), v[2])-v[3])
	}
	budget{1e-11, 1e-11}.hold(t, "conductivity, mS/cm", 6, errors)
}
