package tide

import (
	"math"
	"sort"
	"time"

	"wrackbook/internal/fault"
)

// HeightRule says how a secondary port's heights follow from its reference station's.
type HeightRule string

const (
	Ratio  HeightRule = "ratio"  // multiplied
	Metres HeightRule = "metres" // added
)

// Differences carry the high and low waters of a reference station to another place.
type Differences struct {
	HighMinutes, LowMinutes float64    // added to the times of high and low water; -1440 to 1440
	High, Low               float64    // ratio 0 to 10, or metres -10 to 10
	Rule                    HeightRule // what High and Low are
}

// Secondary predicts the tide of a secondary port: its high and low waters are the
// reference station's with the differences applied, and the curve between two waters is
// the reference's between its two, warped smoothly and one way in time and stretched in
// height. A prediction is refused where the time differences would put one water before
// the one it follows.
type Secondary struct {
	reference Tide
	diff      Differences
}

// NewSecondary hangs a port on a reference. The error is fault.BadInput.
func NewSecondary(reference Tide, d Differences) (*Secondary, error) {
	if !(math.Abs(d.HighMinutes) <= 1440) || !(math.Abs(d.LowMinutes) <= 1440) {
		return nil, fault.New(fault.BadInput, "minutes", "Time differences must be within 24 hours.")
	}
	lo, hi := 0.0, 10.0
	switch d.Rule {
	case Ratio:
	case Metres:
		lo = -10
	default:
		return nil, fault.New(fault.BadInput, "heightsAre", "Height differences are %q or %q.", Ratio, Metres)
	}
	for _, v := range []float64{d.High, d.Low} {
		if !(v >= lo && v <= hi) {
			return nil, fault.New(fault.BadInput, "heights", "Height differences must be from %g to %g.", lo, hi)
		}
	}
	return &Secondary{reference: reference, diff: d}, nil
}

func (d *Differences) shift(k Kind) float64 {
	if k == High {
		return d.HighMinutes * 60
	}
	return d.LowMinutes * 60
}

func (d *Differences) height(h float64, k Kind) float64 {
	v := d.Low
	if k == High {
		v = d.High
	}
	if d.Rule == Ratio {
		return h * v
	}
	return h + v
}

// Pads tried, in days, until the reference has waters on both sides of the span.
var pads = []int{3, 10, 40}

// Curve implements Tide.
func (s *Secondary) Curve(from, to time.Time) (Curve, error) {
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	for _, pad := range pads {
		more := time.Duration(pad) * 24 * time.Hour
		ref, err := s.reference.Curve(from.Add(-more), to.Add(more))
		if err != nil {
			return nil, err
		}
		src, ok := ref.(source)
		if !ok {
			return nil, fault.New(fault.Internal, "", "A secondary port must hang on a predicted tide.")
		}
		c := &warpedCurve{from: from.UTC(), to: to.UTC(), x0: seconds(from), x1: seconds(to), src: src}
		enough, err := c.warp(s.diff)
		if err != nil {
			return nil, err
		}
		if enough {
			return c, nil
		}
	}
	return nil, fault.New(fault.NoDistinctTide, "station",
		"The tide at this port has no distinct high and low waters at that time, so its differences cannot be applied.")
}

// source is what a warped curve is made from.
type source interface {
	Curve
	height(x float64) float64
	rate(x float64) float64
	points() []turnPoint
	seams() []knot
}

func (c *harmonicCurve) points() []turnPoint { return c.turns }

func (c *harmonicCurve) seams() []knot {
	var out []knot
	for k := 1; k < len(c.regions); k++ {
		out = append(out, c.seam(k))
	}
	return out
}

// warpedCurve is the prediction at a secondary port.
type warpedCurve struct {
	from, to time.Time
	x0, x1   float64
	src      source
	ref      []turnPoint // of the source
	here     []turnPoint // the same waters, corrected
	turns    []turnPoint // those of here inside the span
}

