package settle

import (
	"math"
	"time"

	"wrackbook/internal/fault"
)

// How near the display must be to the quarantine, and how old the readings of both may be:
// what a batch is prepared to, and the longest gap between two checks.
const (
	fitSalinity = 1.0
	fitC        = 2.0
	fitAge      = 48 * time.Hour
)

// Fit is how a display suits a specimen. Missing words, beside those of the specimen's own
// clearance:
//
//	display               it is no display, or in a system that is stopped
//	salinity, temperature unlike the quarantine's by more than 1, or 2 °C
//	salinity reading, temperature reading: not read within 48 hours in both, or on no known scale
//	display salinity, display temperature: outside what the display is kept within
type Fit struct {
	Specimen string    `json:"specimen"`
	Tank     string    `json:"tank"`
	Missing  []string  `json:"missing"`
	Cautions []Caution `json:"cautions"` // companions known to harm each other; no ban
	GapPSU   *float64  `json:"gap"`      // display less quarantine
	GapC     *float64  `json:"gapC"`
}

// Fits holds a display to a specimen that is to be cleared into it. A quarantine that is
// its own display, and so graduates in place, needs no comparison. The error is a
// *fault.Error for a specimen or tank that is not on file.
func (p *Picture) Fits(specimen, tank string) (*Fit, error) {
	w := p.walk
	l := w.lots[specimen]
	if l == nil || w.book.Specimens[specimen] == nil || !l.alive {
		return nil, fault.New(fault.BadInput, "specimen", "That specimen is not in any tank. Note its arrival first.")
	}
	if w.book.Tanks[tank] == nil {
		return nil, fault.New(fault.BadInput, "tank", "That tank is not on file. Choose the display it is to go to.")
	}
	f := &Fit{Specimen: specimen, Tank: tank, Missing: []string{}}
	need := func(word string, lacking bool) {
		if lacking {
			f.Missing = append(f.Missing, word)
		}
	}
	from, to := w.at(l.tank), w.at(tank)
	f.Cautions = quarrels(l, w.sorted(w.residents(to)))
	if from == to {
		return f, nil
	}
	need("display", w.vessel(tank).use != "display" || to.stopped())
	a, b := w.lastRead(from), w.lastRead(to)
	keeps := w.book.Tanks[tank].Keeps
	need("salinity reading", a.salinity == nil || b.salinity == nil)
	if a.salinity != nil && b.salinity != nil {
		gap := rounded(*b.salinity-*a.salinity, 1000)
		f.GapPSU = &gap
		need("salinity", math.Abs(gap) > fitSalinity)
	}
	need("temperature reading", a.c == nil || b.c == nil)
	if a.c != nil && b.c != nil {
		gap := rounded(*b.c-*a.c, 100)
		f.GapC = &gap
		need("temperature", math.Abs(gap) > fitC)
	}
	if keeps != nil {
		need("display salinity", b.salinity != nil && (*b.salinity < keeps.SalinityLow || *b.salinity > keeps.SalinityHigh))
		need("display temperature", b.c != nil && (*b.c < keeps.LowC || *b.c > keeps.HighC))
	}
	return f, nil
}

type lastRead struct {
	salinity, c     *float64
	salinityAt, cAt time.Time
}

// widest is how wide the bounds of a salinity may be: wider, and its scale is not known.
const widest = 4

// lastRead is what was last read of a system within 48 hours.
func (w *walk) lastRead(x *water) lastRead {
	var last lastRead
	for i := range w.book.Readings {
		r := &w.book.Readings[i]
		at := r.Sample.At
		if at.After(w.now) || w.now.Sub(at) > fitAge || w.waterOf(r.Sample.Of) != x {
			continue
		}
		if r.TemperatureC != nil && !at.Before(last.cAt) {
			last.c, last.cAt = r.TemperatureC, at
		}
		if r.Salinity == nil || at.Before(last.salinityAt) {
			continue
		}
		last.salinity, last.salinityAt = nil, at
		if e, err := r.Salinity.Estimate(); err == nil && e.Most-e.Least <= widest {
			s := float64(e.Salinity)
			last.salinity = &s
		}
	}
	return last
}
