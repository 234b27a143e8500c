package settle

import (
	"math"

	"wrackbook/internal/fault"
	"wrackbook/internal/seawater"
)

// Side is one of the two waters of an acclimation.
type Side struct {
	VolumeL  float64           // litres, above 0 to 100 000
	Salinity seawater.Estimate // with its bounds, 0 to 42
	TempC    float64           // -2 to 40
	PH       *float64          // 4 to 11; nil unknown
	PHScale  seawater.PHScale
	AmmoniaN *float64 // total ammonia, mg N/L, 0 to 100; nil unknown
}

// Acclimation is what a plan is asked for. Bag is the water that the animals came in; what
// is dripped comes from the tank.
type Acclimation struct {
	Group        string
	Bag, Tank    Side
	ContainerL   float64  // of what it is dripped into, litres; 0 is not known
	Jars         int      // into how many vessels of the tank's volume it goes; 0 is one
	HoursSealed  *float64 // how long the bag was shut; nil unknown
	DropsIn5mL   int      // counted at one's own line; 0 is 100, common practice
	StepMin      int      // minutes between two rows of the table, 5 to 120; 0 is 30
	Drain        string   // where the sink drains: sewer, sea, septic, unknown, or "" not asked yet
	SalinityHour float64  // the household's own rate, PSS-78 an hour, 0.1 to 40; 0 is the group's
	CHour        float64  // the household's own rate, °C an hour, 0.1 to 40; 0 is the group's
}

// The ways to let something in.
const (
	Match = "match" // temperature, then in: the salinities are near enough
	Batch = "batch" // too small to drip into: one shared batch like the water of the bag
	Drip  = "drip"
)

// What a plan takes for granted, our own choices beside those of groups.json.
const (
	nearSalinity = 1.0  // no drip is pressed on anyone for less
	nearC        = 1.0  // nor a float
	batchC       = 2.0  // a batch is prepared within 1, at most 2 °C
	smallL       = 3.0  // a vessel too small to drip from
	leastMLMin   = 0.5  // a slower drip stops by itself
	leastFloat   = 15.0 // minutes that a bag floats at least, of 15 to 30 in common practice
	longMin      = 240  // minutes above which an animal in a bucket needs air and shade
)

// Plan is how to go about it.
type Plan struct {
	Way      string   `json:"way"`
	Gap      float64  `json:"gap"`      // tank less bag, PSS-78, by the likeliest figures
	WorstGap float64  `json:"worstGap"` // how large it may be by the bounds
	GapC     float64  `json:"gapC"`     // tank less bag, °C
	FloatMin int      `json:"floatMin"` // minutes in the floating bag first
	Drips    []Run    `json:"drips"`    // with and without discarding; empty unless Way is drip
	Batch    *Mixed   `json:"batch"`    // the batch to prepare, for batch and for hurry
	Hurry    *Hurry   `json:"hurry"`    // the case where going slowly is the greater harm
	Cautions []string `json:"cautions"`
	// Water is what to do with the bag's water, never into any system: ask where the sink
	// drains, sewer, or boil: kill what is in it first.
	Water string `json:"water"`
	// PerHour is the fastest change that was planned with, and the source of each.
	PerHour  Sourced `json:"perHour"`
	CPerHour Sourced `json:"cPerHour"`
}

// Run is one way of dripping.
type Run struct {
	Discard    bool    `json:"discard"` // as much is taken out as drips in: the level stays
	Minutes    int     `json:"minutes"`
	WaterL     float64 `json:"waterL"`     // of the tank's water that it takes
	ContainerL float64 `json:"containerL"` // that it needs
	Left       float64 `json:"left"`       // the gap that is left, PSS-78, with its sign
	Closed     float64 `json:"closed"`     // the share of the gap that was closed, 0 to 1
	Steps      []Step  `json:"steps"`
}

// Step is a row of the table: what the water is at that minute, and at what rate it drips
// from then on.
type Step struct {
	Minute   int     `json:"minute"` // from the beginning of the drip
	Salinity float64 `json:"salinity"`
	TempC    float64 `json:"tempC"`
	VolumeL  float64 `json:"volumeL"`
	MLMin    float64 `json:"mlMin"`
	DropsMin float64 `json:"dropsMin"`
}

// Mixed is a batch of clean water to prepare.
type Mixed struct {
	Litres       float64 `json:"litres"`
	SalinityLow  float64 `json:"salinityLow"`
	SalinityHigh float64 `json:"salinityHigh"`
	LowC         float64 `json:"lowC"`
	HighC        float64 `json:"highC"`
}

// rounded gives x to one part in so many. Logarithms differ in the last bit from one
// processor to another; what is decided on and what is said must not.
func rounded(x, parts float64) float64 { return math.Round(x*parts) / parts }

