package sky

import (
	"math"
	"time"

	"github.com/soniakeys/meeus/v3/apsis"
	"github.com/soniakeys/meeus/v3/moonmaxdec"
	"github.com/soniakeys/meeus/v3/moonphase"
	"github.com/soniakeys/meeus/v3/moonposition"
)

// What recurs in the moon's months is counted: the n-th phase, perigee or extreme is found
// by meeus from "a year near it". The year is made from the count by the very constants
// that meeus turns back into a count (named below), so that it lands on the one meant and
// none is met twice or passed over.

// Phase names a phase of the moon.
type Phase string

const (
	NewMoon      Phase = "new"
	FirstQuarter Phase = "first_quarter"
	FullMoon     Phase = "full"
	LastQuarter  Phase = "last_quarter"
)

// PhaseEvent is the instant of a phase: the moon's apparent longitude is 0, 90, 180 or 270
// degrees east of the sun's.
type PhaseEvent struct {
	Time  time.Time // UTC, whole second
	Phase Phase
}

// Phases lists the phases in [from, to), in order. Source: Meeus, chapter 49, good to half
// a minute but for what the Earth's turning will do (see deltaT).
//
// The error is a *fault.Error: BadInput (years outside 1900–2100, to before from) or
// SpanTooLong (over 20 years).
func Phases(from, to time.Time) ([]PhaseEvent, error) {
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	kinds := [...]struct {
		phase Phase
		find  func(year float64) float64
	}{
		{NewMoon, moonphase.New}, {FirstQuarter, moonphase.First},
		{FullMoon, moonphase.Full}, {LastQuarter, moonphase.Last},
	}
	var out []PhaseEvent
	first, last := counts(from, to, 2451550.09766, 29.530588861/4) // (49.1), by quarters
	for n := first; n <= last; n++ {
		kind := kinds[n-4*floorDiv(n, 4)]
		year := 2000 + float64(n)/4/12.3685 // (49.2)
		if t := instant(dayOfJDE(kind.find(year))); within(t, from, to) {
			out = append(out, PhaseEvent{t, kind.phase})
		}
	}
	return out, nil
}

// ApsisKind names the ends of the moon's orbit.
type ApsisKind string

const (
	Perigee ApsisKind = "perigee" // nearest to the Earth: the tides are larger
	Apogee  ApsisKind = "apogee"  // farthest from it: smaller
)

// Apsis is an instant at which the moon is nearest to or farthest from the Earth.
type Apsis struct {
	Time       time.Time // UTC, whole second
	Kind       ApsisKind
	DistanceKm float64 // between the centres, whole kilometres
}

// Apsides lists perigees and apogees in [from, to), in order; they alternate. Found near
// the time of Meeus, chapter 50, whose perigees can be half an hour off, as the turning
// points of the distance of chapter 47: good to 6 minutes and 7 km. Errors as Phases.
func Apsides(from, to time.Time) ([]Apsis, error) {
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	distanceKm := func(jde float64) float64 { _, _, km := moonposition.Position(jde); return km }
	var out []Apsis
	first, last := counts(from, to, 2451534.6698, 27.55454989/2) // (50.1), by halves
	for n := first; n <= last; n++ {
		kind, find := Perigee, apsis.Perigee
		if n&1 != 0 {
			kind, find = Apogee, apsis.Apogee
		}
		year := 1999.97 + float64(n)/2/13.2555 // (50.2)
		j, km := turningPoint(distanceKm, find(year))
		if t := instant(dayOfJDE(j)); within(t, from, to) {
			out = append(out, Apsis{t, kind, math.Round(km)})
		}
	}
	return out, nil
}

// DeclinationExtreme is an instant at which the moon stands farthest north or south of the
// equator in its month. Where the tide is mainly diurnal the large tides follow it.
type DeclinationExtreme struct {
	Time           time.Time // UTC, whole second
	DeclinationDeg float64   // north positive; 18 to 29 degrees either way
}

// MoonDeclinationExtremes lists the moon's greatest northern and southern declinations in
// [from, to), in order; they alternate. Found near the time of Meeus, chapter 52, which
// drifts by an hour and 4′ over a century from 2000, as the turning points of
// MoonDeclinationDeg: good to a minute and 3″. Errors as Phases.
func MoonDeclinationExtremes(from, to time.Time) ([]DeclinationExtreme, error) {
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	declinationDeg := func(jde float64) float64 { return moonDeclination(jde).Deg() }
	var out []DeclinationExtreme
	// Chapter 52 counts north and south apart. South k lies half a month before north k.
	first, last := counts(from, to, 2451562.5897, 27.321582247)
	for k := first; k <= last; k++ {
		year := 2000.03 + float64(k)/13.3686 // (52.1)
		south, _ := moonmaxdec.South(year)
		north, _ := moonmaxdec.North(year)
		for _, near := range [...]float64{south, north} {
			j, deg := turningPoint(declinationDeg, near)
			if t := instant(dayOfJDE(j)); within(t, from, to) {
				out = append(out, DeclinationExtreme{t, deg})
			}
		}
	}
	return out, nil
}

// counts gives the numbers of the first and last of a series, the n-th of which falls
// about epochJDE + n·every days, that can lie within [from, to). Three to spare at each
// end: no member strays so far from its mean.
func counts(from, to time.Time, epochJDE, every float64) (first, last int) {
	count := func(t time.Time) float64 { return (jde(dayOf(t)) - epochJDE) / every }
	return int(math.Floor(count(from))) - 3, int(math.Ceil(count(to))) + 3
}

func within(t, from, to time.Time) bool { return !t.Before(from) && t.Before(to) }

// turningPoint improves on the time near which a smooth quantity of the moon turns, within
// an hour or so, and gives its value there: three times the vertex of a parabola through three
// values 20 minutes apart.
func turningPoint(f func(jde float64) float64, near float64) (jde, value float64) {
	const h = 1.0 / 72
	for range 3 {
		before, here, after := f(near-h), f(near), f(near+h)
		curve := before - 2*here + after
		if curve == 0 {
			break
		}
		near += h * (before - after) / (2 * curve)
	}
	return near, f(near)
}
