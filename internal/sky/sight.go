package sky

import "math"

// horizon says how high a body's centre stands when it is said to rise or set.
type horizon struct {
	// altitudeDeg is the true altitude, seen from the site, of the point that counts: the
	// upper limb or the centre.
	altitudeDeg float64
	// radius is how far above the centre that point is, in radii of the Earth.
	radius float64
}

// Refraction at the horizon is taken as 34′ (US Naval Observatory; Meeus, chapter 15). The
// radii are those behind the semidiameters of the Astronomical Almanac: 959.63″ for the sun
// at one astronomical unit, where the Earth's is 8.794″; 0.2725 for the moon. The round
// −50′ of many books for the sun is this within 12″, half a second of time on most shores
// and a quarter of an hour at the poles.
var (
	sunLimb  = horizon{altitudeDeg: -34.0 / 60, radius: 959.63 / 8.794}
	civil    = horizon{altitudeDeg: -6}
	moonLimb = horizon{altitudeDeg: -34.0 / 60, radius: 0.2725}
)

// sight is a body followed from a site.
type sight struct {
	path           path
	sinLat, cosLat float64
	lonEast        float64 // radians
	altitude       float64 // of the horizon, radians
	perParallax    float64 // parallax lowers the centre seen from the site, the radius lifts the limb
}

func newSight(p path, h horizon, site Site) sight {
	const radian = math.Pi / 180
	s := sight{
		path:        p,
		lonEast:     site.LonEastDeg * radian,
		altitude:    h.altitudeDeg * radian,
		perParallax: 1 - h.radius,
	}
	s.sinLat, s.cosLat = math.Sincos(site.LatDeg * radian)
	return s
}

// excess is the sine of the body's geocentric altitude less the sine of the one at which
// it rises or sets, at a day number in the piece: up if not negative. With it comes its
// change per day.
func (s *sight) excess(p *piece, day float64) (value, rate float64) {
	v, dv := p.at(day)
	sin, cos := math.Sincos(p.sidereal + siderealRate*(day-p.start) + s.lonEast)
	r := math.Sqrt(v.x*v.x + v.y*v.y + v.z*v.z)
	dr := (v.x*dv.x + v.y*dv.y + v.z*dv.z) / r
	// Towards the zenith: the turning of the Earth, then the body's own motion.
	up := s.cosLat*(v.x*cos+v.y*sin) + s.sinLat*v.z
	dup := s.cosLat*(siderealRate*(v.y*cos-v.x*sin)+dv.x*cos+dv.y*sin) + s.sinLat*dv.z
	// The horizontal parallax is asin(1/r), small enough that the semidiameter goes with it.
	sinH, cosH := math.Sincos(s.altitude + s.perParallax*math.Asin(1/r))
	value = up/r - sinH
	rate = (dup-up*dr/r)/r + cosH*s.perParallax*dr/(r*math.Sqrt(r*r-1))
	return value, rate
}

// crossing is a passage of the horizon.
type crossing struct {
	day    float64
	rising bool
}

// crossings lists the passages within the cells first to last, in order, and says whether
// the body is up at the start of the first. Risings and settings alternate.
//
// Within a cell of two hours the altitude has at most one turning point, unless it hardly
// moves at all (a pole); so a cell can hide a short appearance or disappearance only
// around a turning point, and there it is looked for. What can be missed is a flicker of
// under 0.05° within a degree of a pole.
func (s *sight) crossings(first, last int) (up bool, list []crossing) {
	value := func(p *piece) func(float64) float64 {
		return func(day float64) float64 { v, _ := s.excess(p, day); return v }
	}
	slope := func(p *piece) func(float64) float64 {
		return func(day float64) float64 { _, r := s.excess(p, day); return r }
	}
	a := float64(first) / cellsPerDay
	va, ra := s.excess(s.path.pieceOf(first), a)
	up = va >= 0
	for cell := first; cell <= last; cell++ {
		p := s.path.pieceOf(cell)
		b := float64(cell+1) / cellsPerDay
		vb, rb := s.excess(s.path.pieceOf(cell+1), b)
		switch {
		case (va >= 0) != (vb >= 0):
			list = append(list, crossing{root(value(p), a, va, b, vb), vb >= 0})
		case va < 0 && ra > 0 && rb < 0, va >= 0 && ra < 0 && rb > 0:
			turn := root(slope(p), a, ra, b, rb)
			if vt, _ := s.excess(p, turn); (vt >= 0) != (va >= 0) {
				list = append(list,
					crossing{root(value(p), a, va, turn, vt), vt >= 0},
					crossing{root(value(p), turn, vt, b, vb), vb >= 0})
			}
		}
		a, va, ra = b, vb, rb
	}
	return up, list
}

// root finds where f passes nought between a and b, where it has the values fa and fb of
// unlike sign, to a hundredth of a second: the regula falsi in the Illinois manner, with a
// halving every fourth step so that it always ends.
func root(f func(day float64) float64, a, fa, b, fb float64) float64 {
	const tolerance = 0.01 / secondsPerDay
	x := a
	kept := 0 // which end the last step kept: 1 for b, -1 for a
	for step := 1; step <= 99 && b-a > tolerance; step++ {
		old := x
		x = a + (b-a)*fa/(fa-fb)
		if step%4 == 0 || !(x > a && x < b) {
			x = a + (b-a)/2
		} else if math.Abs(x-old) < tolerance {
			break
		}
		fx := f(x)
		if (fx >= 0) == (fa >= 0) {
			a, fa = x, fx
			if kept == 1 {
				fb /= 2
			}
			kept = 1
		} else {
			b, fb = x, fx
			if kept == -1 {
				fa /= 2
			}
			kept = -1
		}
	}
	return x
}
