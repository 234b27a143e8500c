package sky

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

func TestRefusals(t *testing.T) {
	here := Site{LatDeg: 48.7, LonEastDeg: -3.9}
	a, b := year(2026), year(2027)
	for _, row := range []struct {
		name     string
		site     Site
		light    Light
		from, to time.Time
		code     fault.Code
		field    string
	}{
		{"beyond the pole", Site{90.01, 0}, LightSun, a, b, fault.BadInput, "latDeg"},
		{"no latitude", Site{math.NaN(), 0}, LightSun, a, b, fault.BadInput, "latDeg"},
		{"endless latitude", Site{math.Inf(-1), 0}, LightSun, a, b, fault.BadInput, "latDeg"},
		{"round the Earth", Site{0, 180.5}, LightSun, a, b, fault.BadInput, "lonEastDeg"},
		{"no longitude", Site{0, math.NaN()}, LightSun, a, b, fault.BadInput, "lonEastDeg"},
		{"unknown light", here, "moon", a, b, fault.BadInput, "light"},
		{"no light", here, "", a, b, fault.BadInput, "light"},
		{"backwards", here, LightSun, b, a, fault.BadInput, "to"},
		{"before our years", here, LightSun, year(1899), year(1901), fault.BadInput, "from"},
		{"after our years", here, LightSun, year(2100), year(2102), fault.BadInput, "to"},
		{"no start", here, LightSun, time.Time{}, b, fault.BadInput, "from"},
		{"too long", here, LightSun, year(2000), year(2021), fault.SpanTooLong, "to"},
		{"too long in any light", here, LightAny, year(1900), year(2100), fault.SpanTooLong, "to"},
	} {
		t.Run(row.name, func(t *testing.T) {
			refused := func(err error) {
				t.Helper()
				var f *fault.Error
				require.ErrorAs(t, err, &f)
				require.Equal(t, row.code, f.Code)
				require.Equal(t, row.field, f.Field)
				require.NotEmpty(t, f.Message)
			}
			_, err := Lit(row.site, row.light, row.from, row.to)
			refused(err)
			if row.field == "light" {
				return
			}
			_, err = SunEvents(row.site, row.from, row.to)
			refused(err)
			_, err = MoonEvents(row.site, row.from, row.to)
			refused(err)
			if row.site != here {
				return
			}
			_, err = Phases(row.from, row.to)
			refused(err)
			_, err = Apsides(row.from, row.to)
			refused(err)
			_, err = MoonDeclinationExtremes(row.from, row.to)
			refused(err)
		})
	}
}

// The bounds themselves are inside.
func TestAccepted(t *testing.T) {
	for _, site := range []Site{{90, 180}, {-90, -180}, {0, 0}} {
		require.NoError(t, site.Validate())
	}
	for _, span := range [][2]time.Time{{year(1900), year(1901)}, {year(2100), year(2101)}, {year(2000), year(2020)}} {
		lit, err := Lit(Site{}, LightSun, span[0], span[1])
		require.NoError(t, err)
		require.NotEmpty(t, lit)
	}
}
