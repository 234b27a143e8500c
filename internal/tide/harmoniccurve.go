package tide

import (
	"math"
	"sort"
	"time"
)

// harmonicCurve is the prediction at a reference station over a span.
type harmonicCurve struct {
	from, to time.Time
	x0, x1   float64
	regions  []region
	turns    []turnPoint
}

// turnPoint is a high or low water before rounding.
type turnPoint struct {
	x, h float64 // Unix seconds, metres
	kind Kind
	seam bool // it stands on a step at 1 January
}

func (c *harmonicCurve) Span() (time.Time, time.Time) { return c.from, c.to }

// regionAt finds the region of a Unix time; at a step the later one, but at the very end
// of the curve the last.
func (c *harmonicCurve) regionAt(x float64) *region {
	i := sort.Search(len(c.regions), func(i int) bool { return float64(c.regions[i].start) > x }) - 1
	return &c.regions[max(i, 0)]
}

func (c *harmonicCurve) height(x float64) float64 {
	r := c.regionAt(x)
	i, u := r.at(x)
	q := r.cell(i)
	return q.height(u)
}

func (c *harmonicCurve) HeightM(t time.Time) float64 { return c.height(seconds(t)) }

func (c *harmonicCurve) rate(x float64) float64 {
	r := c.regionAt(x)
	i, u := r.at(x)
	q := r.cell(i)
	return q.slope(u) * 3600 / nodeStep
}

func (c *harmonicCurve) RateMPerHour(t time.Time) float64 { return c.rate(seconds(t)) }

func (c *harmonicCurve) Waters() []Water { return waters(c.turns) }

func (c *harmonicCurve) Table() []Water { return table(c.turns, c.turns, c.x0, c.x1) }

func (c *harmonicCurve) Crossings(levelM float64) []Crossing {
	return crossings(c.knots(), levelM, c.height)
}

// findTurns brackets the zeros of the slope cell by cell.
func (c *harmonicCurve) findTurns() {
	var all []turnPoint
	for k := range c.regions {
		r := &c.regions[k]
		if k > 0 {
			prev := &c.regions[k-1]
			rising, then := prev.d[len(prev.d)-1] > 0, r.d[0] > 0
			if rising != then {
				all = append(all, turnPoint{float64(r.start), r.h[0], kindAfter(rising), true})
			}
		}
		for i := 0; i+1 < len(r.h); i++ {
			all = r.turnsIn(i, all)
		}
	}
	all = settleSeams(all)
	for _, t := range all {
		if t.x >= c.x0 && t.x < c.x1 {
			c.turns = append(c.turns, t)
		}
	}
}

func kindAfter(rising bool) Kind {
	if rising {
		return High
	}
	return Low
}

// turnsIn appends the zeros of the slope in cell i: one where the slope's sign differs at
// its ends, and two where a dip of the slope between them passes zero.
func (r *region) turnsIn(i int, out []turnPoint) []turnPoint {
	d0, d1 := r.d[i], r.d[i+1]
	if (d0 > 0) != (d1 > 0) {
		q := r.cell(i)
		return append(out, r.turnAt(i, &q, 0, 1))
	}
	a0, a1 := r.a[i], r.a[i+1]
	towards := (d0 > 0) == (a0 < 0) // the slope first heads for zero
	if !towards || (a0 > 0) == (a1 > 0) || math.Abs(d0) > math.Abs(a0) {
		return out
	}
	q := r.cell(i)
	u := root(0, 1, a0, a1, 1e-9, q.curvature)
	if (q.slope(u) > 0) == (d0 > 0) {
		return out
	}
	return append(out, r.turnAt(i, &q, 0, u), r.turnAt(i, &q, u, 1))
}

func (r *region) turnAt(i int, q *cell, a, b float64) turnPoint {
	fa := q.slope(a)
	u := root(a, b, fa, q.slope(b), 1e-8, q.slope)
	return turnPoint{float64(r.start) + (float64(i)+u)*nodeStep, q.height(u), kindAfter(fa > 0), false}
}

// near is how close to a step at 1 January a water must stand on either side for the
// three to be one water that the step split. The step moves a water by a few minutes.
const near = 2 * 3600

// settleSeams joins what a step at 1 January has split: high, seam low, high within hours
// of each other are one high water, the higher of the two.
func settleSeams(ts []turnPoint) []turnPoint {
	out := ts[:0]
	for i := 0; i < len(ts); i++ {
		t := ts[i]
		if t.seam && len(out) > 0 && i+1 < len(ts) &&
			t.x-out[len(out)-1].x <= near && ts[i+1].x-t.x <= near {
			last := &out[len(out)-1]
			if (ts[i+1].h > last.h) == (last.kind == High) {
				*last = ts[i+1]
			}
			i++
			continue
		}
		out = append(out, t)
	}
	return out
}

// knots are the instants between which the curve runs one way.
func (c *harmonicCurve) knots() []knot {
	ks := []knot{{x: c.x0, before: c.height(c.x0), after: c.height(c.x0)}}
	seam := 1
	for _, t := range c.turns {
		for ; seam < len(c.regions) && float64(c.regions[seam].start) <= t.x; seam++ {
			if k := c.seam(seam); k.x < t.x {
				ks = append(ks, k)
			}
		}
		k := knot{x: t.x, before: t.h, after: t.h}
		if t.seam {
			k = c.seam(seam - 1)
		}
		ks = append(ks, k)
	}
	for ; seam < len(c.regions); seam++ {
		ks = append(ks, c.seam(seam))
	}
	return append(ks, knot{x: c.x1, before: c.height(c.x1), after: c.height(c.x1)})
}

func (c *harmonicCurve) seam(k int) knot {
	prev := &c.regions[k-1]
	return knot{x: float64(c.regions[k].start), before: prev.h[len(prev.h)-1], after: c.regions[k].h[0], seam: true}
}

// heights fills out with the height every step seconds from x, cell by cell.
func (c *harmonicCurve) heights(x, step float64, out []float64) {
	for k := 0; k < len(out); {
		at := x + float64(k)*step
		r := c.regionAt(at)
		i, u := r.at(at)
		q := r.cell(i)
		out[k] = q.height(u)
		begin := at - u*nodeStep
		for k++; k < len(out); k++ {
			u = (x + float64(k)*step - begin) * (1.0 / nodeStep)
			if u >= 1 {
				break
			}
			out[k] = q.height(u)
		}
	}
}
