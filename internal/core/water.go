package core

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/seawater"
	"wrackbook/internal/settle"
)

// waterRequest is a sum about the water of tanks; Do names it and says which of the rest it
// takes. Volumes are litres, temperatures °C.
type waterRequest struct {
	Do string `json:"do"`
	waterIn
	Target   *float64         `json:"target"`  // the salinity aimed at
	ChangeL  float64          `json:"changeL"` // litres of each change
	Times    int              `json:"times"`   // how many changes; 0 is one
	Yield    float64          `json:"yield"`   // grams of mix for a gram of salt; 0 is 1
	LostL    float64          `json:"lostL"`   // into the air
	With     *waterIn         `json:"with"`    // the other water of a mix
	Start    *float64         `json:"start"`   // something dissolved, in any unit
	Added    float64          `json:"added"`   // of it between two changes
	PH       *phIn            `json:"pH"`
	Readings *json.RawMessage `json:"readings"` // fields of a reading to check

	AmmoniaMgNL *float64 `json:"ammoniaMgNL"` // total
	OxygenMgL   *float64 `json:"oxygenMgL"`
}

type phIn struct {
	Value float64 `json:"value"`
	Scale string  `json:"scale"`
}

// waterIn is a water by what is known of it: its salinity as a figure or as it was read.
type waterIn struct {
	Litres       float64                 `json:"litres"`
	Salinity     *float64                `json:"salinity"`
	Reading      *settle.SalinityReading `json:"reading"`
	TemperatureC *float64                `json:"temperatureC"`
}

// usualC is the temperature of a water of which nobody said one.
const usualC seawater.Celsius = 20

func (w *waterIn) temperature() seawater.Celsius {
	switch {
	case w.TemperatureC != nil:
		return seawater.Celsius(*w.TemperatureC)
	case w.Reading != nil && w.Reading.SampleC != nil:
		return seawater.Celsius(*w.Reading.SampleC)
	}
	return usualC
}

func (w *waterIn) estimate() (seawater.Estimate, error) {
	switch {
	case w.Reading != nil:
		return w.Reading.Estimate()
	case w.Salinity == nil:
		return seawater.Estimate{}, fault.New(fault.BadInput, "salinity", "The salinity is missing. Read it, or give it.")
	}
	s := seawater.PSU(*w.Salinity)
	_, err := seawater.Density(s, w.temperature())
	return seawater.Estimate{Salinity: s, Least: s, Most: s}, err
}

// mass is the water with its mass, by the likeliest salinity.
func (w *waterIn) mass() (seawater.Water, seawater.Estimate, error) {
	e, err := w.estimate()
	if err != nil {
		return seawater.Water{}, e, err
	}
	m, err := seawater.MassOf(seawater.Litres(w.Litres), e.Salinity, w.temperature())
	if err == nil && m <= 0 {
		err = fault.New(fault.BadInput, "litres", "The volume is missing. Give the litres, above 0.")
	}
	return seawater.Water{Mass: m, Salinity: e.Salinity}, e, err
}

// volume gives the litres of a mass of water of that salinity, at the temperature of this.
func (w *waterIn) volume(m seawater.Kilograms, s seawater.PSU) (float64, error) {
	v, err := seawater.VolumeOf(m, s, w.temperature())
	return round(float64(v), 1000), err
}

// betweenOut is a salinity with its bounds.
type betweenOut struct {
	Salinity float64 `json:"salinity"`
	Least    float64 `json:"least"`
	Most     float64 `json:"most"`
}

func bounds(s, least, most seawater.PSU) betweenOut {
	return betweenOut{round(float64(s), 100), math.Floor(round(float64(least), 1e6)*100) / 100, math.Ceil(round(float64(most), 1e6)*100) / 100}
}

// sums are what the call water does, by its do.
var sums = map[string]func(*waterRequest) (any, error){
	"salinity": (*waterRequest).meaning, "target": (*waterRequest).toTarget, "change": (*waterRequest).change,
	"topUp": (*waterRequest).topUp, "mix": (*waterRequest).mix, "ammonia": (*waterRequest).ammonia,
	"oxygen": (*waterRequest).oxygen, "check": (*waterRequest).check,
}

