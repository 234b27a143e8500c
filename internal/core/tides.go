package core

import (
	"math"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/tide"
)

type tidesRequest struct {
	Station string `json:"station"`
	From    string `json:"from"`
	To      string `json:"to"` // exclusive
	Zone    string `json:"zone"`
	// Differences of a shore's own waters from the station's, if known.
	Differences *differences `json:"differences"`
}

type tidesAnswer struct {
	Waters []water `json:"waters"`
}

type water struct {
	Time   Instant `json:"time"`
	Height float64 `json:"height"`
	Kind   string  `json:"kind,omitempty"`
}

func waterOf(w tide.Water) water { return water{Instant(w.Time), w.HeightM, string(w.Kind)} }

// tidesCall lists high and low waters as an office prints them.
func (c *Core) tidesCall(in tidesRequest, _ time.Time) (tidesAnswer, error) {
	p, curve, err := c.curve(in)
	if err != nil {
		return tidesAnswer{}, err
	}
	if err := p.needTide(); err != nil {
		return tidesAnswer{}, err
	}
	out := tidesAnswer{Waters: []water{}}
	for _, w := range curve.Table() {
		out.Waters = append(out.Waters, waterOf(w))
	}
	return out, nil
}

// curve reckons a station over a request's span; at most 5 years.
func (c *Core) curve(in tidesRequest) (*place, tide.Curve, error) {
	local, err := zoneOr(in.Zone, "UTC")
	if err != nil {
		return nil, nil, err
	}
	from, to, err := span(in.From, in.To, local)
	if err != nil {
		return nil, nil, err
	}
	if to.Sub(from) > maxSpan {
		return nil, nil, fault.New(fault.SpanTooLong, "to", "The span is longer than five years. Ask for less at a time.")
	}
	p, err := c.place(in.Station)
	if err != nil {
		return nil, nil, err
	}
	if p.refusal != nil {
		return nil, nil, p.refusal
	}
	t, err := in.Differences.apply(p.tide)
	if err != nil {
		return nil, nil, err
	}
	curve, err := t.Curve(from, to)
	return p, curve, err
}

const maxSpan = 5 * 366 * 24 * time.Hour

type heightsRequest struct {
	tidesRequest
	Every string `json:"every"` // a duration such as 6m
}

type heightsAnswer struct {
	Heights []water `json:"heights"`
}

// maxHeights bounds one answer to about 5 MB.
const maxHeights = 100_000

// heights lists heights at even steps from the beginning of the span.
func (c *Core) heights(in heightsRequest, _ time.Time) (heightsAnswer, error) {
	every, err := time.ParseDuration(in.Every)
	if err != nil || every < time.Second || every > 24*time.Hour || every%time.Second != 0 {
		return heightsAnswer{}, fault.New(fault.BadInput, "every",
			"The step %.20q is not one from 1s to 24h in whole seconds. Give one such as 6m.", in.Every)
	}
	_, curve, err := c.curve(in.tidesRequest)
	if err != nil {
		return heightsAnswer{}, err
	}
	from, to := curve.Span()
	n := int((to.Sub(from) + every - 1) / every)
	if n > maxHeights {
		return heightsAnswer{}, fault.New(fault.SpanTooLong, "every",
			"That is %d heights; at most %d are given at once. Take a shorter span or a longer step.", n, maxHeights)
	}
	out := heightsAnswer{Heights: make([]water, n)}
	for i, h := range tide.Series(curve, from, every, n) {
		out.Heights[i] = water{Time: Instant(from.Add(time.Duration(i) * every)), Height: round(h, 1000)}
	}
	return out, nil
}

// round rounds to the n-th part of one; a zero has no sign.
func round(v, n float64) float64 { return math.Round(v*n)/n + 0 }