func between(field, what, unit string, x, least, most float64) error {
	if x >= least && x <= most {
		return nil
	}
	return fault.New(fault.BadInput, field, "%s is %v%s; it must be from %v to %v%s.", what, x, unit, least, most, unit)
}

// ownRate holds a household's own rate to what the book takes of it: slower, and no plan ends.
func ownRate(field, what, unit string, x float64) error {
	if x == 0 {
		return nil
	}
	return between(field, what, unit, x, 0.1, 40)
}

func (s *Side) check(whose string) error {
	if !(s.VolumeL > 0) {
		return fault.New(fault.BadInput, whose+".volumeL", "The volume of the %s must be above 0 L. Measure or guess it.", whose)
	}
	if f := (s.TempC - 32) / 1.8; s.TempC > 40 && f >= -2 && f <= 40 {
		return fault.New(fault.AskUnit, whose+".temperatureC",
			"The temperature of the %s is %v °C; it must be from -2 to 40 °C. If that was meant in Fahrenheit, give %.1f °C.", whose, s.TempC, f)
	}
	checks := []error{
		between(whose+".volumeL", "The volume of the "+whose, " L", s.VolumeL, 0, 100_000),
		between(whose+".salinity", "The salinity of the "+whose, "", float64(s.Salinity.Salinity), 0, 42),
		between(whose+".temperatureC", "The temperature of the "+whose, " °C", s.TempC, -2, 40),
	}
	if s.PH != nil {
		checks = append(checks, between(whose+".pH", "The pH of the "+whose, "", *s.PH, 4, 11))
	}
	if s.AmmoniaN != nil {
		checks = append(checks, between(whose+".ammoniaMgNL", "The total ammonia of the "+whose, " mg N/L", *s.AmmoniaN, 0, 100))
	}
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	e := &s.Salinity
	e.Least, e.Most = min(e.Least, e.Salinity), max(e.Most, e.Salinity)
	return nil
}

func (a *Acclimation) check() error {
	if a.DropsIn5mL == 0 {
		a.DropsIn5mL = 100
	}
	if a.StepMin == 0 {
		a.StepMin = 30
	}
	if a.Jars == 0 {
		a.Jars = 1
	}
	for _, err := range []error{
		a.Bag.check("bag"), a.Tank.check("tank"),
		between("containerL", "The container", " L", a.ContainerL, 0, 100_000),
		between("jars", "The number of jars", "", float64(a.Jars), 1, 200),
		between("dropsIn5mL", "The drops in 5 mL", "", float64(a.DropsIn5mL), 20, 1000),
		between("stepMin", "The minutes of a step", " min", float64(a.StepMin), 5, 120),
		ownRate("salinityHour", "The change in salinity", " an hour", a.SalinityHour),
		ownRate("cHour", "The change in temperature", " °C an hour", a.CHour),
	} {
		if err != nil {
			return err
		}
	}
	if a.ContainerL > 0 && a.ContainerL < a.Bag.VolumeL {
		return fault.New(fault.BadInput, "containerL", "A container of %v L does not hold the %v L of the bag. Take a larger one.", a.ContainerL, a.Bag.VolumeL)
	}
	if a.HoursSealed != nil {
		return between("hoursSealed", "The hours in the bag", " h", *a.HoursSealed, 0, 1000)
	}
	return nil
}

