package station

import (
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
)

func openFile(t testing.TB) *Catalogue {
	t.Helper()
	data, err := os.ReadFile("embedded/catalogue.bin")
	require.NoError(t, err)
	c, err := Open(data)
	require.NoError(t, err)
	return c
}

// Published worked examples, on a sphere:
//
//   - Meeus, Astronomical Algorithms, example 11.c: the observatories of Paris and
//     Washington, 55.44855° apart, which he makes 6166 km with a radius of 6371 km.
//   - Williams, Aviation Formulary: Los Angeles (33°57′ N 118°24′ W) to New York (40°38′ N
//     73°47′ W), 0.623585 rad, course 66° (from memory).
func TestPublishedDistances(t *testing.T) {
	for _, row := range []struct {
		about                  string
		lat1, lon1, lat2, lon2 float64
		km                     float64
		bearing                float64 // NaN where none is published
	}{
		{"Meeus 11.c", 48 + 50.0/60 + 11.0/3600, 2 + 20.0/60 + 14.0/3600, 38 + 55.0/60 + 17.0/3600, -(77 + 3.0/60 + 56.0/3600),
			55.44855 * math.Pi / 180 * earthRadiusKm, math.NaN()},
		{"Aviation Formulary", 33 + 57.0/60, -(118 + 24.0/60), 40 + 38.0/60, -(73 + 47.0/60), 0.623585 * earthRadiusKm, 66},
	} {
		t.Run(row.about, func(t *testing.T) {
			km, bearing := newPoint(row.lat1, row.lon1).to(row.lat2, row.lon2)
			assert.InDelta(t, row.km, km, 0.006, "the examples give five or six decimals of an angle")
			if !math.IsNaN(row.bearing) {
				assert.InDelta(t, row.bearing, bearing, 0.5, "it is given to the degree")
			}
		})
	}
}

// What geometry says without a formula: a degree of a great circle has 2πR/360 km.
func TestPlainGeometry(t *testing.T) {
	degree := 2 * math.Pi * earthRadiusKm / 360
	for _, row := range []struct {
		about                  string
		lat1, lon1, lat2, lon2 float64
		degrees, bearing       float64
	}{
		{"north along a meridian", 10, 20, 15, 20, 5, 0},
		{"south along a meridian", 10, 20, -10, 20, 20, 180},
		{"east along the equator", 0, 0, 0, 30, 30, 90},
		{"west along the equator", 0, 0, 0, -30, 30, 270},
		{"east across the 180th meridian", 0, 179, 0, -179, 2, 90},
		{"west across the 180th meridian", 0, -179, 0, 179, 2, 270},
		{"180 is −180", 12, 180, 12, -180, 0, 0},
		{"from pole to pole", 90, 0, -90, 0, 180, 180},
		{"to the north pole", 60, 123, 90, -7, 30, 0},
		{"to the south pole", 60, 123, -90, 55, 150, 180},
		{"over the pole", 80, 0, 80, 180, 20, 0},
		{"from the north pole down the meridian it was given", 90, 40, 0, 40, 90, 180},
		{"from the north pole down one to the east", 90, 40, 0, 50, 90, 170},
		{"from the south pole up one to the east", -90, 40, 0, 50, 90, 10},
		{"the opposite end", 30, 40, -30, -140, 180, math.NaN()},
		{"upon itself", 30, 40, 30, 40, 0, 0},
		{"a metre off", 0, 0, 0.001 / degree, 0, 0.001 / degree, 0},
	} {
		t.Run(row.about, func(t *testing.T) {
			km, bearing := newPoint(row.lat1, row.lon1).to(row.lat2, row.lon2)
			assert.InDelta(t, row.degrees*degree, km, 0.00051, "distances are rounded to the metre")
			if !math.IsNaN(row.bearing) {
				assert.InDelta(t, row.bearing, bearing, 0.0501, "bearings are rounded to a tenth")
			}
		})
	}
}

// vector is a place as a direction from the middle of the Earth.
type vector [3]float64

func toVector(lat, lonEast float64) vector {
	lat, lonEast = lat*math.Pi/180, lonEast*math.Pi/180
	return vector{math.Cos(lat) * math.Cos(lonEast), math.Cos(lat) * math.Sin(lonEast), math.Sin(lat)}
}

func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vector) cross(b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a vector) length() float64 { return math.Sqrt(a.dot(a)) }

// vectorKm is the distance by another formula: the angle between two vectors.
func vectorKm(a, b vector) float64 { return earthRadiusKm * math.Atan2(a.cross(b).length(), a.dot(b)) }

