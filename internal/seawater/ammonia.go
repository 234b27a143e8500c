package seawater

import (
	"math"

	"wrackbook/internal/fault"
)

// PHScale says what a pH is measured against; in sea water the scales differ by 0.1 and
// more, which is a quarter of the poison. The words are the book's.
type PHScale string

const (
	// Total is the total hydrogen ion scale, of buffers made in sea water.
	Total PHScale = "total"
	// Free is the free hydrogen ion scale.
	Free PHScale = "free"
	// NBS is that of the buffers sold for household probes and of drop tests. In sea
	// water it reads about 0.1 above Total (from memory), and differently with each probe.
	NBS PHScale = "NBS"
	// UnknownPH is taken as NBS.
	UnknownPH PHScale = "unknown"
)

// Unionised is the share of total ammonia (NH₃ + NH₄⁺) that is un-ionised NH₃, which is
// the part that poisons: 0 to 1. Judge by Most.
type Unionised struct {
	Share float64 // the likeliest
	Most  float64 // what it may be, by the error of the formula and a doubtful scale of pH
}

// The pH that is taken: nothing alive is kept outside.
const leastPH, mostPH = 4, 11

var livingPH = limits{"pH", "The pH", "", leastPH, mostPH, "where anything lives: check the probe or the test"}

func acidity(pH float64) bound { return bound{&livingPH, pH} }

var freshC = limits{"temperature", "The temperature", " °C", 0, float64(WarmestC), "the range of the formula for fresh water"}

// UnionisedFresh gives the un-ionised share in fresh water from its pH (4 to 11) and
// temperature (0 to 40 °C).
//
// Source: Emerson, Russo, Lund and Thurston 1975, pKa = 0.09018 + 2729.92/T, made for 0 to
// 50 °C at zero salinity. Most adds 2 %; the older table of Trussell 1972 lies within
// 2.6 %, mostly below. A pH that is 0.1 off changes the share by a quarter.
func UnionisedFresh(pH float64, t Celsius) (Unionised, error) {
	if err := acidity(pH).check(); err != nil {
		return Unionised{}, err
	}
	if err := temperature(t, &freshC); err != nil {
		return Unionised{}, err
	}
	pK := 0.09018 + 2729.92/t.kelvin()
	return Unionised{share(pH, pK, 1), share(pH, pK, 1.02)}, nil
}

// UnionisedSea gives the un-ionised share in sea water from its pH (4 to 11) on a scale,
// temperature (-2 to 40 °C) and salinity (0 to 40).
//
// Source: Clegg and Whitfield 1995, Geochimica et Cosmochimica Acta 59, 2403, on the total
// and on the free scale; the constant is good to 5 %, which Most adds. For a pH on the NBS
// or an unknown scale there is no exact way: Share takes the formula of the free scale,
// which meets the old table for sea water (Bower and Bidwell 1978) within 5 %, and Most
// that of the total scale, which is a quarter higher at 25 °C and 38 % at 40.
func UnionisedSea(pH float64, scale PHScale, t Celsius, s PSU) (Unionised, error) {
	if err := acidity(pH).check(); err != nil {
		return Unionised{}, err
	}
	if err := temperature(t, &cleggC); err != nil {
		return Unionised{}, err
	}
	err := bound{&cleggSalinity, float64(s)}.check()
	if err != nil {
		return Unionised{}, err
	}
	const error5 = 1.05
	T, S := t.kelvin(), float64(s)
	switch scale {
	case Total:
		pK := pkTotal(T, S)
		return Unionised{share(pH, pK, 1), share(pH, pK, error5)}, nil
	case Free:
		pK := pkFree(T, S)
		return Unionised{share(pH, pK, 1), share(pH, pK, error5)}, nil
	case NBS, UnknownPH:
		free, total := pkFree(T, S), pkTotal(T, S)
		return Unionised{share(pH, free, 1), share(pH, min(free, total), error5)}, nil
	}
	return Unionised{}, fault.New(fault.BadInput, "pHScale",
		"%q is no scale of pH that is known here. Choose NBS, total, free or unknown.", string(scale))
}

const cleggRange = "the range of the formula for ammonia in sea water"

var (
	cleggC        = limits{"temperature", "The temperature", " °C", float64(ColdestC), float64(WarmestC), cleggRange}
	cleggSalinity = limits{"salinity", "The salinity", "", 0, 40, cleggRange}
	totalAmmonia  = limits{"ammonia", "The total ammonia", " mg/L", 0, 100, ""}
)

// share is the un-ionised share where the constant of acidity is times that of pK.
func share(pH, pK, times float64) float64 { return 1 / (1 + math.Pow(10, pK-pH)/times) }

// pkFresh is where both formulae start: pK at zero salinity. T in kelvin.
func pkFresh(T float64) float64 { return 9.244605 - 2729.33*(1/298.15-1/T) }

func pkTotal(T, S float64) float64 {
	root := math.Sqrt(T)
	return pkFresh(T) +
		(0.04203362-11.24742/T)*math.Pow(S, 0.25) +
		(-13.64160+1.176949*root-0.02860785*T+545.4834/T)*math.Sqrt(S) +
		(-0.1462507+0.009022648*root-1.471361e-4*T+10.54250/T)*math.Pow(S, 1.5) +
		(0.004669309-1.691742e-4*root-0.5677934/T)*S*S +
		(-2.354039e-5+0.009698623/T)*math.Pow(S, 2.5)
}

func pkFree(T, S float64) float64 {
	return pkFresh(T) +
		(0.0500616-9.412696/T-2.029559e-7*T*T)*math.Sqrt(S) +
		(-0.0142372+1.46041e-5*T+3.730005/T)*S +
		(7.1047e-5-0.0229021/T)*S*S +
		(-5.521278e-7+1.95413e-4/T)*S*S*S
}

// AmmoniaPerNitrogen turns milligrams of nitrogen in ammonia (mg N/L) into milligrams of
// ammonia (mg NH₃/L): 17.031/14.007, by the atomic weights.
const AmmoniaPerNitrogen = 17.031 / 14.007

// Of gives the un-ionised part of a total ammonia (0 to 100 mg/L), likeliest and most, in
// the unit of the total: mg N/L give mg N/L.
func (u Unionised) Of(total MgPerL) (likely, most MgPerL, err error) {
	err = bound{&totalAmmonia, float64(total)}.check()
	if err != nil {
		return 0, 0, err
	}
	return total * MgPerL(u.Share), total * MgPerL(u.Most), nil
}
