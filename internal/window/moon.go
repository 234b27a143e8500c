package window

import (
	"math"
	"sort"
	"time"

	"wrackbook/internal/sky"
)

const (
	// lagOfTide is how far the tide runs behind the moon: springs come one to two days
	// after new and full moon (trade practice), and tropic tides about as long after the
	// moon's greatest declination (the age of the diurnal inequality, from memory).
	lagOfTide = 36 * time.Hour
	// nearEvent is how close to that a low water must be to be called after it. Springs
	// and neaps are 7.4 days apart, so that about a third of the days lies between.
	nearEvent = 60 * time.Hour
	// farFromDeclination: greatest declinations are 13.7 days apart; equatorial tides are
	// those within nearEvent of half-way.
	farFromDeclination = 164*time.Hour - nearEvent

	moonReach = 16 * 24 * time.Hour // on either side of the curve, to reach the nearest event
)

// moonEvent is a phase or a greatest declination that the tide answers to.
type moonEvent struct {
	time  time.Time
	event string   // new, full, first_quarter, last_quarter; north, south
	kind  MoonKind // of the tide that follows it
}

// moonEvents lists what the tide of this form number answers to, around [from, to]. It is
// empty where that reaches beyond the years of the sky room: the moon orders a list, and
// no window fails for want of it.
func moonEvents(over Sky, formNumber float64, from, to time.Time) []moonEvent {
	from, to = from.Add(-moonReach), to.Add(moonReach)
	var events []moonEvent
	if formNumber >= mainlyDiurnal {
		extremes, err := over.Declinations(from, to)
		if err != nil {
			return nil
		}
		for _, d := range extremes {
			event := "south"
			if d.DeclinationDeg > 0 {
				event = "north"
			}
			events = append(events, moonEvent{d.Time, event, Tropic})
		}
		return events
	}
	phases, err := over.Phases(from, to)
	if err != nil {
		return nil
	}
	for _, p := range phases {
		kind := Neaps
		if p.Phase == sky.NewMoon || p.Phase == sky.FullMoon {
			kind = Springs
		}
		events = append(events, moonEvent{p.Time, string(p.Phase), kind})
	}
	return events
}

// moonAt tells what kind of tide the moon makes of a low water; the zero Moon if the sky
// told nothing.
func (r *reckoner) moonAt(low time.Time) Moon {
	lagged, off, ok := nearest(r.moons, low.Add(-lagOfTide), "")
	if !ok {
		return Moon{}
	}
	m := Moon{Kind: MidPhase}
	if off <= nearEvent {
		m.Kind = lagged.kind
	}
	// Days are counted from new or full moon, which people know from the sky.
	counted := Springs
	if lagged.kind == Tropic {
		counted = Tropic
		if off >= farFromDeclination {
			m.Kind = Equatorial
		}
	}
	told, _, ok := nearest(r.moons, low, counted)
	if !ok {
		return Moon{}
	}
	m.Event = told.event
	m.Days = int(math.Round(low.Sub(told.time).Hours() / 24))
	return m
}

// nearest is the event nearest to t, of one kind if it is given, and how far off it is.
func nearest(events []moonEvent, t time.Time, kind MoonKind) (moonEvent, time.Duration, bool) {
	const reach = 4 // events on either side; every second phase is a new or full moon
	i := sort.Search(len(events), func(i int) bool { return !events[i].time.Before(t) })
	var best moonEvent
	var least time.Duration
	found := false
	for _, e := range events[max(0, i-reach):min(len(events), i+reach)] {
		if off := e.time.Sub(t).Abs(); (kind == "" || e.kind == kind) && (!found || off < least) {
			best, least, found = e, off, true
		}
	}
	return best, least, found
}