// warp corrects the source's waters; enough is false where they do not reach beyond the
// span on both sides.
func (c *warpedCurve) warp(d Differences) (enough bool, err error) {
	c.ref = c.src.points()
	c.here = make([]turnPoint, len(c.ref))
	for i, t := range c.ref {
		c.here[i] = turnPoint{x: t.x + d.shift(t.kind), h: d.height(t.h, t.kind), kind: t.kind, seam: t.seam}
	}
	n := len(c.here)
	if n < 2 || c.here[0].x > c.x0 || c.here[n-1].x < c.x1 {
		return false, nil
	}
	for i := 1; i < n; i++ {
		if c.here[i].x > c.here[i-1].x || c.here[i].x < c.x0 || c.here[i-1].x > c.x1 {
			continue
		}
		return false, fault.New(fault.WatersCross, "station",
			"This port's time differences for high and low water are too far apart for the tide of %s: "+
				"one water would come before the one it follows. Choose dates without that day, or a reference station near by.",
			instant(c.ref[i].x).Format("2 January 2006"))
	}
	// Waters out of order outside the span would confuse the search for a place in it.
	first, last := 0, n
	for i := 1; i < n; i++ {
		if c.here[i].x <= c.here[i-1].x {
			if c.here[i].x < c.x0 {
				first = i
			} else {
				last = min(last, i)
			}
		}
	}
	c.ref, c.here = c.ref[first:last], c.here[first:last]
	if len(c.here) < 2 || c.here[0].x > c.x0 || c.here[len(c.here)-1].x < c.x1 {
		return false, nil
	}
	for _, t := range c.here {
		if t.x >= c.x0 && t.x < c.x1 {
			c.turns = append(c.turns, t)
		}
	}
	return true, nil
}

// locate finds the pair of waters around a Unix time here, the time at the source that
// belongs to it, and the rate of that time.
func (c *warpedCurve) locate(x float64) (i int, at, rate float64) {
	i = sort.Search(len(c.here), func(i int) bool { return c.here[i].x > x }) - 1
	i = min(max(i, 0), len(c.here)-2)
	t0, t1 := c.ref[i].x, c.ref[i+1].x
	span := c.here[i+1].x - c.here[i].x
	v := (x - c.here[i].x) / span
	// A cubic from 0 to 1 whose end slopes make one second here one second at the source,
	// kept one-way by Fritsch and Carlson's bound: end slopes at most 3.
	m := min(span/(t1-t0), 3)
	g := v * (m + v*(3-3*m+v*(2*m-2)))
	dg := m + v*(2*(3-3*m)+v*3*(2*m-2))
	return i, t0 + (t1-t0)*g, (t1 - t0) * dg / span
}

// stretch carries a source height between waters i and i+1 to here, and says by how much
// heights there are stretched.
func (c *warpedCurve) stretch(i int, h float64) (height, by float64) {
	h0, h1 := c.ref[i].h, c.ref[i+1].h
	if h0 == h1 {
		return c.here[i].h, 0
	}
	by = (c.here[i+1].h - c.here[i].h) / (h1 - h0)
	return c.here[i].h + (h-h0)*by, by
}

func (c *warpedCurve) height(x float64) float64 {
	i, at, _ := c.locate(x)
	h, _ := c.stretch(i, c.src.height(at))
	return h
}

func (c *warpedCurve) rate(x float64) float64 {
	i, at, r := c.locate(x)
	_, by := c.stretch(i, 0)
	return c.src.rate(at) * r * by
}

func (c *warpedCurve) points() []turnPoint { return c.turns }

// seams carries the source's steps to here.
func (c *warpedCurve) seams() []knot {
	var out []knot
	for _, k := range c.src.seams() {
		i := sort.Search(len(c.ref), func(i int) bool { return c.ref[i].x > k.x }) - 1
		if i < 0 || i+1 >= len(c.ref) {
			continue
		}
		a, b := c.here[i].x, c.here[i+1].x
		x := root(a, b, c.ref[i].x-k.x, c.ref[i+1].x-k.x, 1e-3, func(x float64) float64 {
			_, at, _ := c.locate(x)
			return at - k.x
		})
		if x <= c.x0 || x >= c.x1 {
			continue
		}
		before, _ := c.stretch(i, k.before)
		after, _ := c.stretch(i, k.after)
		out = append(out, knot{x: x, before: before, after: after, seam: true})
	}
	return out
}

func (c *warpedCurve) Span() (time.Time, time.Time)     { return c.from, c.to }
func (c *warpedCurve) HeightM(t time.Time) float64      { return c.height(seconds(t)) }
func (c *warpedCurve) RateMPerHour(t time.Time) float64 { return c.rate(seconds(t)) }
func (c *warpedCurve) Waters() []Water                  { return waters(c.turns) }
func (c *warpedCurve) Table() []Water                   { return table(c.ref, c.here, c.x0, c.x1) }

func (c *warpedCurve) Crossings(levelM float64) []Crossing {
	ks := []knot{{x: c.x0, before: c.height(c.x0), after: c.height(c.x0)}}
	seams := c.seams()
	for _, t := range c.turns {
		for len(seams) > 0 && seams[0].x < t.x {
			ks, seams = append(ks, seams[0]), seams[1:]
		}
		ks = append(ks, knot{x: t.x, before: t.h, after: t.h})
	}
	ks = append(ks, seams...)
	ks = append(ks, knot{x: c.x1, before: c.height(c.x1), after: c.height(c.x1)})
	return crossings(ks, levelM, c.height)
}
