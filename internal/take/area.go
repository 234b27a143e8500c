package take

import (
	"math"
	"strconv"
)

// Spot is where a find was made, or the shore it was made on.
type Spot struct {
	LatDeg, LonEastDeg float64
	WithinM            float64 // the find is within that many metres of it
}

// metresTo is how far it is to another spot, near enough on one coast.
func (s *Spot) metresTo(t *Spot) float64 {
	x := math.Remainder(t.LonEastDeg-s.LonEastDeg, 360) * math.Cos(s.LatDeg*math.Pi/180)
	return metresPerDegree * math.Hypot(x, t.LatDeg-s.LatDeg)
}

const metresPerDegree = 111_195 // of latitude, on a sphere of 6,371 km: distances good to 0.6 %

// sound refuses a ring that cannot say what lies inside it.
func (r Ring) sound(place string, points *int) error {
	if *points += len(r); *points > maxPoints {
		return unsound(place, "the polygons of the set have more than "+strconv.Itoa(maxPoints)+" points; draw them with fewer")
	}
	r = r.open()
	if len(r) < 3 {
		return unsound(place, "a polygon has three corners at least")
	}
	west, east := 180.0, -180.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		if math.Abs(p[1]) > 90 {
			return unsound(place+index(i), "the latitude is outside -90 to 90; give [longitude, latitude]")
		}
		if p == q {
			return unsound(place+index(i), "the point is there twice")
		}
		west, east = min(west, p[0]), max(east, p[0])
		if math.Abs(p[0]-q[0]) > 180 {
			return unsound(place+index(i), "it spans the 180th meridian after this point; part it there into two polygons")
		}
	}
	if east-west > 180 {
		return unsound(place, "it spans more than half the Earth; part it into smaller ones")
	}
	area := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		area += (p[0]-r[0][0])*(q[1]-r[0][1]) - (q[0]-r[0][0])*(p[1]-r[0][1])
		for j := i + 1; j < len(r); j++ {
			s := r[(j+1)%len(r)]
			next, last := j == i+1, (j+1)%len(r) == i
			if next && cross(p, q, s) == 0 && dot(q, p, s) > 0 || last && cross(r[j], p, q) == 0 && dot(p, r[j], q) > 0 ||
				!next && !last && meet(p, q, r[j], s) {
				return unsound(place+index(i), "it crosses itself: the side from here meets the side from point "+strconv.Itoa(j))
			}
		}
	}
	if area == 0 {
		return unsound(place, "it encloses nothing")
	}
	return nil
}

// open leaves out a last point that repeats the first.
func (r Ring) open() Ring {
	if n := len(r); n > 1 && r[0] == r[n-1] {
		return r[:n-1]
	}
	return r
}

// cross is positive where c lies to the left of the line from a to b.
func cross(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

func dot(at, a, b [2]float64) float64 { return (a[0]-at[0])*(b[0]-at[0]) + (a[1]-at[1])*(b[1]-at[1]) }

// meet says whether the sides ab and cd have a point in common.
func meet(a, b, c, d [2]float64) bool {
	if max(a[0], b[0]) < min(c[0], d[0]) || max(c[0], d[0]) < min(a[0], b[0]) ||
		max(a[1], b[1]) < min(c[1], d[1]) || max(c[1], d[1]) < min(a[1], b[1]) {
		return false
	}
	return cross(a, b, c)*cross(a, b, d) <= 0 && cross(c, d, a)*cross(c, d, b) <= 0
}

// holds says whether the spot lies in the ring, and how far it is from its line in metres.
func (r Ring) holds(s *Spot) (inside bool, lineM float64) {
	lineM = math.Inf(1)
	kx := metresPerDegree * math.Cos(s.LatDeg*math.Pi/180)
	to := func(p [2]float64) (x, y float64) {
		lon := math.Remainder(p[0]-s.LonEastDeg, 360)
		return lon * kx, (p[1] - s.LatDeg) * metresPerDegree
	}
	r = r.open()
	for i := range r {
		x, y := to(r[i])
		u, v := to(r[(i+1)%len(r)])
		if (y > 0) != (v > 0) && x+(u-x)*y/(y-v) > 0 {
			inside = !inside
		}
		// The nearest point of the side is at the fraction f of it.
		dx, dy := u-x, v-y
		f := min(max(-(x*dx+y*dy)/(dx*dx+dy*dy), 0), 1)
		lineM = min(lineM, math.Hypot(x+f*dx, y+f*dy))
	}
	return inside, lineM
}

func within(rings []Ring, s *Spot) truth {
	out := no
	for _, r := range rings {
		inside, lineM := r.holds(s)
		if lineM <= s.WithinM {
			out = out.or(lacking(factPosition))
		} else {
			out = out.or(is(inside))
		}
	}
	return out
}

// holds says whether the area has the spot, leaving its strip aside.
func (a *Area) holds(s *Spot) truth {
	out := yes
	if a.Polygons == nil && a.Except == nil {
		return out
	}
	if s == nil {
		return lacking(factPosition)
	}
	if a.Polygons != nil {
		out = within(a.Polygons, s)
	}
	return out.and(within(a.Except, s).not())
}

// Heights is between which heights above the station's datum something was found, in
// metres; nil is not known.
type Heights struct {
	FromM *float64 `json:"from"`
	ToM   *float64 `json:"to"`
}

// holds says whether the strip has what was found at those heights; levels are the
// station's, by name, in metres above its datum.
func (s *Strip) holds(h *Heights, levels map[string]float64) truth {
	if s == nil {
		return yes
	}
	side := func(l *Level, above bool) truth {
		if l == nil {
			return yes
		}
		m, known := levels[l.Named]
		if l.Named != "" && !known {
			return lacking(factStationLevel)
		}
		m += l.PlusM
		switch {
		case h == nil || h.FromM == nil || h.ToM == nil:
			return lacking(factLevel)
		case above && *h.FromM >= m || !above && *h.ToM <= m:
			return yes
		case above && *h.ToM < m || !above && *h.FromM > m:
			return no
		}
		return lacking(factLevel)
	}
	return side(s.Above, true).and(side(s.Below, false))
}
