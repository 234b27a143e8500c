package seawater

import "wrackbook/internal/fault"

// Scale names what the figures on an instrument mean. The words are the book's.
type Scale string

const (
	Practical        Scale = "PSS-78"
	PartsPerThousand Scale = "ppt"
	ConductivityMS   Scale = "mS/cm"

	// Specific gravity t/r: the density of the water at t over that of fresh water at r,
	// in °C or where it says so in °F. The label matters more than the figure: sea water
	// of 35 is 1.0266 on one of these and 1.0234 on another.
	SG2020    Scale = "SG 20/20"
	SG2525    Scale = "SG 25/25"
	SG1515    Scale = "SG 15/15"
	SG60F60F  Scale = "SG 60F/60F"
	SG204     Scale = "SG 20/4"
	SG254     Scale = "SG 25/4"
	SG154     Scale = "SG 15/4"
	SGUnknown Scale = "SG unknown"
)

// gravityScale is a scale of specific gravity: where the instrument is right, and which
// fresh water counts as 1.
type gravityScale struct {
	name      Scale
	at, fresh Celsius
}

const sixtyF Celsius = (60 - 32) / 1.8

var gravityScales = []gravityScale{
	{SG2020, 20, 20}, {SG2525, 25, 25}, {SG1515, 15, 15}, {SG60F60F, sixtyF, sixtyF},
	{SG204, 20, 4}, {SG254, 25, 4}, {SG154, 15, 4},
}

// Scales lists every scale of a reading.
func Scales() []Scale {
	scales := []Scale{Practical, PartsPerThousand, ConductivityMS}
	for _, g := range gravityScales {
		scales = append(scales, g.name)
	}
	return append(scales, SGUnknown)
}

func gravityOf(scale Scale) (gravityScale, error) {
	for _, g := range gravityScales {
		if g.name == scale {
			return g, nil
		}
	}
	return gravityScale{}, fault.New(fault.BadInput, "scale",
		"%q is no scale of specific gravity that is known here. Choose one by the two temperatures on the instrument, such as SG 20/20.", string(scale))
}

// glassExpansion is by how much a float's volume grows a degree: soda-lime glass, 25 in a
// million (from memory of common tables; 24 to 28 are given). 3 in a million of it are
// 0.04 of salinity 10 °C away from the scale's own temperature.
const glassExpansion = 25e-6

// stretch is how much larger a glass float is at t than where its scale holds.
func (g gravityScale) stretch(t Celsius) float64 { return 1 + glassExpansion*float64(t-g.at) }

func (g gravityScale) freshDensity() KgPerM3 { return density(0, g.fresh) }

// SpecificGravity gives the specific gravity of sea water (salinity 0 to 42) on a scale,
// at the temperature of that scale.
//
// Source: the ratio of two EOS-80 densities; error 0.000006 against TEOS-10, 0.008 of salinity.
func SpecificGravity(s PSU, scale Scale) (float64, error) {
	g, err := gravityOf(scale)
	if err != nil {
		return 0, err
	}
	if err := salinity(s).check(); err != nil {
		return 0, err
	}
	return float64(density(s, g.at) / g.freshDensity()), nil
}

// SalinityFromGravity is the inverse of SpecificGravity, to 1e-8 of salinity. Where the
// reading was taken does not matter: it is for an instrument that corrects for its
// temperature, or water that stood at the temperature of the scale.
func SalinityFromGravity(sg float64, scale Scale) (PSU, error) {
	g, err := gravityOf(scale)
	if err != nil {
		return 0, err
	}
	return g.salinity(sg, g.at)
}

// FloatReading gives what a glass float of a scale shows in sea water of a salinity (0 to
// 42) at a temperature (-2 to 40 °C): ρ(S,t)/ρ(0,r) × (1 + γ(t − t₀)), where t/r names the
// scale, t₀ = t of the scale and γ is the expansion of glass.
//
// Error: 0.00005 within 15 °C of the scale's own temperature, from γ; the weight of the
// air that the stem displaces and the skin of the water are left out, as they are in the
// making of the scale. A float of plastic is another matter: it reads as it will.
func FloatReading(s PSU, t Celsius, scale Scale) (float64, error) {
	g, err := gravityOf(scale)
	if err != nil {
		return 0, err
	}
	rho, err := Density(s, t)
	if err != nil {
		return 0, err
	}
	return float64(rho/g.freshDensity()) * g.stretch(t), nil
}

// SalinityFromFloat gives the salinity from what a glass float shows in water of a
// temperature: the inverse of FloatReading, to 1e-8 of salinity. Its error in salinity is
// 0.06 within 15 °C of the scale's own temperature.
func SalinityFromFloat(reading float64, t Celsius, scale Scale) (PSU, error) {
	g, err := gravityOf(scale)
	if err != nil {
		return 0, err
	}
	if err := temperature(t, &eosC); err != nil {
		return 0, err
	}
	return g.salinity(reading, t)
}

// The specific gravities that are spoken of: hot fresh water to brine of 42, with room.
const leastGravity, mostGravity = 0.98, 1.05

var gravities = limits{"value", "The specific gravity", "", leastGravity, mostGravity, "written in full: 1.025, not 25 or 1025"}

func gravity(reading float64) bound { return bound{&gravities, reading} }

// salinity is that of a float's reading at a temperature.
func (g gravityScale) salinity(reading float64, t Celsius) (PSU, error) {
	if err := gravity(reading).check(); err != nil {
		return 0, err
	}
	rho := KgPerM3(reading/g.stretch(t)) * g.freshDensity()
	return salinityFromDensity(rho, t, "value", "A reading of "+plain(reading)+" on the scale "+string(g.name))
}
