package settle

import "wrackbook/internal/seawater"

// Un-ionised ammonia, mg NH3/L, above which it harms for long and at once: the guides of the
// US EPA for salt water (440/5-88-004), from memory and not confirmed. They are held
// against Most, which errs to the side of hurry.
const (
	chronicNH3 = 0.035
	acuteNH3   = 0.233
)

// What un-ionised ammonia does: nothing by the guides, harm for long, harm at once.
const (
	Under  = "under"
	Long   = "long"
	AtOnce = "atOnce"
)

// AmmoniaWord says it of a concentration, mg NH3/L.
func AmmoniaWord(nh3 float64) string {
	switch {
	case nh3 >= acuteNH3:
		return AtOnce
	case nh3 >= chronicNH3:
		return Long
	}
	return Under
}

// AmmoniaGuides is where the words begin, mg NH3/L.
type AmmoniaGuides struct {
	Long   float64 `json:"longFrom"`
	AtOnce float64 `json:"atOnceFrom"`
}

// Guides gives where the words begin.
func Guides() AmmoniaGuides { return AmmoniaGuides{chronicNH3, acuteNH3} }

// openPH is the pH to which an opened bag climbs where the tank's is not known: that of the
// open sea at the surface, 8.1 to 8.2, from memory.
const openPH = 8.2

// sealedHours is how long animals may have been shut in before the ammonia must be
// reckoned with; common practice.
const sealedHours = 2.0

// Hurry is the case where going slowly is the greater harm: in a bag that was shut, carbon
// dioxide has lowered the pH and kept the ammonia harmless; opened and aired, the pH climbs,
// and the ammonia turns to poison faster than any drip thins it. Then: match the temperature
// with the bag shut, and move the animals at once into clean water like the bag's.
type Hurry struct {
	Measured bool    `json:"measured"` // else by the hours alone: measure if you can
	Now      float64 `json:"now"`      // mg NH3/L at most, as the bag is
	Open     float64 `json:"open"`     // and once its pH has climbed to the tank's
	AtOnce   bool    `json:"atOnce"`   // by the guide for harm at once
}

// hurry judges the bag; nil where nothing presses. Of ammonia without a pH the worst is taken:
// that the bag has climbed already to that of the open sea.
func (a *Acclimation) hurry(g *Group) (*Hurry, error) {
	b := &a.Bag
	if b.AmmoniaN == nil {
		if !g.Weed && a.HoursSealed != nil && *a.HoursSealed > sealedHours {
			return &Hurry{}, nil
		}
		return nil, nil
	}
	nh3 := func(pH, tempC float64, scale seawater.PHScale) (float64, error) {
		// The formula ends at a salinity of 40; a saltier bag holds no more of the poison.
		u, err := seawater.UnionisedSea(pH, scale, seawater.Celsius(tempC), min(b.Salinity.Salinity, 40))
		if err != nil {
			return 0, err
		}
		_, most, err := u.Of(seawater.MgPerL(*b.AmmoniaN))
		return float64(most) * seawater.AmmoniaPerNitrogen, err
	}
	scaleOf := func(s *Side) seawater.PHScale {
		if s.PHScale == "" {
			return seawater.UnknownPH
		}
		return s.PHScale
	}
	bagPH, bagScale := openPH, seawater.UnknownPH
	if b.PH != nil {
		bagPH, bagScale = *b.PH, scaleOf(b)
	}
	now, err := nh3(bagPH, b.TempC, bagScale)
	if err != nil {
		return nil, err
	}
	pH, scale := openPH, seawater.UnknownPH
	if a.Tank.PH != nil {
		pH, scale = *a.Tank.PH, scaleOf(&a.Tank)
	}
	open, err := nh3(max(pH, bagPH), max(b.TempC, a.Tank.TempC), scale)
	if err != nil {
		return nil, err
	}
	h := &Hurry{Measured: true, Now: now, Open: max(now, open)}
	word := AmmoniaWord(h.Open)
	if word == Under {
		return nil, nil
	}
	h.AtOnce = word == AtOnce
	h.Now, h.Open = seawater.RoundUp(h.Now), seawater.RoundUp(h.Open)
	return h, nil
}
