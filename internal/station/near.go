package station

import (
	"math"

	"wrackbook/internal/fault"
	"wrackbook/internal/station/layout"
)

// earthRadiusKm is the mean radius R1 of the Earth (IUGG 1980; Moritz, Geodetic Reference
// System 1980).
const earthRadiusKm = 6371.0088

// Near lists the stations nearest to a point, the nearest first, with the great-circle
// distance and the initial bearing from the point. lat is −90 to 90, lonEast −180 to 180.
// The Earth is taken for a sphere, so that distances are within 0.6 % of those on the
// ellipsoid. The error is a *fault.Error of code BadInput.
func (c *Catalogue) Near(lat, lonEast float64, limit int) ([]Match, error) {
	if !(math.Abs(lat) <= 90) { // NaN too
		return nil, fault.New(fault.BadInput, "lat", "The latitude must lie between -90 and 90 degrees, south negative.")
	}
	if !(math.Abs(lonEast) <= 180) {
		return nil, fault.New(fault.BadInput, "lonEast", "The longitude must lie between -180 and 180 degrees, west negative.")
	}
	type hit struct {
		row         int
		km, bearing float64
	}
	nearest := newBest(limit, func(a, b hit) bool {
		if a.km != b.km {
			return a.km < b.km
		}
		return a.row < b.row
	})
	from := newPoint(lat, lonEast)
	for row := range c.Len() {
		km, bearing := from.to(c.degrees(layout.Lat, row), c.degrees(layout.Lon, row))
		nearest.add(hit{row, km, bearing})
	}
	matches := make([]Match, len(nearest.hits))
	for i, h := range nearest.hits {
		matches[i] = c.match(h.row)
		matches[i].DistanceKm, matches[i].BearingDeg = h.km, h.bearing
	}
	return matches, nil
}

// point is a place on the sphere from which others are seen.
type point struct{ sinLat, cosLat, lon float64 }

func newPoint(lat, lonEast float64) point {
	sin, cos := math.Sincos(lat * math.Pi / 180)
	return point{sin, cos, lonEast * math.Pi / 180}
}

// to gives the great-circle distance in km, rounded to the metre, and the initial bearing
// in degrees from true north, 0 ≤ b < 360, rounded to a tenth. It turns the sphere so that
// p is the pole and reads the other place off as a vector (north, east, up), which stays
// exact to rounding for the near, the far and the opposite, at the poles and across the
// 180th meridian. At a pole the bearing counts from the meridian that was given; for a
// place upon p itself it is 0.
func (p point) to(lat, lonEast float64) (km, bearing float64) {
	sinLat, cosLat := math.Sincos(lat * math.Pi / 180)
	sinLon, cosLon := math.Sincos(lonEast*math.Pi/180 - p.lon)
	east := cosLat * sinLon
	north := p.cosLat*sinLat - p.sinLat*cosLat*cosLon
	up := p.sinLat*sinLat + p.cosLat*cosLat*cosLon

	// math.Hypot guards against overflow, which cannot be here, and takes twice the time.
	km = math.Round(earthRadiusKm*math.Atan2(math.Sqrt(east*east+north*north), up)*1000) / 1000
	if km == 0 {
		return 0, 0
	}
	bearing = math.Round(math.Atan2(east, north)*180/math.Pi*10) / 10
	if bearing < 0 {
		bearing += 360
	}
	if bearing >= 360 || bearing == 0 { // no minus zero
		bearing = 0
	}
	return km, bearing
}

// distanceKm is the great-circle distance between two places.
func distanceKm(lat1, lonEast1, lat2, lonEast2 float64) float64 {
	km, _ := newPoint(lat1, lonEast1).to(lat2, lonEast2)
	return km
}
