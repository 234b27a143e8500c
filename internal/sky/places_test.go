package sky

import (
	"math"
	"testing"
	"time"

	"github.com/soniakeys/meeus/v3/base"
	"github.com/soniakeys/meeus/v3/deltat"
	"github.com/soniakeys/meeus/v3/julian"
	"github.com/soniakeys/meeus/v3/nutation"
	"github.com/soniakeys/meeus/v3/sidereal"
	"github.com/stretchr/testify/require"
)

const arcsecond = 1.0 / 3600 // degrees

// apparent gives right ascension and declination in degrees, putting back the nutation in
// right ascension that a vector leaves out.
func apparent(v vector, jde float64) (ra, dec float64) {
	const degree = 180 / math.Pi
	ra = math.Atan2(v.y, v.x)*degree + nutation.NutationInRA(jde).Rad()*degree
	return math.Mod(ra+360, 360), math.Atan2(v.z, math.Hypot(v.x, v.y)) * degree
}

// Source: Meeus, Astronomical Algorithms, 2nd ed., example 25.b, p. 169, in the values of
// the full theory at the foot of p. 165 (as kept in the tests of meeus/solar): 1992 October
// 13.0 TD, 13h13m30.749s, -7°47'1.74". Leaving out the sun's latitude costs 0.6″.
func TestSunAgainstWorkedExample(t *testing.T) {
	j := julian.CalendarGregorianToJD(1992, 10, 13)
	ra, dec := apparent(sunVector(j), j)
	require.InDelta(t, 15*(13+13.0/60+30.749/3600), ra, 0.5*arcsecond)
	require.InDelta(t, -(7 + 47.0/60 + 1.74/3600), dec, 1*arcsecond)
	// From memory of the same example: R = 0.99760775.
	_, r := sunPlace(j)
	require.InDelta(t, 0.99760775, r, 1e-5)
}

// Source: Meeus, examples 47.a (p. 342) and 48.a (p. 347), 1992 April 12.0 TD. The apparent
// place 134.688470°, +13.768368° and k = 0.6786 from memory; the place to four digits and
// the distance are kept in the tests of meeus/moonillum and meeus/moonposition.
func TestMoonAgainstWorkedExample(t *testing.T) {
	j := julian.CalendarGregorianToJD(1992, 4, 12)
	v := moonVector(j)
	ra, dec := apparent(v, j)
	require.InDelta(t, 134.688470, ra, 1e-5)
	require.InDelta(t, 13.768368, dec, 1e-5)
	require.InDelta(t, 368409.7, earthRadiusKm*math.Sqrt(v.x*v.x+v.y*v.y+v.z*v.z), 0.1)

	at := instant(dayOfJDE(j))
	require.WithinDuration(t, time.Date(1992, 4, 11, 23, 59, 2, 0, time.UTC), at, time.Second, "TD less 58.3 s, table 10.A")
	require.InDelta(t, 13.768368, MoonDeclinationDeg(at), 1e-4)
	require.InDelta(t, 0.6786, Illuminated(at), 1e-4)
}

// New moon is dark and full moon is lit; a quarter is half lit within the 0.3 % by which
// the sun is not infinitely far. Instants: US Naval Observatory.
func TestIlluminatedAtPhases(t *testing.T) {
	want := map[string]float64{"0": 0, "1": 0.5, "2": 1, "3": 0.5}
	for _, row := range readTruth(t, reference, "usno_moonphases_1990_2040.csv", 297) {
		require.InDelta(t, want[row[0]], Illuminated(utc(t, row[1])), 0.005, "%v", row)
	}
}

// A cubic through places six hours (moon) and two days (sun) apart keeps close to the
// theory it stands for.
func TestPathKeepsToTheory(t *testing.T) {
	for _, row := range []struct {
		name   string
		body   body
		within float64 // arc seconds
	}{
		{"sun", sun, 0.05},
		{"moon", moon, 0.2},
	} {
		t.Run(row.name, func(t *testing.T) {
			var s spread
			for y := 1900; y <= 2100; y += 10 {
				first, _ := cellsOver(year(y), year(y))
				p := pathOver(row.body, first, first+30*cellsPerDay)
				for cell := first; cell < first+30*cellsPerDay; cell += 5 {
					day := (float64(cell) + 0.37) / cellsPerDay
					got, _ := p.pieceOf(cell).at(day)
					want := row.body.vector(jde(day))
					off := math.Sqrt(sq(got.x-want.x)+sq(got.y-want.y)+sq(got.z-want.z)) / math.Sqrt(sq(want.x)+sq(want.y)+sq(want.z))
					s.add(off*180/math.Pi/arcsecond, 0, y, cell)
				}
			}
			s.hold(t, row.name, "arc seconds", 21*72, row.within/2, row.within)
		})
	}
}

func sq(x float64) float64 { return x * x }

// The rate by which a piece turns is that of meeus/sidereal, chapter 12, to a hundredth of
// a second of time at the end of the longest piece.
func TestSiderealTimeAcrossAPiece(t *testing.T) {
	for y := 1900; y <= 2100; y += 25 {
		first, _ := cellsOver(year(y), year(y))
		p := pathOver(sun, first, first).pieceOf(first)
		want := sidereal.Mean(base.J2000 + p.start + p.length).Rad()
		got := p.sidereal + siderealRate*p.length
		require.InDelta(t, 0, math.Remainder(got-want, 2*math.Pi)*43200/math.Pi, 0.01)
	}
}

// Source to 2010: Meeus, table 10.A, as kept in meeus/deltat. After: TT−UTC = 32.184 s +
// 37 s since 2017 (IERS Bulletin C).
func TestTerrestrialTime(t *testing.T) {
	var s spread
	for y := 1900; y < 2010; y++ {
		want := deltat.Interp10A(julian.CalendarGregorianToJD(y, 1, 1)).Sec()
		s.add(ttLessUTSeconds(dayOf(year(y))), want, y)
	}
	s.hold(t, "TT-UT", "seconds", 110, 0.6, 1.6)
	for _, y := range []int{2017, 2026, 2100} {
		require.InDelta(t, 69.184, ttLessUTSeconds(dayOf(year(y))), 0.01, y)
	}
}

// Day numbers and instants undo each other to the second, JDE and day numbers to far less.
func TestClock(t *testing.T) {
	require.Zero(t, dayOf(time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)))
	for y := firstYear; y <= lastYear; y++ {
		at := year(y).Add(time.Duration(y*7919) * time.Second)
		require.Equal(t, at, instant(dayOf(at)))
		require.InDelta(t, dayOf(at), dayOfJDE(jde(dayOf(at))), 1e-8)
	}
}
