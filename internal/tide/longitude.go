package tide

import "math"

// longitudes are the mean longitudes on which every tidal argument is built, in degrees,
// reduced to [0, 360).
type longitudes struct {
	s, h, p, np, p1 float64 // Moon, Sun, lunar perigee, N' = minus the lunar node, solar perigee
}

// unixOf1900 is 1899-12-31 12:00 UT, the epoch of the polynomials below.
const unixOf1900 = -2209032000

// meanLongitudes evaluates the polynomials of the Explanatory Supplement to the
// Astronomical Ephemeris (1961, pp. 98 and 107) at a Unix time taken as UT, as tidal
// practice does. They give testdata/tides/nodal/mean_longitudes_1975-08-08.csv to 1e-9 of
// a cycle; meeus keeps the newer lunar theory in dynamical time, from which published
// tidal constants differ.
func meanLongitudes(unix float64) longitudes {
	d := (unix - unixOf1900) / 86400
	D := d / 10000
	poly := func(c0, c1, c2, c3 float64) float64 {
		return wrap360(c0 + c1*d + (c2+c3*D)*D*D)
	}
	return longitudes{
		s:  poly(270.434164, 13.1763965268, -0.0000850, 0.000000039),
		h:  poly(279.696678, 0.9856473354, 0.00002267, 0),
		p:  poly(334.329556, 0.1114040803, -0.0007739, -0.00000026),
		np: poly(-259.183275, 0.0529539222, -0.0001557, -0.000000050),
		p1: poly(281.220844, 0.0000470684, 0.0000339, 0.00000007),
	}
}

func wrap360(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// tau is the mean lunar time in degrees at a Unix time: the hour angle of the mean Sun
// from its lower transit, plus h, less s.
func (l longitudes) tau(unix float64) float64 {
	const day = 86400
	frac := math.Mod(unix, day)
	if frac < 0 {
		frac += day
	}
	return wrap360(frac/240 + l.h - l.s)
}
