package sky

import (
	"math"
	"time"

	"wrackbook/internal/fault"
)

// Light names the light in which a party is willing to be on the shore.
type Light string

const (
	LightSun   Light = "sun"   // sunrise to sunset: the sun's upper limb above the sea horizon
	LightCivil Light = "civil" // the sun's centre less than 6° below it
	LightAny   Light = "any"   // day and night alike
)

// Validate says whether the light is one of the three. The error is a *fault.Error with
// the code BadInput.
func (l Light) Validate() error {
	switch l {
	case LightSun, LightCivil, LightAny:
		return nil
	}
	return fault.New(fault.BadInput, "light", "There is no light named %q. Choose sun, civil or any.", string(l))
}

// Span is an unbroken stretch of light, [From, To), UTC.
type Span struct {
	From, To time.Time
	// FromIsEdge and ToIsEdge: the light is cut there by the range that was asked for, and
	// not by the sun. Such an instant is the caller's own, not rounded to the second.
	FromIsEdge, ToIsEdge bool
}

// Lit lists the stretches of light within [from, to), in order, disjoint, none empty. A
// polar day is one span from edge to edge; a polar night is none.
//
// The error is a *fault.Error: BadInput (site, light, years outside 1900–2100, to before
// from) or SpanTooLong (over 20 years).
func Lit(site Site, light Light, from, to time.Time) ([]Span, error) {
	if err := site.Validate(); err != nil {
		return nil, err
	}
	if err := light.Validate(); err != nil {
		return nil, err
	}
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	from, to = from.UTC(), to.UTC()
	if !from.Before(to) {
		return nil, nil
	}
	if light == LightAny {
		return []Span{{from, to, true, true}}, nil
	}
	h := sunLimb
	if light == LightCivil {
		h = civil
	}
	first, last := cellsOver(from, to)
	s := newSight(pathOver(sun, first, last+1), h, site)
	up, list := s.crossings(first, last)
	return spans(up, list, from, to), nil
}

// spans turns passages into stretches of light within [from, to); up tells whether the
// first passage, which may lie before from, is preceded by light.
func spans(up bool, list []crossing, from, to time.Time) []Span {
	var out []Span
	open := Span{From: from, FromIsEdge: true}
	for _, c := range list {
		t := instant(c.day)
		switch {
		case t.After(to) || t.Equal(to) && c.rising:
			return closeAtEdge(out, up, open, to)
		case c.rising && t.Before(from):
			open = Span{From: from, FromIsEdge: true}
		case c.rising:
			open = Span{From: t}
		case t.After(open.From):
			open.To = t
			out = append(out, open)
		}
		up = c.rising
	}
	return closeAtEdge(out, up, open, to)
}

// closeAtEdge ends the last stretch at the end of the range, if it is still light there.
func closeAtEdge(out []Span, up bool, open Span, to time.Time) []Span {
	if !up || !open.From.Before(to) {
		return out
	}
	open.To, open.ToIsEdge = to, true
	return append(out, open)
}

// cellsOver gives the first and last cell that a passage within [from, to] can lie in,
// with a cell to spare for the rounding to the second.
func cellsOver(from, to time.Time) (first, last int) {
	first = int(math.Floor(dayOf(from)*cellsPerDay)) - 1
	last = int(math.Floor(dayOf(to)*cellsPerDay)) + 1
	return first, last
}
