package sky

import (
	"math"

	"github.com/soniakeys/meeus/v3/base"
	"github.com/soniakeys/unit"
)

// sunPlace is the sun's geocentric longitude, referred to the mean equinox of date and
// with aberration (so: apparent but for nutation), and its distance in astronomical units.
// Its latitude, never above 1.2″, is taken as nought.
//
// Source: VSOP87 (Bretagnon and Francou 1988), terms as in Meeus, Astronomical Algorithms,
// 2nd ed., chapter 25 and appendix III, less those under 0.2″. What is left out is 0.4″ in
// the mean and cannot reach 3″ in 1900–2100. The package solar of meeus is not used: it
// brings in files and the operating system, and its low theory is good to 36″ only, which
// at the poles is half an hour of sunrise.
func sunPlace(jde float64) (lambda unit.Angle, distanceAU float64) {
	tau := (jde - base.J2000) / (10 * base.JulianCentury)

	l := 1.75347046
	for _, t := range earthL0 {
		l += t.amp * math.Cos(t.phase+t.freq*tau)
	}
	l1 := 6283.31966747
	for _, t := range earthL1 {
		l1 += t.amp * math.Cos(t.phase+t.freq*tau)
	}
	l2 := 52919e-8 + 8720e-8*math.Cos(1.0721+6283.0758*tau)
	l += tau * (l1 + tau*l2)

	r := 1.00013989
	for _, t := range earthR0 {
		r += t.amp * math.Cos(t.phase+t.freq*tau)
	}
	r += 103019e-8 * tau * math.Cos(1.10749+6283.07585*tau)

	// Opposite the Earth as seen from the sun; to the FK5 equinox (25.9); aberration (25.10).
	lambda = unit.Angle(l+math.Pi) - unit.AngleFromSec(0.09033) - unit.AngleFromSec(20.4898).Div(r)
	return lambda.Mod1(), r
}

// wave is one periodic term: amp·cos(phase + freq·τ), τ in Julian millennia from J2000.
type wave struct{ amp, phase, freq float64 }

// The Earth's heliocentric longitude, radians.
var earthL0 = [...]wave{
	{3341656e-8, 4.6692568, 6283.07585},
	{34894e-8, 4.6261, 12566.1517},
	{3497e-8, 2.7441, 5753.3849},
	{3418e-8, 2.8289, 3.5231},
	{3136e-8, 3.6277, 77713.7715},
	{2676e-8, 4.4181, 7860.4194},
	{2343e-8, 6.1352, 3930.2097},
	{1324e-8, 0.7425, 11506.7698},
	{1273e-8, 2.0371, 529.691},
	{1199e-8, 1.1096, 1577.3435},
	{990e-8, 5.233, 5884.927},
	{902e-8, 2.045, 26.298},
	{857e-8, 3.508, 398.149},
	{780e-8, 1.179, 5223.694},
	{753e-8, 2.533, 5507.553},
	{505e-8, 4.583, 18849.228},
	{492e-8, 4.205, 775.523},
	{357e-8, 2.92, 0.067},
	{317e-8, 5.849, 11790.629},
	{284e-8, 1.899, 796.298},
	{271e-8, 0.315, 10977.079},
	{243e-8, 0.345, 5486.778},
	{206e-8, 4.806, 2544.314},
	{205e-8, 1.869, 5573.143},
	{202e-8, 2.458, 6069.777},
	{156e-8, 0.833, 213.299},
	{132e-8, 3.411, 2942.463},
	{126e-8, 1.083, 20.775},
	{115e-8, 0.645, 0.98},
	{103e-8, 0.636, 4694.003},
	{102e-8, 0.976, 15720.839},
	{102e-8, 4.267, 7.114},
}

// The same, to be multiplied by τ.
var earthL1 = [...]wave{
	{206059e-8, 2.678235, 6283.07585},
	{4303e-8, 2.6351, 12566.1517},
	{425e-8, 1.59, 3.523},
	{119e-8, 5.796, 26.298},
	{109e-8, 2.966, 1577.344},
}

// The Earth's distance from the sun, astronomical units.
var earthR0 = [...]wave{
	{1670700e-8, 3.0984635, 6283.07585},
	{13956e-8, 3.05525, 12566.1517},
	{3084e-8, 5.1985, 77713.7715},
	{1628e-8, 1.1739, 5753.3849},
	{1576e-8, 2.8469, 7860.4194},
}
