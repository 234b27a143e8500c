package tide

import (
	"math"
	"time"

	"wrackbook/internal/fault"
)

// Practice names how node factors follow time. It belongs to the source of a station's
// constants, which were fitted under it.
type Practice string

const (
	// Yearly freezes f and u at the middle of each calendar year (2 July 12:00 UT) and
	// lets every argument run at its tabulated speed from 1 January 00:00 UT, where it
	// steps. It reproduces the tables of NOAA CO-OPS.
	Yearly Practice = "yearly"
	// Daily takes f and u at each midnight UT, smoothly between, and the arguments from
	// the mean longitudes of the day: for constants fitted with time-varying nodal terms.
	Daily Practice = "daily"
)

// Years for which predictions are made: the mean longitudes are polynomials about 1900.
const (
	FirstYear = 1900
	LastYear  = 2100
)

// MaxSpan bounds one curve; at two values a half hour it holds the memory of a request
// under 8 MB.
const MaxSpan = 12 * 366 * 24 * time.Hour

// Harmonic predicts the tide of a reference station. It is immutable.
type Harmonic struct {
	z0M      float64
	practice Practice
	terms    []term
}

type term struct {
	c        *Constituent
	nodes    []part
	quarters float64 // constant part of the argument, quarter turns
	ampM     float64
	lagRad   float64
	speed    float64 // radians a second
	withoutP bool    // M1: the argument leaves p to u, see arguments
}

// NewHarmonic takes mean sea level above chart datum z0M (metres, -50 to 50), the
// constants of a station and the practice of their source. Errors: fault.UnknownConstituent
// for a name, also one with no node factor we have a source for; fault.BadInput for a
// figure out of range or a name given twice.
func NewHarmonic(z0M float64, constants []Constant, practice Practice) (*Harmonic, error) {
	if !(math.Abs(z0M) <= 50) {
		return nil, fault.New(fault.BadInput, "msl", "Mean sea level must be within 50 m of chart datum.")
	}
	if practice != Yearly && practice != Daily {
		return nil, fault.New(fault.BadInput, "practice", "The practice is %q or %q.", Yearly, Daily)
	}
	h := &Harmonic{z0M: z0M, practice: practice}
	seen := map[*Constituent]bool{}
	for _, k := range constants {
		c, err := Lookup(k.Name)
		if err != nil {
			return nil, err
		}
		parts, ok := c.parts()
		if !ok {
			return nil, fault.New(fault.UnknownConstituent, "constituents",
				"The constituent %s has no node factor that Wrackbook has a source for. Leave it out and say so.", c.Name)
		}
		if seen[c] {
			return nil, fault.New(fault.BadInput, "constituents", "The constituent %s is given twice.", c.Name)
		}
		seen[c] = true
		if !(k.AmplitudeM >= 0 && k.AmplitudeM <= 20) || !(math.Abs(k.PhaseDeg) <= 720) {
			return nil, fault.New(fault.BadInput, "constituents",
				"The constant %s is out of range: amplitude 0 to 20 m, phase lag in degrees.", c.Name)
		}
		t := term{c: c, nodes: parts, quarters: c.quarters(), ampM: k.AmplitudeM, lagRad: k.PhaseDeg * rad, speed: c.SpeedDegPerHour * rad / 3600}
		if c.Name == "M1" {
			t.withoutP = true
			if practice == Daily {
				// p's share of M1's speed comes with u. TICON-4, the source of this
				// practice that has an M1, counts its argument a quarter turn less than
				// NOAA does: TestM1OfTwoSources.
				t.quarters--
				t.speed = (c.SpeedDegPerHour - pDegPerHour) * rad / 3600
			}
		}
		h.terms = append(h.terms, t)
	}
	return h, nil
}

const pDegPerHour = 0.1114040803 / 24 // mean motion of the lunar perigee

// argument is V of a term in radians from the longitudes at a Unix time.
func (t *term) argument(l longitudes, unix float64) float64 {
	d := t.c.Doodson
	v := float64(d[0])*l.tau(unix) + float64(d[1])*l.s + float64(d[2])*l.h +
		float64(d[4])*l.np + float64(d[5])*l.p1 + t.quarters*90
	if !t.withoutP {
		v += float64(d[3]) * l.p
	}
	return wrap360(v) * rad
}

