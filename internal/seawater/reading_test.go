package seawater

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

func degrees(t float64) *Celsius { c := Celsius(t); return &c }

func TestReading(t *testing.T) {
	// At 35: TEOS-10's conductivity at the surface and the gravities of the standards, as
	// in the tests of each.
	c25, err := Conductivity(35, 25)
	require.NoError(t, err)
	for _, row := range []struct {
		name        string
		reading     Reading
		want, slack float64
	}{
		{"salinity by meter", Reading{34.2, Practical, ConductivityMeter, degrees(18)}, 34.2, 0},
		{"ppt by refractometer", Reading{35, PartsPerThousand, Refractometer, nil}, 35, 0},
		{"conductivity", Reading{float64(c25), ConductivityMS, ConductivityMeter, degrees(25)}, 35, 1e-9},
		{"standard sea water at 15 °C", Reading{42.914, ConductivityMS, ConductivityMeter, degrees(15 / 1.00024)}, 35, 1e-6},
		{"float at its own temperature", Reading{1.02660, SG2020, Hydrometer, degrees(20)}, 35, 0.01},
		{"refractometer in the cold corrects itself", Reading{1.02660, SG2020, Refractometer, degrees(5)}, 35, 0.01},
		{"float of a printed table", Reading{1.0230, SG154, Hydrometer, degrees(22)}, 33, 0.5},
		{"fresh water", Reading{1, SG2525, Hydrometer, degrees(25)}, 0, 1e-6},
	} {
		t.Run(row.name, func(t *testing.T) {
			e, err := row.reading.Salinity()
			require.NoError(t, err)
			assert.InDelta(t, row.want, float64(e.Salinity), row.slack)
			assert.LessOrEqual(t, e.Least, e.Salinity)
			assert.Greater(t, e.Most, e.Salinity)
		})
	}
}

// What nobody noted widens the bounds, and every answer that would have come out, had it
// been noted, lies within them.
func TestReadingInDoubt(t *testing.T) {
	const winter, tropics = 0, 30
	unknown, err := Reading{1.025, SGUnknown, Hydrometer, nil}.Salinity()
	require.NoError(t, err)
	for _, g := range gravityScales {
		bare, err := Reading{1.025, g.name, Hydrometer, nil}.Salinity()
		require.NoError(t, err)
		for at := Celsius(winter); at <= tropics; at++ {
			e, err := Reading{1.025, g.name, Hydrometer, &at}.Salinity()
			if err != nil {
				continue // no such water at this temperature
			}
			assert.GreaterOrEqual(t, e.Salinity, bare.Least, "%s at %v", g.name, at)
			assert.LessOrEqual(t, e.Salinity, bare.Most, "%s at %v", g.name, at)
		}
		assert.GreaterOrEqual(t, bare.Least, unknown.Least, "%s", g.name)
		assert.LessOrEqual(t, bare.Most, unknown.Most, "%s", g.name)
	}
	// The scale alone is worth 4.6: 32.6 (60F/60F) to 37.2 (25/4).
	e, err := Reading{1.025, SGUnknown, Refractometer, nil}.Salinity()
	require.NoError(t, err)
	assert.InDelta(t, 32.6-refractometerFineness, float64(e.Least), 0.1)
	assert.InDelta(t, 37.2+refractometerFineness, float64(e.Most), 0.1)
}

// The bounds of a reading by its fineness, and of ppt by what true grams a kilogram would
// be: 35.16504 g/kg are a salinity of 35 (Millero and others 2008).
func TestReadingBounds(t *testing.T) {
	for _, row := range []struct {
		name                  string
		reading               Reading
		least, salinity, most float64
	}{
		{"ppt", Reading{35.16504, PartsPerThousand, Refractometer, nil}, 34, 35.16504, 36.16504},
		{"meter", Reading{33, Practical, ConductivityMeter, nil}, 32.5, 33, 33.5},
		{"nearly fresh", Reading{0.3, Practical, ConductivityMeter, nil}, 0, 0.3, 0.8},
		{"at the end", Reading{42, Practical, Hydrometer, nil}, 41.3, 42, 42.7},
	} {
		e, err := row.reading.Salinity()
		require.NoError(t, err, row.name)
		assert.InDelta(t, row.least, float64(e.Least), 1e-9, row.name)
		assert.InDelta(t, row.salinity, float64(e.Salinity), 1e-9, row.name)
		assert.InDelta(t, row.most, float64(e.Most), 1e-9, row.name)
	}
}

func TestReadingRefuses(t *testing.T) {
	for _, row := range []struct {
		name, field string
		reading     Reading
	}{
		{"salinity 90", "value", Reading{90, Practical, ConductivityMeter, nil}},
		{"less than nothing", "value", Reading{-1, PartsPerThousand, Refractometer, nil}},
		{"no number", "value", Reading{nan, PartsPerThousand, Refractometer, nil}},
		{"last digits of a gravity", "value", Reading{25, SG2020, Hydrometer, degrees(20)}},
		{"salinity on a scale of gravity", "value", Reading{35, SGUnknown, Refractometer, nil}},
		{"gravity of brine", "value", Reading{1.049, SGUnknown, Hydrometer, nil}},
		{"tank in Fahrenheit", "temperature", Reading{1.025, SG2020, Hydrometer, degrees(77)}},
		{"Fahrenheit that the sum does not need", "temperature", Reading{35, PartsPerThousand, Refractometer, degrees(77)}},
		{"Fahrenheit by refractometer", "temperature", Reading{1.025, SG2020, Refractometer, degrees(77)}},
		{"conductivity of unknown water", "temperature", Reading{50, ConductivityMS, ConductivityMeter, nil}},
		{"conductivity in µS/cm", "conductivity", Reading{0.5, ConductivityMS, ConductivityMeter, degrees(20)}},
		{"conductivity by float", "scale", Reading{50, ConductivityMS, Hydrometer, degrees(20)}},
		{"a scale of one's own", "scale", Reading{7, "Baumé", Hydrometer, degrees(20)}},
		{"no scale", "scale", Reading{35, "", Refractometer, nil}},
		{"no instrument", "instrument", Reading{35, Practical, "", nil}},
		{"by tongue", "instrument", Reading{35, Practical, "tongue", nil}},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := row.reading.Salinity()
			refused(t, err, row.field)
		})
	}
}

// FuzzReading: whatever was written down, the answer is a salinity within its bounds or a
// sentence for the person.
func FuzzReading(f *testing.F) {
	instruments := []Instrument{Refractometer, Hydrometer, ConductivityMeter, "tongue"}
	scales := append(Scales(), "Baumé")
	for i := range scales {
		f.Add(1.025, uint(i), uint(1), 25.0, true)
		f.Add(35.0, uint(i), uint(0), 77.0, false)
		f.Add(math.Inf(1), uint(i), uint(2), math.NaN(), true)
	}
	f.Fuzz(func(t *testing.T, value float64, scale, instrument uint, at float64, noted bool) {
		r := Reading{Value: value, Scale: scales[scale%uint(len(scales))], Instrument: instruments[instrument%uint(len(instruments))]}
		if noted {
			r.SampleC = degrees(at)
		}
		e, err := r.Salinity()
		if err != nil {
			var told *fault.Error
			require.True(t, errors.As(err, &told))
			require.Equal(t, fault.BadInput, told.Code)
			require.NotEmpty(t, told.Message)
			require.Equal(t, Estimate{}, e)
			return
		}
		require.True(t, 0 <= e.Least && e.Least <= e.Salinity && e.Salinity <= e.Most && e.Salinity <= MostSalinity, "%+v %+v", r, e)
	})
}