// vectorBearing is the bearing by another way: b against the vectors that point east and
// north at a.
func vectorBearing(lat, lonEast float64, b vector) float64 {
	lat, lonEast = lat*math.Pi/180, lonEast*math.Pi/180
	east := vector{-math.Sin(lonEast), math.Cos(lonEast), 0}
	north := vector{-math.Sin(lat) * math.Cos(lonEast), -math.Sin(lat) * math.Sin(lonEast), math.Cos(lat)}
	return math.Mod(math.Atan2(b.dot(east), b.dot(north))*180/math.Pi+360, 360)
}

// Near agrees with the other formula about every one of the stations it gives, and none of
// those it leaves out is nearer.
func TestNearAgainstVectors(t *testing.T) {
	c := openFile(t)
	places := make([]vector, c.Len())
	byID := map[string]int{}
	for row := range places {
		s := c.station(row)
		places[row], byID[s.ID] = toVector(s.Lat, s.LonEast), row
	}
	check := func(t require.TestingT, lat, lonEast float64) {
		from := toVector(lat, lonEast)
		all := make([]float64, len(places))
		for row, p := range places {
			all[row] = vectorKm(from, p)
		}
		found, err := c.Near(lat, lonEast, 25)
		require.NoError(t, err)
		require.Len(t, found, 25)
		for _, m := range found {
			row := byID[m.ID]
			require.InDelta(t, all[row], m.DistanceKm, 0.00051+1e-6, m.ID)
			if m.DistanceKm > 1 && m.DistanceKm < 20_000 { // nearer or opposite, a bearing turns in metres
				turn := math.Abs(vectorBearing(lat, lonEast, places[row]) - m.BearingDeg)
				require.LessOrEqual(t, min(turn, 360-turn), 0.051, m.ID)
			}
			require.GreaterOrEqual(t, m.BearingDeg, 0.0)
			require.Less(t, m.BearingDeg, 360.0)
		}
		slices.Sort(all)
		for i, m := range found {
			require.InDelta(t, all[i], m.DistanceKm, 0.0011, "the %dth nearest", i)
		}
	}
	for _, lat := range []float64{-90, -89.99, -60, 0, 47.3, 89.99, 90} {
		for _, lonEast := range []float64{-180, -179.999, -122, 0, 179.999, 180} {
			check(t, lat, lonEast)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lonEast"))
	})
}

// Either name of the 180th meridian gives the same answer, and stations on both sides: Fiji
// lies across it.
func TestNearAcrossTheDateLine(t *testing.T) {
	c := openFile(t)
	west, err := c.Near(-18.7, -180, 10)
	require.NoError(t, err)
	east, err := c.Near(-18.7, 180, 10)
	require.NoError(t, err)
	assert.Equal(t, west, east)
	sides := map[bool]int{}
	for _, m := range east {
		sides[m.LonEast > 0]++
		assert.Less(t, m.DistanceKm, 1000.0)
	}
	assert.Len(t, sides, 2)
}

// From the pole every meridian leads to the same stations at the same distances, the
// northernmost first.
func TestNearAtThePole(t *testing.T) {
	c := openFile(t)
	first, err := c.Near(90, 0, 20)
	require.NoError(t, err)
	for _, lonEast := range []float64{-180, -90, 17, 180} {
		found, err := c.Near(90, lonEast, 20)
		require.NoError(t, err)
		for i := range found {
			assert.Equal(t, first[i].ID, found[i].ID)
			assert.InDelta(t, first[i].DistanceKm, found[i].DistanceKm, 1e-9)
		}
	}
	for i := 1; i < len(first); i++ {
		assert.GreaterOrEqual(t, first[i-1].Lat, first[i].Lat)
	}
	assert.Equal(t, "Alert", first[0].Name, "the northernmost station of the source, 82.49° N")
}

func TestNearRefuses(t *testing.T) {
	c := openFile(t)
	for _, row := range []struct {
		about        string
		lat, lonEast float64
		field        string
	}{
		{"north of the pole", 90.001, 0, "lat"},
		{"south of the pole", -91, 0, "lat"},
		{"no latitude", math.NaN(), 0, "lat"},
		{"infinite", math.Inf(1), 0, "lat"},
		{"a longitude from 0 to 360", 0, 200, "lonEast"},
		{"west of the world", 0, -180.5, "lonEast"},
		{"no longitude", 0, math.NaN(), "lonEast"},
	} {
		t.Run(row.about, func(t *testing.T) {
			found, err := c.Near(row.lat, row.lonEast, 5)
			assert.Empty(t, found)
			var f *fault.Error
			require.ErrorAs(t, err, &f)
			assert.Equal(t, fault.BadInput, f.Code)
			assert.Equal(t, row.field, f.Field)
		})
	}
	for _, limit := range []int{0, -3} {
		found, err := c.Near(0, 0, limit)
		require.NoError(t, err)
		assert.Empty(t, found)
	}
	found, err := c.Near(0, 0, 100_000)
	require.NoError(t, err)
	assert.Len(t, found, MaxMatches)
}