// quarters is the constant part of a constituent's argument in quarter turns; a
// compound's is its members', which the list's own row does not always repeat.
func (c *Constituent) quarters() float64 {
	if len(c.Members) == 0 {
		return float64(c.quarter)
	}
	q := 0.0
	for _, m := range c.Members {
		q += float64(m.N) * float64(byName[upper(m.Name)].quarter)
	}
	return q
}

// Curve implements Tide.
func (h *Harmonic) Curve(from, to time.Time) (Curve, error) {
	if err := checkSpan(from, to); err != nil {
		return nil, err
	}
	c := &harmonicCurve{from: from.UTC(), to: to.UTC(), x0: seconds(from), x1: seconds(to)}
	for _, part := range h.stretches(c.x0, c.x1) {
		c.regions = append(c.regions, h.region(part))
	}
	c.findTurns()
	return c, nil
}

func checkSpan(from, to time.Time) error {
	switch {
	case !to.After(from):
		return fault.New(fault.BadInput, "to", "The end must come after the beginning.")
	case from.Year() < FirstYear || to.Year() > LastYear:
		return fault.New(fault.BadInput, "from", "Predictions are made for the years %d to %d.", FirstYear, LastYear)
	case to.Sub(from) > MaxSpan:
		return fault.New(fault.SpanTooLong, "to", "The span is too long: at most %d days at once.", int(MaxSpan.Hours()/24))
	}
	return nil
}

// seconds is a time as Unix seconds with its fraction: good to 0.3 µs in our years.
func seconds(t time.Time) float64 {
	return float64(t.Unix()) + float64(t.Nanosecond())*1e-9
}

// instant rounds Unix seconds to a time in whole seconds, UTC.
func instant(x float64) time.Time {
	return time.Unix(int64(math.Round(x)), 0).UTC()
}

// stretch is a time over which the arguments run without a step: whole half hours.
type stretch struct{ start, end int64 }

// stretches cuts [x0, x1] at 1 January where the practice steps there.
func (h *Harmonic) stretches(x0, x1 float64) []stretch {
	start := floorTo(x0, nodeStep)
	end := floorTo(x1, nodeStep)
	if float64(end) < x1 {
		end += nodeStep
	}
	if h.practice == Daily {
		return []stretch{{start, end}}
	}
	var out []stretch
	for start < end {
		y := time.Unix(start, 0).UTC().Year()
		next := time.Date(y+1, 1, 1, 0, 0, 0, 0, time.UTC).Unix()
		out = append(out, stretch{start, min(end, next)})
		start = next
	}
	return out
}

func floorTo(x float64, step int64) int64 {
	return int64(math.Floor(x/float64(step))) * step
}

// region reckons the nodes of a stretch: the height and its first two derivatives every
// half hour, each constituent a phasor that is turned by complex multiplication and set
// anew from its argument at every block's start, so that rounding cannot gather.
func (h *Harmonic) region(p stretch) region {
	n := int((p.end-p.start)/nodeStep) + 1
	r := region{start: p.start, h: make([]float64, n), d: make([]float64, n), a: make([]float64, n)}
	for i := range r.h {
		r.h[i] = h.z0M
	}
	if h.practice == Yearly {
		h.fillYear(&r)
	} else {
		h.fillDays(&r)
	}
	return r
}

// yearBlock is how many nodes a phasor turns before it is set anew: drift stays under
// yearBlock × 2⁻⁵² of the amplitude, far below the 0.1 mm allowed.
const yearBlock = 512

