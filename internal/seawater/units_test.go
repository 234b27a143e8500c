package seawater

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

var nan = math.NaN()

// refused asks that an error is one for the person: bad input of this field, or a unit to
// ask after, with a sentence.
func refused(t *testing.T, err error, field string) {
	t.Helper()
	var f *fault.Error
	require.True(t, errors.As(err, &f), "%v", err)
	code := fault.BadInput
	if strings.Contains(f.Message, "Fahrenheit") {
		code = fault.AskUnit
	}
	assert.Equal(t, code, f.Code)
	assert.Equal(t, field, f.Field, f.Message)
	assert.NotContains(t, f.Message, "%!")
}

func TestFahrenheitIsAsked(t *testing.T) {
	_, err := Density(35, 77)
	require.EqualError(t, err, "The temperature is 77 °C; it must be from -2 to 40 °C. If that was meant in Fahrenheit, give 25.0 °C.")
	_, err = Density(35, 300)
	require.EqualError(t, err, "The temperature is 300 °C; it must be from -2 to 40 °C, the range of the equation of state of sea water.")
	_, err = Density(90, 20)
	require.EqualError(t, err, "The salinity is 90; it must be from 0 to 42, where the formulae for sea water hold.")
	_, err = Density(PSU(nan), 20)
	require.EqualError(t, err, "The salinity is no number. Give one from 0 to 42.")
}

func TestRoundingKeepsTheHazard(t *testing.T) {
	for _, row := range []struct{ x, up, down float64 }{
		{0.0213, 0.03, 0.02}, {0.03, 0.03, 0.03}, {0.0301, 0.04, 0.03}, {0.3, 0.3, 0.3},
		{7.39, 8, 7}, {9.5, 10, 9}, {10, 10, 10}, {0, 0, 0}, {-0.021, -0.03, -0.02}, {123, 200, 100},
	} {
		assert.InDelta(t, row.up, RoundUp(row.x), 1e-12*math.Abs(row.up), "%g up", row.x)
		assert.InDelta(t, row.down, RoundDown(row.x), 1e-12*math.Abs(row.down), "%g down", row.x)
	}
	assert.True(t, math.IsNaN(RoundUp(nan)))
	assert.True(t, math.IsInf(RoundDown(math.Inf(1)), 1))
}
