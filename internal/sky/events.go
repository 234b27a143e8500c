package sky

import (
	"slices"
	"time"
)

// Kind names what happens at the horizon.
type Kind string

const (
	Sunrise   Kind = "sunrise"    // the sun's upper limb appears
	Sunset    Kind = "sunset"     // it disappears
	CivilDawn Kind = "civil_dawn" // the sun's centre rises past 6° below the horizon
	CivilDusk Kind = "civil_dusk" // it sinks past it
	Moonrise  Kind = "moonrise"   // the moon's upper limb appears, lit or not
	Moonset   Kind = "moonset"    // it disappears
)

// Event is something that happens at the horizon.
type Event struct {
	Time time.Time // UTC, whole second
	Kind Kind
}

// SunEvents lists sunrises, sunsets, civil dawns and dusks in [from, to), in order. A day
// on which the sun does not pass a height has no event of it. Errors as Lit.
func SunEvents(site Site, from, to time.Time) ([]Event, error) {
	if err := checkQuestion(site, from, to); err != nil {
		return nil, err
	}
	first, last := cellsOver(from, to)
	p := pathOver(sun, first, last+1)
	events := slices.Concat(
		horizonEvents(p, sunLimb, site, from, to, Sunrise, Sunset),
		horizonEvents(p, civil, site, from, to, CivilDawn, CivilDusk))
	slices.SortStableFunc(events, func(a, b Event) int { return a.Time.Compare(b.Time) })
	return events, nil
}

// MoonEvents lists moonrises and moonsets in [from, to), in order. About once a month a
// day has no moonrise, and once none has a moonset; near the poles the moon stays up, or
// down, for days. Errors as Lit.
func MoonEvents(site Site, from, to time.Time) ([]Event, error) {
	if err := checkQuestion(site, from, to); err != nil {
		return nil, err
	}
	first, last := cellsOver(from, to)
	return horizonEvents(pathOver(moon, first, last+1), moonLimb, site, from, to, Moonrise, Moonset), nil
}

func checkQuestion(site Site, from, to time.Time) error {
	if err := site.Validate(); err != nil {
		return err
	}
	return checkSpan(from, to)
}

// horizonEvents lists the passages of one height in [from, to).
func horizonEvents(p path, h horizon, site Site, from, to time.Time, rise, set Kind) []Event {
	s := newSight(p, h, site)
	first, last := cellsOver(from, to)
	_, list := s.crossings(first, last)
	var out []Event
	for _, c := range list {
		t := instant(c.day)
		if t.Before(from) || !t.Before(to) {
			continue
		}
		kind := set
		if c.rising {
			kind = rise
		}
		out = append(out, Event{t, kind})
	}
	return out
}
