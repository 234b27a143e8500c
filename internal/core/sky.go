package core

import (
	"slices"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
)

type skyRequest struct {
	Lat  *float64 `json:"lat"`
	Lon  *float64 `json:"lon"`
	From string   `json:"from"`
	To   string   `json:"to"`
	Zone string   `json:"zone"`
}

type skyAnswer struct {
	Events []skyEvent `json:"events"`
	// Lit and Civil are the stretches between sunrise and sunset, and between civil dawn
	// and dusk: in the polar day one that fills the span, in the polar night none.
	Lit     []stretch  `json:"lit"`
	Civil   []stretch  `json:"civil"`
	Phases  []skyEvent `json:"phases"`
	Apsides []apsis    `json:"apsides"`
	Moon    moonAt     `json:"moon"` // at the beginning of the span
}

type skyEvent struct {
	Time Instant `json:"time"`
	Kind string  `json:"kind"`
}

type stretch struct {
	From     Instant `json:"from"`
	To       Instant `json:"to"`
	FromEdge bool    `json:"fromEdge,omitempty"` // the span cuts it, no rise does
	ToEdge   bool    `json:"toEdge,omitempty"`
}

type apsis struct {
	Time       Instant `json:"time"`
	Kind       string  `json:"kind"`
	DistanceKm float64 `json:"distanceKm"`
}

type moonAt struct {
	Illuminated float64 `json:"illuminated"` // fraction of the disc
	Declination float64 `json:"declination"` // degrees, north positive
}

const maxSkySpan = 2 * 366 * 24 * time.Hour

// sky lists what sun and moon do over a place.
func (c *Core) sky(in skyRequest, _ time.Time) (skyAnswer, error) {
	var out skyAnswer
	if in.Lat == nil || in.Lon == nil {
		return out, fault.New(fault.BadInput, "lat", "Give the latitude and the longitude of the place.")
	}
	at, err := zoneOr(in.Zone, "UTC")
	if err != nil {
		return out, err
	}
	from, to, err := span(in.From, in.To, at)
	if err != nil {
		return out, err
	}
	if to.Sub(from) > maxSkySpan {
		return out, fault.New(fault.SpanTooLong, "to", "The span is longer than two years. Ask for less at a time.")
	}
	site := sky.Site{LatDeg: *in.Lat, LonEastDeg: *in.Lon}
	sun, err := sky.SunEvents(site, from, to)
	if err != nil {
		return out, err
	}
	moon, err := sky.MoonEvents(site, from, to)
	if err != nil {
		return out, err
	}
	events := append(sun, moon...)
	slices.SortStableFunc(events, func(a, b sky.Event) int { return a.Time.Compare(b.Time) })
	out = skyAnswer{Events: []skyEvent{}, Phases: []skyEvent{}, Apsides: []apsis{}}
	for _, e := range events {
		out.Events = append(out.Events, skyEvent{Instant(e.Time), string(e.Kind)})
	}
	if out.Lit, err = stretches(site, sky.LightSun, from, to); err != nil {
		return out, err
	}
	if out.Civil, err = stretches(site, sky.LightCivil, from, to); err != nil {
		return out, err
	}
	phases, err := sky.Phases(from, to)
	if err != nil {
		return out, err
	}
	for _, p := range phases {
		out.Phases = append(out.Phases, skyEvent{Instant(p.Time), string(p.Phase)})
	}
	apsides, err := sky.Apsides(from, to)
	if err != nil {
		return out, err
	}
	for _, a := range apsides {
		out.Apsides = append(out.Apsides, apsis{Instant(a.Time), string(a.Kind), a.DistanceKm})
	}
	out.Moon = moonAt{round(sky.Illuminated(from), 1000), round(sky.MoonDeclinationDeg(from), 100)}
	return out, nil
}

func stretches(site sky.Site, light sky.Light, from, to time.Time) ([]stretch, error) {
	spans, err := sky.Lit(site, light, from, to)
	if err != nil {
		return nil, err
	}
	out := []stretch{}
	for _, s := range spans {
		out = append(out, stretch{Instant(s.From), Instant(s.To), s.FromIsEdge, s.ToIsEdge})
	}
	return out, nil
}
