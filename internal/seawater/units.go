package seawater

import (
	"math"
	"strconv"

	"wrackbook/internal/fault"
)

// The quantities of this room, each with its unit.
type (
	// PSU is practical salinity, PSS-78. It has no unit; the name is the trade's.
	PSU float64
	// Celsius is a temperature in degrees, ITS-90.
	Celsius float64
	// KgPerM3 is a density in kilograms a cubic metre, which is grams a litre.
	KgPerM3 float64
	// MilliSiemensPerCm is an electrical conductivity, not corrected for temperature.
	MilliSiemensPerCm float64
	// Kilograms is a mass of water.
	Kilograms float64
	// Grams is a mass of salt.
	Grams float64
	// Litres is a volume of water.
	Litres float64
	// MgPerL is a concentration in milligrams a litre.
	MgPerL float64
	// MicromolPerKg is a concentration in micromoles a kilogram of sea water.
	MicromolPerKg float64
)

// t68 gives the temperature on IPTS-68, on which PSS-78 and EOS-80 were made: 1.00024
// times ITS-90 (Saunders 1990), good to 0.001 °C from -2 to 40 °C.
func (t Celsius) t68() float64 { return 1.00024 * float64(t) }

// kelvin gives the absolute temperature.
func (t Celsius) kelvin() float64 { return float64(t) + 273.15 }

// limits is the range in which a figure must lie, and how to speak of it.
type limits struct {
	field       string // as the caller spells it
	what, unit  string // "The salinity", " °C"
	least, most float64
	because     string // whose range it is; may be empty
}

// bound is a figure that was given and what it must be.
type bound struct {
	*limits
	value float64
}

// check refuses a value that is no number or out of range.
func (b bound) check() error {
	if b.value >= b.least && b.value <= b.most {
		return nil
	}
	if math.IsNaN(b.value) || math.IsInf(b.value, 0) {
		return fault.New(fault.BadInput, b.field, "%s is no number. Give one from %s to %s%s.",
			b.what, plain(b.least), plain(b.most), b.unit)
	}
	because := ""
	if b.because != "" {
		because = ", " + b.because
	}
	return fault.New(fault.BadInput, b.field, "%s is %s%s; it must be from %s to %s%s%s.",
		b.what, plain(b.value), b.unit, plain(b.least), plain(b.most), b.unit, because)
}

// checkAll gives the first refusal.
func checkAll(bounds ...bound) error {
	for _, b := range bounds {
		if err := b.check(); err != nil {
			return err
		}
	}
	return nil
}

// CheckTemperature refuses a temperature that no tank has, outside -2 to 40 °C: by
// fault.AskUnit where it would be right in Fahrenheit.
func CheckTemperature(t Celsius) error {
	return temperature(t, &livingC)
}

// CheckPH refuses a pH outside 4 to 11.
func CheckPH(pH float64) error { return acidity(pH).check() }

var livingC = limits{"temperature", "The temperature", " °C", float64(ColdestC), float64(WarmestC), "what lives in a tank"}

// temperature checks a temperature and asks whether one too high was meant in Fahrenheit.
func temperature(t Celsius, in *limits) error {
	if inF := (float64(t) - 32) / 1.8; float64(t) > in.most && inF >= in.least && inF <= in.most {
		return fault.New(fault.AskUnit, "temperature",
			"The temperature is %s °C; it must be from %s to %s °C. If that was meant in Fahrenheit, give %s °C.",
			plain(float64(t)), plain(in.least), plain(in.most), strconv.FormatFloat(inF, 'f', 1, 64))
	}
	return bound{in, float64(t)}.check()
}

const seaRange = "where the formulae for sea water hold"

// seaSalinity is the range of EOS-80.
var seaSalinity = limits{"salinity", "The salinity", "", 0, float64(MostSalinity), seaRange}

func salinity(s PSU) bound { return bound{&seaSalinity, float64(s)} }

// plain writes a number for a sentence, with no more digits than it needs.
func plain(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e9 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', 6, 64)
}

// RoundUp gives x to one significant figure, away from zero: for what harms by being high,
// such as ammonia. 0.0213 becomes 0.03.
func RoundUp(x float64) float64 { return toOne(x, math.Ceil) }

// RoundDown gives x to one significant figure, toward zero: for what harms by being low.
// 7.39 becomes 7.
func RoundDown(x float64) float64 { return toOne(x, math.Floor) }

// toOne rounds to one significant figure. A figure that is round already, but for the
// last bits of its binary form, stays.
func toOne(x float64, round func(float64) float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(x))))
	parts := math.Abs(x) / unit
	if near := math.Round(parts); math.Abs(parts-near) < 1e-9 {
		parts = near
	}
	return math.Copysign(round(parts)*unit, x)
}

// solve finds where a rising function equals want between least and most, by halving until
// the bits are spent. It needs no slope and cannot leave the range.
func solve(least, most, want float64, f func(float64) float64) float64 {
	for {
		middle := least + (most-least)/2
		if middle <= least || middle >= most {
			return middle
		}
		if f(middle) < want {
			least = middle
		} else {
			most = middle
		}
	}
}