func (h *Harmonic) fillYear(r *region) {
	year := time.Unix(r.start, 0).UTC().Year()
	origin := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC).Unix()
	mid := nodesAt(float64(time.Date(year, 7, 2, 12, 0, 0, 0, time.UTC).Unix()))
	l := meanLongitudes(float64(origin))
	type turning struct{ amp, phase, stepCos, stepSin float64 }
	turnings := make([]turning, len(h.terms))
	for i := range h.terms {
		t := &h.terms[i]
		nd := mid.of(t.nodes)
		stepSin, stepCos := math.Sincos(t.speed * nodeStep)
		turnings[i] = turning{t.ampM * nd.f(), t.argument(l, float64(origin)) + nd.u*rad - t.lagRad, stepCos, stepSin}
	}
	// Block by block, so that the nodes at work stay in the processor's first cache.
	for k := 0; k < len(r.h); k += yearBlock {
		at := float64(r.start-origin) + float64(k)*nodeStep
		for i, t := range turnings {
			speed := h.terms[i].speed
			s, c := math.Sincos(t.phase + speed*at)
			r.turn(k, min(k+yearBlock, len(r.h)), t.amp*c, t.amp*s, t.stepCos, t.stepSin, speed)
		}
	}
}

const day = 86400

func (h *Harmonic) fillDays(r *region) {
	first := floorTo(float64(r.start), day)
	at := nodesAt(float64(first))
	// Between midnights f grows and u turns steadily.
	for midnight := first; ; midnight += day {
		lo := max(0, int((midnight-r.start)/nodeStep))
		if lo >= len(r.h) {
			return
		}
		hi := min(int((midnight+day-r.start)/nodeStep), len(r.h))
		next := nodesAt(float64(midnight + day))
		l := meanLongitudes(float64(midnight))
		into := float64(r.start + int64(lo)*nodeStep - midnight)
		for i := range h.terms {
			t := &h.terms[i]
			n0, n1 := at.of(t.nodes), next.of(t.nodes)
			grow := (n1.lnF - n0.lnF) / day
			turn := math.Remainder(n1.u-n0.u, 360) * rad / day
			speed := t.speed + turn
			amp := t.ampM * math.Exp(n0.lnF+grow*into)
			s, c := math.Sincos(t.argument(l, float64(midnight)) + n0.u*rad - t.lagRad + speed*into)
			g := math.Exp(grow * nodeStep)
			stepSin, stepCos := math.Sincos(speed * nodeStep)
			r.turn(lo, hi, amp*c, amp*s, g*stepCos, g*stepSin, t.speed)
		}
		at = next
	}
}

// turn adds one phasor's part to the nodes [lo, hi): re + i·im at node lo, multiplied by
// c + i·s from node to node; speed in radians a second gives the derivatives, which leave
// out the slow change of f and u.
func (r *region) turn(lo, hi int, re, im, c, s, speed float64) {
	w := speed * nodeStep
	w2 := w * w
	hh, dd, aa := r.h[lo:hi], r.d[lo:hi], r.a[lo:hi]
	dd, aa = dd[:len(hh)], aa[:len(hh)]
	// Four phasors, one node apart, each turned by four steps at a time: their chains of
	// multiplications are independent, which a processor does side by side.
	c2, s2 := c*c-s*s, 2*c*s
	c4, s4 := c2*c2-s2*s2, 2*c2*s2
	re1, im1 := re*c-im*s, re*s+im*c
	re2, im2 := re*c2-im*s2, re*s2+im*c2
	re3, im3 := re1*c2-im1*s2, re1*s2+im1*c2
	k := 0
	for ; k+3 < len(hh); k += 4 {
		h4, d4, a4 := hh[k:k+4:k+4], dd[k:k+4:k+4], aa[k:k+4:k+4]
		h4[0] += re
		d4[0] -= w * im
		a4[0] -= w2 * re
		h4[1] += re1
		d4[1] -= w * im1
		a4[1] -= w2 * re1
		h4[2] += re2
		d4[2] -= w * im2
		a4[2] -= w2 * re2
		h4[3] += re3
		d4[3] -= w * im3
		a4[3] -= w2 * re3
		re, im = re*c4-im*s4, re*s4+im*c4
		re1, im1 = re1*c4-im1*s4, re1*s4+im1*c4
		re2, im2 = re2*c4-im2*s4, re2*s4+im2*c4
		re3, im3 = re3*c4-im3*s4, re3*s4+im3*c4
	}
	for ; k < len(hh); k++ {
		hh[k] += re
		dd[k] -= w * im
		aa[k] -= w2 * re
		re, im = re*c-im*s, re*s+im*c
	}
}