// MakePlan works out how to bring what is in the bag into the tank. The error is a
// *fault.Error.
//
// The drip is a balance of a well stirred container (trade practice and textbooks): with
// discarding the gap falls as e^(-qt/V), without as V0/(V0 + qt), both fastest at their
// beginning at q·gap/V an hour. The rate is set anew at every step so that the worst gap
// changes just as fast as the group bears; it stops where 1 is left, or the container is
// full. Filling to three times the volume closes two thirds of any gap, and no more.
func MakePlan(a Acclimation) (*Plan, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	g := group(a.Group)
	p := &Plan{
		Gap: rounded(float64(a.Tank.Salinity.Salinity-a.Bag.Salinity.Salinity), 1000), GapC: rounded(a.Tank.TempC-a.Bag.TempC, 100),
		WorstGap: rounded(max(math.Abs(float64(a.Tank.Salinity.Most-a.Bag.Salinity.Least)), math.Abs(float64(a.Bag.Salinity.Most-a.Tank.Salinity.Least))), 1000),
		PerHour:  g.SalinityPerHour, CPerHour: g.CPerHour, Drips: []Run{}, Cautions: []string{},
	}
	if a.SalinityHour > 0 {
		p.PerHour = Sourced{a.SalinityHour, "household"}
	}
	if a.CHour > 0 {
		p.CPerHour = Sourced{a.CHour, "household"}
	}
	if math.Abs(p.GapC) > nearC {
		p.FloatMin = int(math.Ceil(max(leastFloat, math.Abs(p.GapC)/p.CPerHour.Is*60)))
	}
	switch a.Drain {
	case "sewer":
		p.Water = "sewer"
	case "sea", "septic", "unknown": // of the last two nobody can say where it ends
		p.Water = "boil"
	default:
		p.Water = "ask"
	}
	var err error
	if p.Hurry, err = a.hurry(g); err != nil {
		return nil, err
	}
	need := a.Bag.VolumeL * max(math.Log(math.Abs(p.Gap)), 1)
	first := a.Bag.VolumeL * 1000 * p.PerHour.Is / p.WorstGap / 60 // mL/min
	small := a.Tank.VolumeL < smallL || need > a.Tank.VolumeL/2 || first < leastMLMin
	switch near := math.Abs(p.Gap) <= nearSalinity; {
	case near && (!small || math.Abs(p.GapC) <= batchC):
		p.Way = Match
	case small:
		p.Way = Batch
	default:
		p.Way = Drip
		for _, discard := range []bool{true, false} {
			p.Drips = append(p.Drips, a.run(p, g, discard))
		}
	}
	if p.Way == Batch || p.Hurry != nil {
		p.Batch = a.batch(p.Way)
	}
	a.cautions(p, g)
	return p, nil
}

// batch is clean water like that of the bag: for the jars, or to move animals into at once.
func (a *Acclimation) batch(way string) *Mixed {
	s, t := float64(a.Bag.Salinity.Salinity), a.Bag.TempC
	litres := a.Bag.VolumeL
	if way == Batch {
		litres = a.Tank.VolumeL * float64(a.Jars)
	}
	return &Mixed{litres, max(0, s-nearSalinity), min(42, s+nearSalinity), t - nearC, t + nearC}
}

// run reckons one way of dripping.
func (a *Acclimation) run(p *Plan, g *Group, discard bool) Run {
	v0, v := a.Bag.VolumeL, a.Bag.VolumeL
	full := math.Inf(1) // litres that the container holds
	if a.ContainerL > 0 {
		full = a.ContainerL
	}
	gap := math.Abs(p.Gap)
	r := Run{Discard: discard}
	left, minute, used := 1.0, 0.0, 0.0 // left: the share of the gap
	for {
		s := Step{Minute: int(math.Ceil(minute - 1e-6)), Salinity: rounded(float64(a.Tank.Salinity.Salinity)-p.Gap*left, 1000),
			TempC: a.Tank.TempC, VolumeL: rounded(v, 1000)}
		if p.FloatMin == 0 {
			s.TempC = rounded(a.Tank.TempC-p.GapC*left, 100)
		}
		over := left*gap <= nearSalinity*(1+1e-9) || !discard && v >= full*(1-1e-9)
		if over {
			r.Steps = append(r.Steps, s)
			break
		}
		q := p.PerHour.Is / 60 * v / (left * p.WorstGap) // litres a minute
		s.MLMin, s.DropsMin = rounded(q*1000, 100), rounded(q*1000*float64(a.DropsIn5mL)/5, 10)
		r.Steps = append(r.Steps, s)
		step := float64(a.StepMin)
		if discard {
			step = min(step, v0/q*math.Log(left*gap/nearSalinity))
			left *= math.Exp(-q * step / v0)
		} else {
			step = min(step, (min(v0*gap/nearSalinity, full)-v)/q)
			v += q * step
			left = v0 / v
		}
		minute += step
		used += q * step
	}
	r.Minutes = r.Steps[len(r.Steps)-1].Minute
	r.WaterL, r.ContainerL, r.Left, r.Closed = rounded(used, 1000), rounded(v, 1000), rounded(p.Gap*left, 1000), rounded(1-left, 10_000)
	return r
}

func (a *Acclimation) cautions(p *Plan, g *Group) {
	say := func(word string, so bool) {
		if so {
			p.Cautions = append(p.Cautions, word)
		}
	}
	for _, r := range p.Drips {
		say("long", r.Discard && r.Minutes > longMin)
		say("container", !r.Discard && math.Abs(r.Left) > nearSalinity)
		say("drip at least", r.Discard && float64(r.Minutes) < g.DripMin.Is)
	}
	say("scale", a.Bag.Salinity.Most-a.Bag.Salinity.Least > widest || a.Tank.Salinity.Most-a.Tank.Salinity.Least > widest)
	say("pH", g.PHGap != nil && a.Bag.PH != nil && a.Tank.PH != nil && math.Abs(*a.Bag.PH-*a.Tank.PH) > g.PHGap.Is)
}
