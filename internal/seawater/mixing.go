package seawater

import (
	"math"

	"wrackbook/internal/fault"
)

// The sums of this file are balances of mass: water and salt are neither made nor lost.
// Salinity is taken as grams of salt in a kilogram of water, as the trade does; sea water
// of 35 holds 35.165 (Millero and others 2008), so a mass of salt comes out 0.5 % low and
// everything else exact.

// Water is a mass of sea water: 0 to 1 100 000 kg at a salinity of 0 to 42. MassOf makes
// it from litres.
type Water struct {
	Mass     Kilograms
	Salinity PSU
}

func (w Water) bounds() []bound {
	return []bound{mass(w.Mass), salinity(w.Salinity)}
}

// MostMixed is the saltiest water that a sum asks anyone to mix.
const MostMixed PSU = 40

// Mix gives what two waters poured together are. Two waters of no mass are refused.
func Mix(a, b Water) (Water, error) {
	if err := checkAll(append(a.bounds(), b.bounds()...)...); err != nil {
		return Water{}, err
	}
	m := a.Mass + b.Mass
	if err := (bound{&bothMass, float64(m)}).check(); err != nil {
		return Water{}, err
	}
	if m == 0 {
		return Water{}, noWater()
	}
	share := float64(b.Mass / m)
	return Water{m, between(a.Salinity, b.Salinity, share)}, nil
}

// between is the salinity where share of the water is b and the rest a; never outside the two.
func between(a, b PSU, share float64) PSU {
	s := a + (b-a)*PSU(share)
	return min(max(s, min(a, b)), max(a, b))
}

func noWater() error {
	return fault.New(fault.BadInput, "mass", "There is no water to work with. Give its mass or volume.")
}

// Evaporated gives what is left of a water when some of it has gone into the air and its
// salt has stayed. A loss that leaves more than 42 is refused.
func Evaporated(w Water, lost Kilograms) (Water, error) {
	if err := checkAll(append(w.bounds(), bound{&lostMass, float64(lost)})...); err != nil {
		return Water{}, err
	}
	if w.Mass == 0 {
		return Water{}, noWater()
	}
	left := w.Mass - lost
	s := float64(w.Salinity) * float64(w.Mass) / float64(left)
	if left <= 0 || s > float64(MostSalinity) {
		return Water{}, fault.New(fault.BadInput, "lost",
			"With %s kg lost of %s kg the water would be saltier than %s. Check both figures.",
			plain(float64(lost)), plain(float64(w.Mass)), plain(float64(MostSalinity)))
	}
	return Water{left, PSU(s)}, nil
}

// FreshToAdd gives the mass of fresh water that brings a water down to a salinity: the
// top-up of what evaporated, or a dilution. The target is above 0 and no saltier than the
// water.
func FreshToAdd(w Water, target PSU) (Kilograms, error) {
	if err := checkAll(append(w.bounds(), bound{&seaTarget, float64(target)})...); err != nil {
		return 0, err
	}
	if target > w.Salinity {
		return 0, fault.New(fault.BadInput, "target",
			"Fresh water cannot bring %s up to %s. Add salt, or change water for saltier.", plain(float64(w.Salinity)), plain(float64(target)))
	}
	if w.Salinity == 0 {
		return 0, nil
	}
	m := w.Mass * Kilograms(w.Salinity/target-1)
	if w.Mass+m > mostKilograms { // m is infinite for a target of 0
		return 0, fault.New(fault.BadInput, "target",
			"No amount of fresh water that is spoken of here brings %s down to %s. Change the water instead.", plain(float64(w.Salinity)), plain(float64(target)))
	}
	return m, nil
}

// FreshToSwap gives the share of a water, 0 to 1, to take out and replace by fresh water
// of the same mass to bring it down to a salinity.
func FreshToSwap(s, target PSU) (float64, error) {
	if err := checkAll(salinity(s), bound{&seaTarget, float64(target)}); err != nil {
		return 0, err
	}
	if target > s {
		return 0, fault.New(fault.BadInput, "target",
			"Fresh water cannot bring %s up to %s. Add salt, or change water for saltier.", plain(float64(s)), plain(float64(target)))
	}
	if s == 0 {
		return 0, nil
	}
	return float64(1 - target/s), nil
}

// Yield is how many grams of a salt mix, weighed as bought, carry one gram of sea salt:
// 1 for dry salt; mixes hold water and take 1.05 to 1.15 (common practice). Measure your
// own: dissolve a weighed amount and read the salinity. 1 to 1.5.
type Yield float64

func (y Yield) bound() bound {
	return bound{&yields, float64(y)}
}

