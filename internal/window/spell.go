package window

import (
	"math"
	"sort"
	"time"

	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
)

// spell is a stretch in which the water stands below a level. An end that is an edge is
// where the curve stopped, not where the water passed the level.
type spell struct {
	from, to         time.Time
	fromEdge, toEdge bool
}

// spellsBelow lists the spells below a level in time order. They are disjoint.
func spellsBelow(curve tide.Curve, levelM float64) []spell {
	start, end := curve.Span()
	crossings := curve.Crossings(levelM)
	if len(crossings) == 0 {
		if curve.HeightM(start) < levelM {
			return []spell{{start, end, true, true}}
		}
		return nil
	}
	spells := make([]spell, 0, len(crossings)/2+1)
	dry := crossings[0].Rising
	open := spell{from: start, fromEdge: true}
	for _, c := range crossings {
		t := wholeSecond(c.Time)
		switch {
		case c.Rising && dry:
			open.to = t
			spells = append(spells, open)
			dry = false
		case !c.Rising && !dry:
			open = spell{from: t}
			dry = true
		}
	}
	if dry {
		open.to, open.toEdge = end, true
		spells = append(spells, open)
	}
	return spells
}

// holding finds the spell that t lies in, its ends included.
func holding(spells []spell, t time.Time) (spell, bool) {
	i := sort.Search(len(spells), func(i int) bool { return !spells[i].to.Before(t) })
	if i == len(spells) || spells[i].from.After(t) {
		return spell{}, false
	}
	return spells[i], true
}

// litPart is where a spell and a stretch of light overlap.
type litPart struct {
	spell            spell
	nth              int // of the spells
	light            sky.Span
	from, to         time.Time
	fromEdge, toEdge bool // neither tide nor light ends it: the curve does
}

// litParts lists the overlaps of spells and lights, both in time order and each disjoint
// in itself.
func litParts(spells []spell, lights []sky.Span) []litPart {
	var parts []litPart
	for i, j := 0, 0; i < len(spells) && j < len(lights); {
		s, l := spells[i], lights[j]
		p := litPart{
			spell: s, nth: i, light: l,
			from: later(s.from, l.From), to: earlier(s.to, l.To),
			fromEdge: s.fromEdge && l.FromIsEdge, toEdge: s.toEdge && l.ToIsEdge,
		}
		if p.from.Before(p.to) {
			parts = append(parts, p)
		}
		if s.to.Before(l.To) {
			i++
		} else {
			j++
		}
	}
	return parts
}

// lit says whether one stretch of light covers all of [from, to].
func lit(spans []sky.Span, from, to time.Time) bool {
	i := sort.Search(len(spans), func(i int) bool { return !spans[i].To.Before(to) })
	return i < len(spans) && !spans[i].From.After(from)
}

func wholeSecond(t time.Time) time.Time { return t.UTC().Round(time.Second) }

func millimetres(m float64) int { return int(math.Round(m * 1000)) }

func wholeMillimetre(m float64) float64 { return math.Round(m*1000) / 1000 }

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

func overlap(aFrom, aTo, bFrom, bTo time.Time) bool { return aFrom.Before(bTo) && bFrom.Before(aTo) }