// water answers a sum of internal/seawater.
func (c *Core) water(in waterRequest, _ time.Time) (any, error) {
	sum := sums[in.Do]
	if sum == nil {
		return nil, fault.New(fault.BadInput, "do", "There is no sum %.40q. Choose salinity, target, change, topUp, mix, ammonia, oxygen or check.", in.Do)
	}
	return sum(&in)
}

type onScale struct {
	Scale   seawater.Scale `json:"scale"`
	Gravity float64        `json:"gravity"` // at the scale's own temperature
	Float   float64        `json:"float"`   // what a glass float shows at the water's
}

type meaningAnswer struct {
	betweenOut
	TemperatureC float64   `json:"temperatureC"` // that the rest holds for
	KgM3         float64   `json:"kgM3"`
	MSCm         *float64  `json:"mSCm"` // null under 2 or above 35 °C
	Scales       []onScale `json:"scales"`
}

// meaning tells what a reading means, and what other instruments would show.
func (in *waterRequest) meaning() (any, error) {
	e, err := in.estimate()
	if err != nil {
		return nil, err
	}
	t := in.temperature()
	rho, err := seawater.Density(e.Salinity, t)
	if err != nil {
		return nil, err
	}
	out := meaningAnswer{betweenOut: bounds(e.Salinity, e.Least, e.Most), TemperatureC: float64(t), KgM3: round(float64(rho), 100)}
	if c, err := seawater.Conductivity(e.Salinity, t); err == nil {
		ms := round(float64(c), 100)
		out.MSCm = &ms
	}
	for _, scale := range seawater.Scales() {
		if g, err := seawater.SpecificGravity(e.Salinity, scale); err == nil {
			float, err := seawater.FloatReading(e.Salinity, t, scale)
			if err != nil {
				return nil, err
			}
			out.Scales = append(out.Scales, onScale{scale, round(g, 1e4), round(float, 1e4)})
		}
	}
	return out, nil
}

func (in *waterRequest) aim() (seawater.PSU, error) {
	if in.Target == nil {
		return 0, fault.New(fault.BadInput, "target", "The salinity aimed at is missing.")
	}
	return seawater.PSU(*in.Target), nil
}

func (in *waterRequest) yield() seawater.Yield { return seawater.Yield(cmp.Or(in.Yield, 1)) }

type targetAnswer struct {
	betweenOut         // as it is
	SaltG      float64 `json:"saltG"`  // to dissolve in it, to go up
	FreshL     float64 `json:"freshL"` // to add to it, to go down
	SwapL      float64 `json:"swapL"`  // or to take out and replace by fresh water
}

// toTarget brings a whole water to a salinity, by salt or by fresh water.
func (in *waterRequest) toTarget() (any, error) {
	w, e, err := in.mass()
	if err != nil {
		return nil, err
	}
	target, err := in.aim()
	if err != nil {
		return nil, err
	}
	out := targetAnswer{betweenOut: bounds(e.Salinity, e.Least, e.Most)}
	if target >= w.Salinity {
		g, err := seawater.SaltToAdd(w, target, in.yield())
		out.SaltG = round(float64(g), 10)
		return out, err
	}
	m, err := seawater.FreshToAdd(w, target)
	if err != nil {
		return nil, err
	}
	share, err := seawater.FreshToSwap(w.Salinity, target)
	if err != nil {
		return nil, err
	}
	out.SwapL = round(in.Litres*share, 1000)
	out.FreshL, err = in.volume(m, 0)
	return out, err
}

type changeAnswer struct {
	Share       float64      `json:"share"`       // of the water, of each change
	NewSalinity float64      `json:"newSalinity"` // that the new water must have
	SaltG       float64      `json:"saltG"`       // in the new water of one change
	FreshL      float64      `json:"freshL"`      // that it is dissolved in
	After       []betweenOut `json:"after"`       // each change
	Left        []float64    `json:"left"`        // of what is dissolved, after each change
	Steady      *float64     `json:"steady"`      // where that settles
}