// SaltToAdd gives the salt mix to dissolve in a water to bring it up to a salinity of at
// most 40. Never add it to a tank with anything living in it: dissolve it first, and go up
// slowly.
func SaltToAdd(w Water, target PSU, y Yield) (Grams, error) {
	if err := checkAll(append(w.bounds(), aim(target), y.bound())...); err != nil {
		return 0, err
	}
	if target < w.Salinity {
		return 0, fault.New(fault.BadInput, "target",
			"Salt cannot bring %s down to %s. Add fresh water.", plain(float64(w.Salinity)), plain(float64(target)))
	}
	grams := 1000 * float64(w.Mass) * float64(target-w.Salinity) / (1000 - float64(target))
	return Grams(grams * float64(y)), nil
}

var (
	yields     = limits{"yield", "The grams of mix for a gram of salt", "", 1, 1.5, "1 for dry salt"}
	mixable    = limits{"target", "The salinity aimed at", "", 0, float64(MostMixed), "what can sensibly be mixed"}
	seaTarget  = limits{"target", "The salinity aimed at", "", 0, float64(MostSalinity), seaRange}
	newWater   = limits{"newSalinity", "The salinity of the new water", "", 0, float64(MostSalinity), seaRange}
	shares     = limits{"share", "The share of the water that is changed", "", 0.001, 1, "a share and not a percentage: 0.2 for a fifth"}
	atStart    = limits{"start", "The concentration at the start", "", 0, 1e6, ""}
	comesIn    = limits{"added", "What comes in between two changes", "", 0, 1e6, ""}
	changeable = limits{"changes", "The number of changes", "", 0, mostChanges, ""}
)

func aim(target PSU) bound { return bound{&mixable, float64(target)} }

// SaltWater gives the salt mix and the fresh water that make a volume of sea water of a
// salinity (0 to 40) at a temperature (-2 to 40 °C). The water that a moist mix brings
// along is taken off the fresh water.
func SaltWater(v Litres, s PSU, t Celsius, y Yield) (Grams, Kilograms, error) {
	if err := checkAll(volume(v), aim(s), y.bound()); err != nil {
		return 0, 0, err
	}
	m, err := MassOf(v, s, t)
	if err != nil {
		return 0, 0, err
	}
	grams := float64(m) * float64(s) * float64(y)
	return Grams(grams), m - Kilograms(grams/1000), nil
}

// share01 bounds the share of the water that is changed.
func share01(f float64) bound { return bound{&shares, f} }

// Changed gives the salinity after a share of the water (0.001 to 1, by mass; by volume
// the error is under 0.8 % of the step for each 10 of difference) was replaced by other.
func Changed(s, fresh PSU, share float64) (PSU, error) {
	if err := checkAll(salinity(s), bound{&newWater, float64(fresh)}, share01(share)); err != nil {
		return 0, err
	}
	return between(s, fresh, share), nil
}

// WaterForChange gives the salinity, 0 to 40, that the new water must have for a change of
// a share to reach a target. Where none does, the refusal says how large a share would.
func WaterForChange(s, target PSU, share float64) (PSU, error) {
	if err := checkAll(salinity(s), aim(target), share01(share)); err != nil {
		return 0, err
	}
	n := s + (target-s)/PSU(share)
	limit := PSU(0)
	switch {
	case n >= 0 && n <= MostMixed:
		return n, nil
	case n > MostMixed:
		limit = MostMixed
	}
	if least := float64((target - s) / (limit - s)); least > 0 && least <= 1 {
		return 0, fault.New(fault.BadInput, "share",
			"Changing %s of the water cannot bring %s to %s in one step. Change at least %s of it, or do it in several.",
			plain(share), plain(float64(s)), plain(float64(target)), plain(math.Ceil(least*1000)/1000))
	}
	return 0, fault.New(fault.BadInput, "target",
		"One change of %s of the water cannot bring %s to %s. Do it in several.", plain(share), plain(float64(s)), plain(float64(target)))
}

// mostChanges bounds a course of water changes.
const mostChanges = 1000

// AfterChanges gives what is left of something dissolved, in the unit of start, just after
// the last of n water changes (0 to 1000) of a share each with water that has none of it,
// where so much of it comes in before each: c → (c + added)(1 − share). With nothing added
// it is start × (1 − share)ⁿ.
func AfterChanges(start, added, share float64, n int) (float64, error) {
	err := checkAll(bound{&atStart, start}, bound{&comesIn, added}, share01(share), bound{&changeable, float64(n)})
	if err != nil {
		return 0, err
	}
	c := start
	for range n {
		c = (c + added) * (1 - share)
	}
	return c, nil
}

// SteadyAfterChanges gives where AfterChanges settles: added × (1 − share)/share just
// after a change, and so much plus added just before one.
func SteadyAfterChanges(added, share float64) (float64, error) {
	if err := checkAll(bound{&comesIn, added}, share01(share)); err != nil {
		return 0, err
	}
	return added * (1 - share) / share, nil
}
