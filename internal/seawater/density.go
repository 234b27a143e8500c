package seawater

import (
	"math"

	"wrackbook/internal/fault"
)

// The range of EOS-80 at one atmosphere.
const (
	MostSalinity PSU     = 42
	ColdestC     Celsius = -2
	WarmestC     Celsius = 40
)

// Density gives the density of sea water, kg/m³, from its salinity (0 to 42) and its
// temperature (-2 to 40 °C).
//
// Source: EOS-80 at one atmosphere (Millero and Poisson 1981; UNESCO Technical Papers in
// Marine Science 44, 1983), whose fit has a standard error of 0.0036 kg/m³ (from memory of
// the paper). Against TEOS-10 it stands within 0.005 kg/m³ for 4 to 29 °C: 0.007 of
// salinity, a hundredth of a step on a fine float.
func Density(s PSU, t Celsius) (KgPerM3, error) {
	if err := salinity(s).check(); err != nil {
		return 0, err
	}
	if err := temperature(t, &eosC); err != nil {
		return 0, err
	}
	return density(s, t), nil
}

var (
	eosC      = limits{"temperature", "The temperature", " °C", float64(ColdestC), float64(WarmestC), "the range of the equation of state of sea water"}
	densities = limits{"density", "The density", " kg/m³", 900, 1200, ""}
)

// density is Density without its checks.
func density(s PSU, at Celsius) KgPerM3 {
	t, S := at.t68(), float64(s)
	pure := 999.842594 + t*(6.793952e-2+t*(-9.095290e-3+t*(1.001685e-4+t*(-1.120083e-6+t*6.536332e-9))))
	a := 8.24493e-1 + t*(-4.0899e-3+t*(7.6438e-5+t*(-8.2467e-7+t*5.3875e-9)))
	b := -5.72466e-3 + t*(1.0227e-4-t*1.6546e-6)
	const c = 4.8314e-4
	return KgPerM3(pure + S*(a+b*math.Sqrt(S)+c*S))
}

// SalinityFromDensity gives the salinity of sea water from its density (kg/m³) and its
// temperature (-2 to 40 °C): the inverse of Density, to 1e-8 of salinity. A density that no
// sea water between 0 and 42 has is refused.
func SalinityFromDensity(rho KgPerM3, t Celsius) (PSU, error) {
	if err := temperature(t, &eosC); err != nil {
		return 0, err
	}
	if err := (bound{&densities, float64(rho)}).check(); err != nil {
		return 0, err
	}
	return salinityFromDensity(rho, t, "density", "A density of "+plain(float64(rho))+" kg/m³")
}

// densitySlack, kg/m³, lets a figure pass that rounding has put a hair below fresh water
// or above 42.
const densitySlack = 1e-6

// salinityFromDensity refuses what is no sea water, speaking of the reading as the person
// gave it.
func salinityFromDensity(rho KgPerM3, t Celsius, field, what string) (PSU, error) {
	switch {
	case rho < density(0, t)-densitySlack:
		return 0, fault.New(fault.BadInput, field,
			"%s at %s °C is lighter than fresh water. Check the reading, its scale and the temperature.", what, plain(float64(t)))
	case rho > density(MostSalinity, t)+densitySlack:
		return 0, fault.New(fault.BadInput, field,
			"%s at %s °C is saltier than %s, where the formulae for sea water end. Check the reading, its scale and the temperature.",
			what, plain(float64(t)), plain(float64(MostSalinity)))
	}
	return PSU(solve(0, float64(MostSalinity), float64(rho), func(s float64) float64 {
		return float64(density(PSU(s), t))
	})), nil
}

// MassOf gives the mass of a volume of sea water. The volume is at most 1 000 000 L; salinity
// and temperature as for Density. 1 L of sea water at 35 and 20 °C is 1.025 kg.
func MassOf(v Litres, s PSU, t Celsius) (Kilograms, error) {
	if err := volume(v).check(); err != nil {
		return 0, err
	}
	rho, err := Density(s, t)
	return Kilograms(float64(v) * float64(rho) / 1000), err
}

// VolumeOf gives the volume of a mass of sea water; the inverse of MassOf.
func VolumeOf(m Kilograms, s PSU, t Celsius) (Litres, error) {
	if err := mass(m).check(); err != nil {
		return 0, err
	}
	rho, err := Density(s, t)
	if err != nil {
		return 0, err
	}
	return Litres(float64(m) * 1000 / float64(rho)), nil
}

// The most water that is spoken of: what the book takes as a volume, and what that weighs.
const (
	mostLitres    = 1_000_000
	mostKilograms = 1_100_000
)

var (
	volumes  = limits{"volume", "The volume", " L", 0, mostLitres, ""}
	masses   = limits{"mass", "The mass of water", " kg", 0, mostKilograms, ""}
	bothMass = limits{"mass", "The mass of both waters", " kg", 0, mostKilograms, ""}
	lostMass = limits{"lost", "The water lost", " kg", 0, mostKilograms, ""}
)

func volume(v Litres) bound { return bound{&volumes, float64(v)} }

func mass(m Kilograms) bound { return bound{&masses, float64(m)} }
