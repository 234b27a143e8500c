package sky

import (
	"math"
	"time"

	"github.com/soniakeys/meeus/v3/base"
	"github.com/soniakeys/meeus/v3/moonillum"
	"github.com/soniakeys/meeus/v3/moonposition"
	"github.com/soniakeys/unit"
)

// Illuminated is the part of the moon's disk that the sun lights, 0 (new) to 1 (full), as
// seen from the Earth's centre. Source: Meeus, chapter 48, formulae 48.1 to 48.3.
func Illuminated(t time.Time) float64 {
	j := jde(dayOf(t))
	lambda, beta, distanceKm := moonposition.Position(j)
	sun, sunAU := sunPlace(j)
	return base.Illuminated(moonillum.PhaseAngleEcl(lambda, beta, distanceKm, sun, sunAU*base.AU))
}

// MoonDeclinationDeg is the moon's apparent geocentric declination in degrees, north
// positive. Source: Meeus, chapter 47, good to about 0.003 degrees.
func MoonDeclinationDeg(t time.Time) float64 {
	return moonDeclination(jde(dayOf(t))).Deg()
}

func moonDeclination(jde float64) unit.Angle {
	p := moonVector(jde)
	return unit.Angle(math.Atan2(p.z, math.Hypot(p.x, p.y)))
}