// change is one water change or several alike.
func (in *waterRequest) change() (any, error) {
	w, e, err := in.mass()
	if err != nil {
		return nil, err
	}
	in.Times = max(in.Times, 1)
	if in.Times > 100 {
		return nil, fault.New(fault.BadInput, "times", "There are to be %d changes, more than is reckoned at once. Ask for 100 at most.", in.Times)
	}
	if !(in.ChangeL > 0 && in.ChangeL <= in.Litres) {
		return nil, fault.New(fault.BadInput, "changeL", "A change is above 0 L and no more than the %v L that there are.", in.Litres)
	}
	share := in.ChangeL / in.Litres
	target := w.Salinity
	if in.Target != nil {
		target = seawater.PSU(*in.Target)
	}
	// So many changes alike come to one large one.
	kept := math.Pow(1-share, float64(in.Times))
	fresh, err := seawater.WaterForChange(w.Salinity, target, 1-kept)
	if err != nil {
		return nil, in.tooLittle(w.Salinity, target, share, err)
	}
	out := changeAnswer{Share: round(share, 1e4), NewSalinity: round(float64(fresh), 100), Left: []float64{}}
	g, m, err := seawater.SaltWater(seawater.Litres(in.ChangeL), fresh, in.temperature(), in.yield())
	if err != nil {
		return nil, err
	}
	out.SaltG = round(float64(g), 10)
	if out.FreshL, err = in.volume(m, 0); err != nil {
		return nil, err
	}
	left := 1.0
	after := func(s seawater.PSU) seawater.PSU { return fresh + (s-fresh)*seawater.PSU(left) }
	for n := range in.Times {
		left *= 1 - share
		out.After = append(out.After, bounds(after(e.Salinity), after(e.Least), after(e.Most)))
		if in.Start != nil {
			c, err := seawater.AfterChanges(*in.Start, in.Added, share, n+1)
			if err != nil {
				return nil, err
			}
			out.Left = append(out.Left, round(c, 1000))
		}
	}
	if in.Start != nil {
		steady, err := seawater.SteadyAfterChanges(in.Added, share)
		if err != nil {
			return nil, err
		}
		steady = round(steady, 1000)
		out.Steady = &steady
	}
	return out, nil
}

// tooLittle says how much water or how many changes bring one salinity to another, where those
// asked for cannot: the new water is from 0 to MostMixed.
func (in *waterRequest) tooLittle(s, target seawater.PSU, share float64, err error) error {
	limit := seawater.PSU(0)
	if target > s {
		limit = seawater.MostMixed
	}
	least := float64((target - s) / (limit - s))
	if !(least > 0 && least < 1) {
		return err
	}
	during := "one change"
	if in.Times > 1 {
		during = fmt.Sprint(in.Times, " changes")
	}
	return fault.New(fault.BadInput, "changeL", "%v L of %v L cannot bring %.1f to %.1f in %s. It takes %v L at once, or %.0f changes like this.",
		in.ChangeL, in.Litres, s, target, during, math.Ceil(least*in.Litres*10)/10, math.Ceil(math.Log(1-least)/math.Log(1-share)))
}

type topUpAnswer struct {
	FreshL float64    `json:"freshL"`
	Rose   betweenOut `json:"rose"`  // before it is topped up
	After  betweenOut `json:"after"` // and after
}

// topUp replaces what went into the air: by the litres that are missing, of a water that was
// litres at that salinity when it was full, or by the salinity that litres now have.
func (in *waterRequest) topUp() (any, error) {
	w, e, err := in.mass()
	if err != nil {
		return nil, err
	}
	now := bounds(e.Salinity, e.Least, e.Most)
	if in.Target != nil {
		m, err := seawater.FreshToAdd(w, seawater.PSU(*in.Target))
		if err != nil {
			return nil, err
		}
		thinned := w.Mass / (w.Mass + m)
		out := topUpAnswer{Rose: now, After: bounds(e.Salinity*seawater.PSU(thinned), e.Least*seawater.PSU(thinned), e.Most*seawater.PSU(thinned))}
		out.FreshL, err = in.volume(m, 0)
		return out, err
	}
	m, err := seawater.MassOf(seawater.Litres(in.LostL), 0, in.temperature())
	if err != nil {
		return nil, err
	}
	left, err := seawater.Evaporated(w, m)
	if err != nil {
		return nil, err
	}
	by := left.Salinity
	if w.Salinity > 0 {
		by /= w.Salinity
	}
	return topUpAnswer{round(in.LostL, 1000), bounds(left.Salinity, e.Least*by, e.Most*by), now}, nil
}

type mixAnswer struct {
	Litres float64 `json:"litres"`
	betweenOut
	TemperatureC float64 `json:"temperatureC"`
}

