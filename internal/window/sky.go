package window

import (
	"time"

	"wrackbook/internal/sky"
)

// Sky is what the room asks of the sun and the moon over a shore, as the sky room answers
// it. A shore's own sky is the real one; another makes daylight to order.
type Sky interface {
	// Lit lists the lit stretches of [from, to). sky.LightAny is never asked for.
	Lit(light sky.Light, from, to time.Time) ([]sky.Span, error)
	// Phases lists the new, full and quarter moons of [from, to).
	Phases(from, to time.Time) ([]sky.PhaseEvent, error)
	// Declinations lists the moon's greatest declinations of [from, to).
	Declinations(from, to time.Time) ([]sky.DeclinationExtreme, error)
}

// over is the real sky over a site.
type over struct{ site sky.Site }

func (o over) Lit(light sky.Light, from, to time.Time) ([]sky.Span, error) {
	return sky.Lit(o.site, light, from, to)
}

func (o over) Phases(from, to time.Time) ([]sky.PhaseEvent, error) { return sky.Phases(from, to) }

func (o over) Declinations(from, to time.Time) ([]sky.DeclinationExtreme, error) {
	return sky.MoonDeclinationExtremes(from, to)
}

// lights lists the lit stretches of [from, to) to the second.
func lights(over Sky, light sky.Light, from, to time.Time) ([]sky.Span, error) {
	if light == sky.LightAny {
		return []sky.Span{{From: from, To: to, FromIsEdge: true, ToIsEdge: true}}, nil
	}
	spans, err := over.Lit(light, from, to)
	if err != nil {
		return nil, err
	}
	whole := make([]sky.Span, len(spans))
	for i, s := range spans {
		s.From, s.To = wholeSecond(s.From), wholeSecond(s.To)
		whole[i] = s
	}
	return whole, nil
}
