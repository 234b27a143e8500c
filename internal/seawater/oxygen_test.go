package seawater

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Garcia and Gordon 1992 print this check value below their table of coefficients.
func TestOxygenOfGarciaAndGordon(t *testing.T) {
	c, err := OxygenSaturation(10, 35)
	require.NoError(t, err)
	assert.InDelta(t, 274.610, float64(c), 5e-4)
}

// TEOS-10's function takes the same fit at the same salinity, with its temperature turned
// to IPTS-68: 0.00024 of t, which is 0.014 µmol/kg at 10 °C.
func TestOxygenOfTEOS10(t *testing.T) {
	var errors []float64
	for _, v := range readTruth(t, "oxygen_teos10.csv", 6) {
		c, err := OxygenSaturation(Celsius(v[1]), PSU(v[0]))
		require.NoError(t, err)
		errors = append(errors, float64(c)-v[2])
	}
	budget{0.03, 0.04}.hold(t, "oxygen, µmol/kg", 6, errors)
}

// ISO 5814 prints three figures, worth up to 0.5 %, and takes salt off in proportion, by a
// slope that suits sea water but is no law: the two standards part by up to 1.3 % at 35. The
// close check of sea water is the one above.
func TestOxygenOfISO5814(t *testing.T) {
	var fresh, salt []float64
	for _, v := range readTruth(t, "oxygen_iso5814.csv", 31) {
		c, err := OxygenSaturationMgPerL(Celsius(v[0]), 0)
		require.NoError(t, err)
		fresh = append(fresh, float64(c)/v[1]-1)
		c, err = OxygenSaturationMgPerL(Celsius(v[0]), 35)
		require.NoError(t, err)
		salt = append(salt, float64(c)/(v[1]-35*v[2])-1)
	}
	budget{0.0015, 0.0055}.hold(t, "fresh water, relative", 31, fresh)
	budget{0.006, 0.0135}.hold(t, "salinity 35, relative", 31, salt)
}

func TestOxygenRefuses(t *testing.T) {
	for _, row := range []struct {
		name, field string
		at          Celsius
		s           PSU
	}{
		{"Fahrenheit", "temperature", 68, 35},
		{"frozen", "temperature", -2.1, 35},
		{"salinity 90", "salinity", 10, 90},
		{"no number", "salinity", 10, PSU(nan)},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := OxygenSaturation(row.at, row.s)
			refused(t, err, row.field)
			_, err = OxygenSaturationMgPerL(row.at, row.s)
			refused(t, err, row.field)
		})
	}
}
