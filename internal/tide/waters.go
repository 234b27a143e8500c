package tide

import (
	"math"
	"time"
)

// milli rounds metres to the millimetre, so that a build with fused arithmetic decides as
// every other.
func milli(m float64) float64 { return math.Round(m*1000) / 1000 }

func waters(ts []turnPoint) []Water {
	out := make([]Water, len(ts))
	for i, t := range ts {
		out[i] = Water{Time: instant(t.x), HeightM: milli(t.h), Kind: t.kind}
	}
	return out
}

// Limits of the pair of waters that a printed table leaves out: both must hold. Found by
// fitting NOAA's own tables (testdata/tides/noaa): none of their waters is missing then
// and none is extra.
const (
	tablePairM       = 0.03048 // a tenth of a foot
	tablePairSeconds = 2 * 3600
)

// printed marks the waters that a table keeps: a neighbouring pair less than 0.1 ft and
// less than two hours apart is left out, the flattest first. At a secondary port the
// reference station's waters decide, before its differences are applied: NOAA prints
// pairs at Point Pinellas that are 1 h 57 min and 0.1 ft apart there, and 2 h 04 min at
// its reference station.
func printed(ts []turnPoint) []bool {
	keep := make([]bool, len(ts))
	var left []int // indexes still in
	for i := range ts {
		keep[i] = true
		left = append(left, i)
	}
	for {
		drop, least := -1, math.Inf(1)
		for i := 0; i+1 < len(left); i++ {
			a, b := ts[left[i]], ts[left[i+1]]
			rise := math.Abs(b.h - a.h)
			if rise < tablePairM && b.x-a.x < tablePairSeconds && rise < least {
				drop, least = i, rise
			}
		}
		if drop < 0 {
			return keep
		}
		keep[left[drop]], keep[left[drop+1]] = false, false
		left = append(left[:drop], left[drop+2:]...)
	}
}

// table rounds those waters that a table keeps and that lie in [x0, x1): of places
// decides, at gives the water.
func table(decides, at []turnPoint, x0, x1 float64) []Water {
	var out []turnPoint
	for i, keep := range printed(decides) {
		if keep && at[i].x >= x0 && at[i].x < x1 {
			out = append(out, at[i])
		}
	}
	return waters(out)
}

// knot is a point of a curve between which and the next the curve runs one way. At a step
// of the yearly practice the heights before and after differ.
type knot struct {
	x, before, after float64
	seam             bool
}

// crossings finds the passages of a level between knots. Signs are taken from heights
// rounded to the millimetre; a height at the level counts as above it.
func crossings(ks []knot, levelM float64, height func(x float64) float64) []Crossing {
	type passage struct {
		x      float64
		rising bool
		seam   bool
	}
	above := func(h float64) bool { return milli(h) >= levelM }
	var ps []passage
	for i := 0; i+1 < len(ks); i++ {
		a, b := ks[i], ks[i+1]
		if i > 0 && a.seam && above(a.before) != above(a.after) {
			ps = append(ps, passage{a.x, above(a.after), true})
		}
		if above(a.after) == above(b.before) {
			continue
		}
		fa, fb := a.after-levelM, b.before-levelM
		x := 0.0
		if (fa >= 0) == (fb >= 0) {
			// Only the rounding to the millimetre lies between: the end nearer the level.
			x = a.x
			if math.Abs(fb) < math.Abs(fa) {
				x = b.x
			}
		} else {
			x = root(a.x, b.x, fa, fb, 0.01, func(x float64) float64 { return height(x) - levelM })
		}
		ps = append(ps, passage{x, above(b.before), false})
	}
	// A step at 1 January may split one passage into three: it counts once, at the moment
	// that leaves the shore bare for the shorter time.
	out := make([]Crossing, 0, len(ps))
	for i := 0; i < len(ps); i++ {
		p := ps[i]
		if i+2 < len(ps) && ps[i+1].seam && ps[i+1].x-p.x <= near && ps[i+2].x-ps[i+1].x <= near {
			if !p.rising {
				p = ps[i+2]
			}
			i += 2
		}
		out = append(out, Crossing{Time: instant(p.x), Rising: p.rising})
	}
	return out
}

// Series gives n heights in metres above chart datum, the first at from and one every
// step; all must lie within the curve's span.
func Series(c Curve, from time.Time, every time.Duration, n int) []float64 {
	out := make([]float64, n)
	if h, ok := c.(*harmonicCurve); ok {
		h.heights(seconds(from), every.Seconds(), out)
		return out
	}
	for i := range out {
		out[i] = c.HeightM(from.Add(time.Duration(i) * every))
	}
	return out
}