// mix pours two waters together.
func (in *waterRequest) mix() (any, error) {
	if in.With == nil {
		return nil, fault.New(fault.BadInput, "with", "The other water is missing.")
	}
	a, ea, err := in.mass()
	if err != nil {
		return nil, err
	}
	b, eb, err := in.With.mass()
	if err != nil {
		return nil, err
	}
	both, err := seawater.Mix(a, b)
	if err != nil {
		return nil, err
	}
	share := float64(b.Mass / both.Mass)
	part := func(x, y seawater.PSU) seawater.PSU { return x + (y-x)*seawater.PSU(share) }
	t := float64(in.temperature()) + float64(in.With.temperature()-in.temperature())*share
	v, err := seawater.VolumeOf(both.Mass, both.Salinity, seawater.Celsius(t))
	return mixAnswer{round(float64(v), 1000), bounds(both.Salinity, part(ea.Least, eb.Least), part(ea.Most, eb.Most)), round(t, 10)}, err
}

type ammoniaAnswer struct {
	Share  float64 `json:"share"`  // that is un-ionised, likeliest, 0 to 1
	Most   float64 `json:"most"`   // the share at most
	MgNL   float64 `json:"mgNL"`   // un-ionised at most, as nitrogen
	MgNH3L float64 `json:"mgNH3L"` // un-ionised at most, as ammonia; the word goes by it
	Word   string  `json:"word"`
	settle.AmmoniaGuides
}

// ammonia tells how much of the total is poison.
func (in *waterRequest) ammonia() (any, error) {
	if in.PH == nil || in.AmmoniaMgNL == nil || in.TemperatureC == nil {
		return nil, fault.New(fault.BadInput, "pH", "How much of the ammonia is poison depends on the pH and the temperature. Read all three.")
	}
	e, err := in.estimate()
	if err != nil {
		return nil, err
	}
	scale := seawater.PHScale(cmp.Or(in.PH.Scale, string(seawater.UnknownPH)))
	u, err := seawater.UnionisedSea(in.PH.Value, scale, seawater.Celsius(*in.TemperatureC), min(e.Salinity, 40))
	if e.Salinity == 0 {
		u, err = seawater.UnionisedFresh(in.PH.Value, seawater.Celsius(*in.TemperatureC))
	}
	if err != nil {
		return nil, err
	}
	_, most, err := u.Of(seawater.MgPerL(*in.AmmoniaMgNL))
	if err != nil {
		return nil, err
	}
	nh3 := float64(most) * seawater.AmmoniaPerNitrogen
	out := ammoniaAnswer{round(u.Share, 1e4), round(u.Most, 1e4), seawater.RoundUp(float64(most)), seawater.RoundUp(nh3), settle.AmmoniaWord(nh3), settle.Guides()}
	return out, nil
}

type oxygenAnswer struct {
	FullMgL float64  `json:"fullMgL"` // at saturation, at one atmosphere
	Percent *float64 `json:"percent"` // of that; null where none was read
}

// oxygen holds a reading to what the water can hold.
func (in *waterRequest) oxygen() (any, error) {
	e, err := in.estimate()
	if err != nil {
		return nil, err
	}
	full, err := seawater.OxygenSaturationMgPerL(in.temperature(), e.Salinity)
	if err != nil {
		return nil, err
	}
	out := oxygenAnswer{FullMgL: round(float64(full), 100)}
	if x := in.OxygenMgL; x != nil {
		if !(*x >= 0 && *x <= 40) {
			return nil, fault.New(fault.BadInput, "oxygenMgL", "The oxygen is %v mg/L; it must be from 0 to 40 mg/L.", *x)
		}
		p := round(*x/float64(full)*100, 1)
		out.Percent = &p
	}
	return out, nil
}

type checkFault struct {
	Field   string     `json:"field"` // of the reading
	Code    fault.Code `json:"code"`
	Message string     `json:"message"`
}

// check says what is doubtful in a reading before it is kept.
func (in *waterRequest) check() (any, error) {
	if in.Readings == nil {
		return nil, fault.New(fault.BadInput, "readings", "The fields of the reading are missing.")
	}
	errs, err := settle.CheckReading(*in.Readings)
	if err != nil {
		return nil, err
	}
	faults := []checkFault{}
	for _, e := range errs {
		faults = append(faults, checkFault{e.Field, e.Code, e.Message})
	}
	return map[string]any{"faults": faults}, nil
}
