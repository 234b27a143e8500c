package window_test

import (
	"math"
	"sort"
	"time"

	"pgregory.net/rapid"

	"wrackbook/internal/fault"
	"wrackbook/internal/tide"
)

// cosines is a tide of a few waves, with a naive scanner for its waters and crossings:
// mixed, diurnal, shallow and double-low tides come out of it.
type cosines struct {
	z0M   float64
	waves []wave
}

type wave struct{ amplitudeM, degPerHour, phaseDeg float64 }

// Speeds in degrees an hour of M2, S2, N2, K1, O1, M4 and M6 (Schureman 1940, from memory;
// any would do).
var speeds = []float64{28.9841042, 30, 28.4397295, 15.0410686, 13.9430356, 57.9682084, 86.9523127}

var epoch = at("2027-03-01 00:00")

func (c cosines) heightM(t time.Time) float64 {
	h := c.z0M
	for _, w := range c.waves {
		h += w.amplitudeM * math.Cos((w.degPerHour*t.Sub(epoch).Hours()+w.phaseDeg)*math.Pi/180)
	}
	return h
}

func (c cosines) rateMPerHour(t time.Time) float64 {
	rate := 0.0
	for _, w := range c.waves {
		radPerHour := w.degPerHour * math.Pi / 180
		rate -= w.amplitudeM * radPerHour * math.Sin(radPerHour*t.Sub(epoch).Hours()+w.phaseDeg*math.Pi/180)
	}
	return rate
}

// Curve reaches over some months around the epoch, as the tide room over some years.
func (c cosines) Curve(from, to time.Time) (tide.Curve, error) {
	if from.Before(epoch.AddDate(0, 0, -50)) || to.After(epoch.AddDate(0, 0, 100)) {
		return nil, fault.New(fault.BadInput, "from", "The waves are not followed so far.")
	}
	k := &cosinesCurve{cosines: c, from: from, to: to}
	k.turns = k.scan()
	return k, nil
}

type cosinesCurve struct {
	cosines
	from, to time.Time
	turns    []tide.Water
}

func (k *cosinesCurve) Span() (from, to time.Time)       { return k.from, k.to }
func (k *cosinesCurve) HeightM(t time.Time) float64      { return k.heightM(t) }
func (k *cosinesCurve) RateMPerHour(t time.Time) float64 { return k.rateMPerHour(t) }
func (k *cosinesCurve) Table() []tide.Water              { return k.turns }
func (k *cosinesCurve) Waters() []tide.Water             { return k.turns }
func (k *cosinesCurve) below(levelM float64) func(time.Time) bool {
	return func(t time.Time) bool { return k.heightM(t) < levelM }
}

// scan brackets every change of slope on a grid of six minutes of absolute time, so that
// every span sees the same waters.
func (k *cosinesCurve) scan() []tide.Water {
	const step = 6 * time.Minute
	var waters []tide.Water
	begin := k.from.Truncate(step)
	sign := k.rateMPerHour(begin) > 0
	for t := begin; t.Before(k.to); t = t.Add(step) {
		next := k.rateMPerHour(t.Add(step)) > 0
		if next == sign {
			continue
		}
		turn := bisect(t, t.Add(step), func(u time.Time) bool { return (k.rateMPerHour(u) > 0) == next })
		w := tide.Water{Time: turn, HeightM: math.Round(k.heightM(turn)*1000) / 1000, Kind: tide.High}
		if next {
			w.Kind = tide.Low
		}
		if !w.Time.Before(k.from) && w.Time.Before(k.to) {
			waters = append(waters, w)
		}
		sign = next
	}
	return waters
}

func (k *cosinesCurve) Crossings(levelM float64) []tide.Crossing {
	knots := []time.Time{k.from}
	for _, w := range k.turns {
		knots = append(knots, w.Time)
	}
	knots = append(knots, k.to)
	below := k.below(levelM)
	var crossings []tide.Crossing
	for i := 1; i < len(knots); i++ {
		a, b := knots[i-1], knots[i]
		if below(a) == below(b) {
			continue
		}
		t := bisect(a, b, func(u time.Time) bool { return below(u) == below(b) })
		if t.Before(k.to) {
			crossings = append(crossings, tide.Crossing{Time: t, Rising: below(a)})
		}
	}
	return crossings
}

// bisect finds the second, between a and b, from which passed holds.
func bisect(a, b time.Time, passed func(time.Time) bool) time.Time {
	n := int(b.Sub(a) / time.Millisecond)
	i := sort.Search(n, func(i int) bool { return passed(a.Add(time.Duration(i) * time.Millisecond)) })
	return a.Add(time.Duration(i) * time.Millisecond).Round(time.Second)
}

// anyCosines draws a tide: two waves or more, up to some seven metres of range.
func anyCosines() *rapid.Generator[cosines] {
	return rapid.Custom(func(t *rapid.T) cosines {
		c := cosines{z0M: rapid.Float64Range(0, 4).Draw(t, "z0")}
		n := rapid.IntRange(2, 5).Draw(t, "waves")
		first := rapid.IntRange(0, len(speeds)-1).Draw(t, "first")
		for i := range n {
			c.waves = append(c.waves, wave{
				amplitudeM: rapid.Float64Range(0.05, 1.5).Draw(t, "amplitude") / float64(i+1),
				degPerHour: speeds[(first+i*2)%len(speeds)],
				phaseDeg:   rapid.Float64Range(0, 360).Draw(t, "phase"),
			})
		}
		return c
	})
}
