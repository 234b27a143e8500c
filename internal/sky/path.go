package sky

import (
	"math"

	"github.com/soniakeys/meeus/v3/base"
	"github.com/soniakeys/meeus/v3/moonposition"
	"github.com/soniakeys/meeus/v3/nutation"
	"github.com/soniakeys/meeus/v3/sidereal"
	"github.com/soniakeys/unit"
)

// vector is a geocentric place: z to the true north pole of date, x and y in the true
// equator of date, x so chosen that *mean* sidereal time is the angle from it to the
// meridian of Greenwich. The unit is the equatorial radius of the Earth.
type vector struct{ x, y, z float64 }

// equatorial turns a place on the ecliptic and mean equinox of date into a vector,
// applying nutation (Meeus, chapters 13 and 22).
func equatorial(jde float64, lambda, beta unit.Angle, r float64) vector {
	dpsi, deps := nutation.Nutation(jde)
	sinEps, cosEps := (nutation.MeanObliquity(jde) + deps).Sincos()
	sinL, cosL := (lambda + dpsi).Sincos()
	sinB, cosB := beta.Sincos()
	x := r * cosB * cosL
	y := r * (cosB*sinL*cosEps - sinB*sinEps)
	z := r * (cosB*sinL*sinEps + sinB*cosEps)
	// Nutation in right ascension moves body and sidereal time alike; taking it off here
	// lets sidereal time run evenly.
	sinQ, cosQ := dpsi.Mul(cosEps).Sincos()
	return vector{x*cosQ + y*sinQ, y*cosQ - x*sinQ, z}
}

// earthRadiusKm is the equatorial radius of the Earth (Meeus, p. 337).
const earthRadiusKm = 6378.14

// sunVector is the sun's apparent place.
func sunVector(jde float64) vector {
	lambda, au := sunPlace(jde)
	return equatorial(jde, lambda, 0, au*base.AU/earthRadiusKm)
}

// moonVector is the moon's apparent place. Source: Meeus, chapter 47: good to 10″ in
// longitude, 4″ in latitude.
func moonVector(jde float64) vector {
	lambda, beta, km := moonposition.Position(jde)
	return equatorial(jde, lambda, beta, km/earthRadiusKm)
}

// body is something that rises and sets.
type body struct {
	vector func(jde float64) vector
	// cellsPerPiece sets how far apart the theory is consulted. A cubic through four such
	// places departs from the theory by less than 0.05″ for the sun (2 days) and 0.2″ for
	// the moon (6 hours); a test holds it to that.
	cellsPerPiece int
}

var (
	sun  = body{sunVector, 24}
	moon = body{moonVector, 3}
)

// cellsPerDay sets the cells in which sight.go looks for crossings, numbered from J2000.
// Cells and pieces lie where they lie whatever span is asked for, so that every instant is
// reckoned from the same numbers in every span that holds it.
const cellsPerDay = 12

// path is the course of a body over a run of cells, as cubics between places from theory.
type path struct {
	body   body
	first  int // number of the first piece
	pieces []piece
}

// piece is the course over cellsPerPiece cells.
type piece struct {
	start    float64 // day number
	length   float64 // days
	sidereal float64 // mean sidereal time at Greenwich at the start, radians
	x, y, z  [4]float64
}

// siderealRate is the turning of the Earth against the mean equinox in radians a day
// (Meeus, formula 12.4); its change over a piece is nothing.
const siderealRate = 360.98564736629 * math.Pi / 180

// pathOver reckons the course of b over the cells first to last inclusive.
func pathOver(b body, first, last int) path {
	lo, hi := floorDiv(first, b.cellsPerPiece), floorDiv(last, b.cellsPerPiece)
	p := path{body: b, first: lo, pieces: make([]piece, 0, hi-lo+1)}
	length := float64(b.cellsPerPiece) / cellsPerDay
	place := func(k int) vector { return b.vector(jde(float64(k) * length)) }
	v := [4]vector{place(lo - 1), place(lo), place(lo + 1), place(lo + 2)}
	for k := lo; k <= hi; k++ {
		start := float64(k) * length
		p.pieces = append(p.pieces, piece{
			start:    start,
			length:   length,
			sidereal: sidereal.Mean(base.J2000 + start).Rad(),
			x:        cubic(v[0].x, v[1].x, v[2].x, v[3].x),
			y:        cubic(v[0].y, v[1].y, v[2].y, v[3].y),
			z:        cubic(v[0].z, v[1].z, v[2].z, v[3].z),
		})
		v = [4]vector{v[1], v[2], v[3], place(k + 3)}
	}
	return p
}

// pieceOf is the piece that holds a cell.
func (p path) pieceOf(cell int) *piece {
	return &p.pieces[floorDiv(cell, p.body.cellsPerPiece)-p.first]
}

// at gives the place at a day number within the piece, and its change per day.
func (p *piece) at(day float64) (v, rate vector) {
	u := (day - p.start) / p.length
	v.x, rate.x = evaluate(&p.x, u)
	v.y, rate.y = evaluate(&p.y, u)
	v.z, rate.z = evaluate(&p.z, u)
	rate.x /= p.length
	rate.y /= p.length
	rate.z /= p.length
	return v, rate
}

// cubic gives the coefficients in u of the cubic that takes the values a, b, c, d at
// u = −1, 0, 1, 2 (Lagrange).
func cubic(a, b, c, d float64) [4]float64 {
	return [4]float64{
		b,
		-a/3 - b/2 + c - d/6,
		(a+c)/2 - b,
		(b-c)/2 + (d-a)/6,
	}
}

// evaluate gives a cubic and its derivative at u.
func evaluate(c *[4]float64, u float64) (value, slope float64) {
	value = c[0] + u*(c[1]+u*(c[2]+u*c[3]))
	slope = c[1] + u*(2*c[2]+u*3*c[3])
	return value, slope
}

// floorDiv is the quotient rounded down, also for negative a.
func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
