package seawater

import (
	"wrackbook/internal/fault"
)

// Instrument names what a salinity was read with. The words are the book's.
type Instrument string

const (
	Refractometer     Instrument = "refractometer"
	Hydrometer        Instrument = "hydrometer" // a glass float
	ConductivityMeter Instrument = "conductivity"
)

// Reading is what an instrument showed. The figure alone is no salinity: "1.025" is
// anything from 32.6 to 37.2, by the scale and the temperature.
type Reading struct {
	Value      float64
	Scale      Scale
	Instrument Instrument
	SampleC    *Celsius // of the water while it was read; nil when nobody noted it
}

// Estimate is the salinity that a reading stands for, and between what it may lie. The
// bounds are those of the reading as it was written down, of its scale and of the fineness
// of its instrument; they know nothing of an instrument that is wrong. A refractometer
// divided for brine of table salt, as many are, reads sea water about 1.5 too high (from
// memory): hold it against water of a known 35, not only against fresh.
type Estimate struct {
	Salinity    PSU // the likeliest; the middle where the scale is unknown
	Least, Most PSU
}

// How finely an instrument can be read, in units of salinity: our own choice, from how
// they are divided. A refractometer is divided by 1; a float by 0.0005 or 0.001, which is
// 0.7 or 1.3; a meter is good to one part in a hundred or so.
const (
	refractometerFineness = 1
	hydrometerFineness    = 0.7
	meterFineness         = 0.5
)

// unnotedLeast and unnotedMost are the temperatures between which the water stood when
// nobody noted one: a winter pool and a tropical tank.
const unnotedLeast, unnotedMost Celsius = 0, 30

// Salinity works out what a reading means.
//
// A float's figure is corrected for the temperature of its glass and of the water. A
// refractometer is taken to correct for its own temperature, so the sample's is left out.
// "ppt" is read as the trade uses it, as practical salinity; true grams a kilogram would be
// 0.5 % lower (35.16504 g/kg are 35: Millero and others 2008). A conductivity in mS/cm must
// come with the temperature of the water. Where a float's temperature was not noted, or
// the scale is unknown, the bounds widen to all that it may have been.
func (r Reading) Salinity() (Estimate, error) {
	fineness, err := r.fineness()
	if err != nil {
		return Estimate{}, err
	}
	var e Estimate
	switch r.Scale {
	case Practical, PartsPerThousand:
		e, err = r.direct()
	case ConductivityMS:
		e, err = r.conducted()
	case SGUnknown:
		e, err = r.overScales()
	default:
		var g gravityScale
		if g, err = gravityOf(r.Scale); err == nil {
			e, err = r.onScale(g)
		}
	}
	if err != nil {
		return Estimate{}, err
	}
	e.Least = max(0, e.Least-fineness)
	e.Most += fineness
	return e, nil
}

// fineness checks that the instrument can show such a scale.
func (r Reading) fineness() (PSU, error) {
	switch r.Instrument {
	case Refractometer, Hydrometer:
		if r.Scale == ConductivityMS {
			return 0, fault.New(fault.BadInput, "scale",
				"A %s shows no mS/cm. Choose the scale that stands on it, or the conductivity meter.", string(r.Instrument))
		}
		if r.Instrument == Refractometer {
			return refractometerFineness, nil
		}
		return hydrometerFineness, nil
	case ConductivityMeter:
		return meterFineness, nil
	}
	return 0, fault.New(fault.BadInput, "instrument",
		"%q is no instrument that is known here. Choose refractometer, hydrometer or conductivity.", string(r.Instrument))
}

var shown = limits{"value", "The salinity", "", 0, float64(MostSalinity), seaRange}

func (r Reading) direct() (Estimate, error) {
	s := PSU(r.Value)
	if err := (bound{&shown, float64(s)}).check(); err != nil {
		return Estimate{}, err
	}
	if err := r.checkSample(); err != nil {
		return Estimate{}, err
	}
	e := Estimate{s, s, s}
	if r.Scale == PartsPerThousand {
		e.Least = s * (35 / 35.16504)
	}
	return e, nil
}

func (r Reading) conducted() (Estimate, error) {
	if r.SampleC == nil {
		return Estimate{}, fault.New(fault.BadInput, "temperature",
			"A conductivity in mS/cm says nothing without the temperature of the water. Give it, or 25 if the meter corrects to 25 °C by itself.")
	}
	s, err := SalinityFromConductivity(MilliSiemensPerCm(r.Value), *r.SampleC)
	return Estimate{s, s, s}, err
}

// checkSample checks a sample's temperature that the sum does not need, so that a slip is
// not kept.
func (r Reading) checkSample() error {
	if r.SampleC == nil {
		return nil
	}
	return temperature(*r.SampleC, &eosC)
}

// onScale is the estimate on a known scale of specific gravity.
func (r Reading) onScale(g gravityScale) (Estimate, error) {
	if err := r.checkSample(); err != nil {
		return Estimate{}, err
	}
	if r.Instrument == Hydrometer && r.SampleC != nil {
		s, err := g.salinity(r.Value, *r.SampleC)
		return Estimate{s, s, s}, err
	}
	s, err := g.salinity(r.Value, g.at)
	if err != nil || r.Instrument != Hydrometer {
		return Estimate{s, s, s}, err
	}
	e := Estimate{s, s, s}
	for _, t := range []Celsius{unnotedLeast, unnotedMost} {
		e.widen(g.within(r.Value, t))
	}
	return e, nil
}

// overScales is the estimate when the scale is unknown: all that a known one would say.
func (r Reading) overScales() (Estimate, error) {
	if err := gravity(r.Value).check(); err != nil {
		return Estimate{}, err
	}
	if err := r.checkSample(); err != nil {
		return Estimate{}, err
	}
	var e Estimate
	found := false
	for _, g := range gravityScales {
		one, err := r.onScale(g)
		switch {
		case err != nil: // no sea water, so not this scale
		case !found:
			e, found = one, true
		default:
			e.widen(one.Least)
			e.widen(one.Most)
		}
	}
	if !found {
		return Estimate{}, fault.New(fault.BadInput, "value",
			"A specific gravity of %s is no sea water on any scale. Check the reading and the temperature.", plain(r.Value))
	}
	e.Salinity = (e.Least + e.Most) / 2
	return e, nil
}

// within is the salinity of a reading at a temperature that is only supposed: where that
// gives no sea water, the nearest that is one.
func (g gravityScale) within(reading float64, t Celsius) PSU {
	rho := KgPerM3(reading/g.stretch(t)) * g.freshDensity()
	rho = min(max(rho, density(0, t)), density(MostSalinity, t))
	return PSU(solve(0, float64(MostSalinity), float64(rho), func(s float64) float64 { return float64(density(PSU(s), t)) }))
}

// widen takes a salinity into the bounds.
func (e *Estimate) widen(s PSU) { e.Least, e.Most = min(e.Least, s), max(e.Most, s) }
