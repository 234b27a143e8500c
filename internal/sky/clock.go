package sky

import (
	"math"
	"time"

	"github.com/soniakeys/meeus/v3/base"
)

// Inside the room an instant is a day number: days of universal time since J2000, which
// is 2000-01-01 12:00. A float64 then resolves a microsecond over two centuries. UTC is
// taken for UT1; they differ by less than 0.9 s.

const (
	secondsPerDay = 86400
	unixAtJ2000   = 946728000
)

// dayOf is the day number of an instant.
func dayOf(t time.Time) float64 {
	return (float64(t.Unix()-unixAtJ2000) + float64(t.Nanosecond())/1e9) / secondsPerDay
}

// instant is the whole second nearest a day number, UTC.
func instant(day float64) time.Time {
	return time.Unix(unixAtJ2000+int64(math.Round(day*secondsPerDay)), 0).UTC()
}

// jde is the Julian ephemeris day (terrestrial time, the argument of every theory) at a
// day number.
func jde(day float64) float64 {
	return base.J2000 + day + ttLessUTSeconds(day)/secondsPerDay
}

// dayOfJDE undoes jde.
func dayOfJDE(j float64) float64 {
	day := j - base.J2000
	return day - ttLessUTSeconds(day)/secondsPerDay
}

// deltaT holds terrestrial less universal time by year. To 2010 it is every tenth year of
// Meeus, Astronomical Algorithms, 2nd ed., table 10.A; between, straight lines stay within
// 1.5 s of that table, less than an arc second of the moon. The last is TT−UTC since the
// leap second of 31 December 2016 (32.184 s + 37 s, IERS Bulletin C), which still stood in
// 2026. It is kept to 2100: civil time is UTC, and what it will do is not known.
var deltaT = [...]struct{ year, seconds float64 }{
	{1900, -2.8}, {1910, 10.4}, {1920, 21.1}, {1930, 24.0}, {1940, 24.3}, {1950, 29.1},
	{1960, 33.1}, {1970, 40.2}, {1980, 50.5}, {1990, 56.9}, {2000, 63.8}, {2010, 66.1},
	{2017, 69.184},
}

// ttLessUTSeconds is terrestrial less universal time at a day number, in seconds.
func ttLessUTSeconds(day float64) float64 {
	year := base.JDEToJulianYear(base.J2000 + day)
	if year <= deltaT[0].year {
		return deltaT[0].seconds
	}
	for i := 1; i < len(deltaT); i++ {
		a, b := deltaT[i-1], deltaT[i]
		if year < b.year {
			return a.seconds + (b.seconds-a.seconds)*(year-a.year)/(b.year-a.year)
		}
	}
	return deltaT[len(deltaT)-1].seconds
}
