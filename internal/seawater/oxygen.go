package seawater

import "math"

// OxygenSaturation gives the oxygen that sea water holds in balance with moist air at one
// atmosphere, µmol/kg, from its temperature (-2 to 40 °C) and salinity (0 to 42).
//
// Source: Garcia and Gordon 1992, Limnology and Oceanography 37, 1307, in their fit to the
// data of Benson and Krause 1984, without the term that their equation 8 has by misprint.
// The fit keeps to those data within 0.1 %. Low air pressure takes from it: about 1 % for
// every 10 hPa under 1013, or for every 85 m of height.
func OxygenSaturation(t Celsius, s PSU) (MicromolPerKg, error) {
	if err := salinity(s).check(); err != nil {
		return 0, err
	}
	if err := temperature(t, &oxygenC); err != nil {
		return 0, err
	}
	S := float64(s)
	x := math.Log((298.15 - float64(t)) / t.kelvin())
	ln := 5.80871 + x*(3.20291+x*(4.17887+x*(5.10006+x*(-9.86643e-2+x*3.80369)))) +
		S*(-7.01577e-3+x*(-7.70028e-3+x*(-1.13864e-2-x*9.51519e-3))) - 2.75915e-7*S*S
	return MicromolPerKg(math.Exp(ln)), nil
}

var oxygenC = limits{"temperature", "The temperature", " °C", float64(ColdestC), float64(WarmestC), "the range of the formula for oxygen"}

// oxygenMolar is the molar mass of O₂ in grams.
const oxygenMolar = 31.998

// OxygenSaturationMgPerL is OxygenSaturation in mg/L of water at its own temperature, the
// unit of probes and drop tests.
func OxygenSaturationMgPerL(t Celsius, s PSU) (MgPerL, error) {
	c, err := OxygenSaturation(t, s)
	if err != nil {
		return 0, err
	}
	return MgPerL(float64(c) * 1e-6 * oxygenMolar * float64(density(s, t))), nil
}
