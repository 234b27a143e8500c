package seawater

import (
	"math"

	"wrackbook/internal/fault"
)

// The range of PSS-78.
const (
	leastPractical PSU     = 2
	warmestPSS     Celsius = 35

	// standardConductivity is C(35, 15 °C, 0), mS/cm: Culkin and Smith 1980, as TEOS-10
	// takes it. PSS-78 itself knows only ratios.
	standardConductivity = 42.914
)

// SalinityFromConductivity gives the salinity from the conductivity that a meter shows at
// the water's own temperature (-2 to 35 °C), not corrected to another. A meter that
// corrects to 25 °C by itself is to be read as if the water were at 25 °C. Sea water does
// not follow such a correction: one of 1.9 % a degree costs up to 0.2 of salinity from 10
// to 30 °C, one of 2 % costs 0.4 at 15 °C and 1 at 10.
//
// Source: PSS-78 at one atmosphere (UNESCO Technical Papers in Marine Science 44, 1983).
// The scale is defined by this formula from 2 to 42, so it has no error of its own; what is
// outside is refused. One per cent of conductivity is about 0.4 of salinity.
func SalinityFromConductivity(c MilliSiemensPerCm, t Celsius) (PSU, error) {
	if err := temperature(t, &pssC); err != nil {
		return 0, err
	}
	if err := (bound{&conductivities, float64(c)}).check(); err != nil {
		return 0, err
	}
	s := practical(float64(c)/standardConductivity/ratio35(t.t68()), t.t68())
	switch {
	case s < leastPractical-practicalSlack:
		return 0, fault.New(fault.BadInput, "conductivity",
			"A conductivity of %s mS/cm at %s °C is a salinity under 2, where the practical scale begins. Call it fresh water, or check the unit: it must be mS/cm, not µS/cm.",
			plain(float64(c)), plain(float64(t)))
	case s > MostSalinity+practicalSlack:
		return 0, fault.New(fault.BadInput, "conductivity",
			"A conductivity of %s mS/cm at %s °C is a salinity over 42, where the practical scale ends. Check the reading and the temperature.",
			plain(float64(c)), plain(float64(t)))
	}
	return min(max(s, leastPractical), MostSalinity), nil
}

const (
	pssRange       = "the range of the practical salinity scale"
	practicalSlack = 1e-9 // what going there and back may cost at the ends of the scale
)

var (
	conductivities = limits{"conductivity", "The conductivity", " mS/cm", 0, 110, ""} // 110 is brine
	pssSalinity    = limits{"salinity", "The salinity", "", float64(leastPractical), float64(MostSalinity), pssRange}
	pssC           = limits{"temperature", "The temperature", " °C", float64(ColdestC), float64(warmestPSS), pssRange}
)

// Conductivity gives the conductivity, mS/cm, that sea water of a salinity (2 to 42) has at
// a temperature (-2 to 35 °C): the inverse of SalinityFromConductivity, to 1e-9 mS/cm.
func Conductivity(s PSU, t Celsius) (MilliSiemensPerCm, error) {
	err := bound{&pssSalinity, float64(s)}.check()
	if err != nil {
		return 0, err
	}
	if err := temperature(t, &pssC); err != nil {
		return 0, err
	}
	t68 := t.t68()
	// Rt is 0.05 at a salinity of 2 and 1.2 at 42.
	rt := solve(0, 2, float64(s), func(rt float64) float64 { return float64(practical(rt, t68)) })
	return MilliSiemensPerCm(rt * ratio35(t68) * standardConductivity), nil
}

// ratio35 is rt, the conductivity of standard sea water at a temperature (IPTS-68) over
// that at 15 °C.
func ratio35(t float64) float64 {
	return 0.6766097 + t*(2.00564e-2+t*(1.104259e-4+t*(-6.9698e-7+t*1.0031e-9)))
}

// practical is the salinity from Rt, the conductivity over that of standard sea water at
// the same temperature (IPTS-68) and pressure.
func practical(rt, t float64) PSU {
	x := math.Sqrt(rt)
	s := 0.0080 + x*(-0.1692+x*(25.3851+x*(14.0941+x*(-7.0261+x*2.7081))))
	d := 0.0005 + x*(-0.0056+x*(-0.0066+x*(-0.0375+x*(0.0636-x*0.0144))))
	return PSU(s + (t-15)/(1+0.0162*(t-15))*d)
}
